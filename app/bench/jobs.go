package bench

import (
	"errors"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// jobsPart is the motor's plan, job card by job card, estimated and taken.
type jobsPart struct {
	p     *Screen
	fold  *widgets.Fold
	table *widgets.Table[shop.JobRow]
	habit *widgets.Text
	none  *widgets.Text
	held  *fyne.Container // the table, hidden while the plan has no card
}

// jobName is a job with how many of it: "top end, 3".
func jobName(j costing.Job) string {
	if j.Pieces > 1 {
		return j.Name + ", " + strconv.Itoa(j.Pieces)
	}
	return j.Name
}

func newJobsPart(p *Screen) *jobsPart {
	c := p.shop.Currency()
	w := &jobsPart{p: p, habit: widgets.NewText(""), none: widgets.NewQuiet(lang.X("jobs.none",
		"No job card is on the plan. A card brings its own guess of hours and parts; what is spent for it is held against that."))}
	amount := func(f func(shop.JobRow) string, less func(a, b shop.JobRow) bool, key, title string) widgets.TableColumn[shop.JobRow] {
		return widgets.TableColumn[shop.JobRow]{Key: key, Title: title, Align: fyne.TextAlignTrailing, Text: f, Less: less}
	}
	w.table = widgets.NewTable(func(x shop.JobRow) string { return x.Job.ID },
		widgets.TableColumn[shop.JobRow]{Key: "job", Title: lang.X("column.job", "Job"), Grow: true, Text: func(x shop.JobRow) string { return jobName(x.Job) }},
		amount(func(x shop.JobRow) string { return x.Time.String() }, func(a, b shop.JobRow) bool { return a.Time < b.Time }, "hours", lang.X("column.hours.planned", "Hours planned")),
		amount(func(x shop.JobRow) string { return taken(x.Took.Time.String(), x.Took.Time == 0) }, func(a, b shop.JobRow) bool { return a.Took.Time < b.Took.Time }, "took", lang.X("column.hours.taken", "taken")),
		amount(func(x shop.JobRow) string { return c.Whole(x.Parts) }, func(a, b shop.JobRow) bool { return a.Parts < b.Parts }, "parts", lang.X("column.parts.planned", "Parts planned")),
		amount(func(x shop.JobRow) string { return taken(c.Whole(x.Took.Spent), x.Took.Spent == 0) }, func(a, b shop.JobRow) bool { return a.Took.Spent < b.Took.Spent }, "spent", lang.X("column.parts.spent", "spent")),
		widgets.TableColumn[shop.JobRow]{Key: "done", Title: lang.X("column.done", "Done"), Text: func(x shop.JobRow) string {
			return widgets.FormatDay(x.Job.DoneOn, widgets.DateOrder(p.shop.DateOrder()))
		}, Less: func(a, b shop.JobRow) bool { return a.Job.DoneOn < b.Job.DoneOn }},
	)
	w.table.HideFilter()
	remove := func(x shop.JobRow) { p.host.Failed(p.shop.TakeOff(p.chosen, x.Job.ID)) }
	w.table.OnDelete = remove
	chosen := func(words string, icon fyne.Resource, f func(shop.JobRow)) fyne.CanvasObject {
		return widgets.NewQuietButton(words, icon, func() {
			if x, ok := w.table.Selected(); ok {
				f(x)
			} else {
				p.host.Status(lang.X("jobs.choose", "Choose a job in the list first."))
			}
		})
	}
	w.held = widgets.Column(look.Gap, w.table.Fit(9), widgets.Flow(look.Gap,
		chosen(lang.X("jobs.done", "Done, or not after all"), theme.ConfirmIcon(), func(x shop.JobRow) {
			p.host.Failed(p.shop.FinishJob(p.chosen, x.Job.ID, !x.Job.Done()))
		}),
		chosen(lang.X("jobs.draw", "Draw its consumables"), nil, w.draw),
		chosen(lang.X("jobs.off", "Take it off the plan"), theme.DeleteIcon(), remove)))
	w.fold = widgets.NewFold(lang.X("jobs.title", "The plan, job by job"), widgets.Column(look.Gap, w.habit, w.none, w.held,
		widgets.Flow(look.Gap,
			widgets.NewButton(lang.X("jobs.put", "Put a job card on…"), theme.ContentAddIcon(), w.askCard),
			widgets.NewQuietButton(lang.X("jobs.cards", "Job cards…"), theme.DocumentIcon(), func() { p.editCards("") }))))
	return w
}

// taken leaves a cell empty while nothing was taken.
func taken(words string, nothing bool) string {
	if nothing {
		return ""
	}
	return words
}

func (w *jobsPart) show(a shop.BenchAnswer) {
	w.table.SetRows(a.Jobs)
	has := len(a.Jobs) > 0
	w.held.Hidden, w.none.Hidden = !has, has
	words := ""
	for i, s := range a.Habit.Words {
		if i > 0 {
			words += " "
		}
		words += widgets.Say(s)
	}
	w.habit.SetText(words)
	done := 0
	for _, j := range a.Jobs {
		if j.Job.Done() {
			done++
		}
	}
	summary := lang.X("jobs.summary.none", "no cards")
	if has {
		summary = lang.X("jobs.summary", "{{.Done}} of {{.Count}} done", map[string]any{"Done": done, "Count": len(a.Jobs)})
	}
	w.fold.SetSummary(summary)
}

func (w *jobsPart) draw(x shop.JobRow) {
	n, err := w.p.shop.DrawCard(w.p.chosen, x.Job.ID)
	switch {
	case errors.Is(err, shop.ErrUnknown):
		w.p.host.Status(lang.X("jobs.cardgone", "The card of this job is gone; draw by the line above."))
	case err != nil:
		w.p.host.Failed(err)
	case n == 0:
		w.p.host.Status(lang.X("jobs.nothing", "Its card takes nothing off the shelf."))
	default:
		w.p.host.Status(lang.X("jobs.drawn", "Drawn for {{.Job}}: {{.Count}} of the shelf's goods", map[string]any{"Job": x.Job.Name, "Count": n}))
	}
}

// askCard puts a card on the plan, showing what it thinks before it is put on.
func (w *jobsPart) askCard() {
	p := w.p
	r, err := p.shop.Record(p.chosen)
	if err != nil {
		return
	}
	cards := p.shop.CardsFor(r.Motor)
	if len(cards) == 0 {
		p.askStarter(w.askCard)
		return
	}
	options := make([]widgets.Option, len(cards))
	for i, c := range cards {
		options[i] = widgets.Option{Value: c.ID, Text: c.Name}
	}
	card, count := widgets.NewChoice(options...), widgets.NewNumberEntry(0)
	count.Least, count.Most = 1, costing.MostOfOneJob
	per := widgets.NewField(lang.X("jobs.count", "How many"), count)
	says := widgets.NewText("")
	fit := widgets.NewSegments(
		widgets.Option{Value: string(shop.OnTop), Text: lang.X("jobs.ontop", "more than was planned")},
		widgets.Option{Value: string(shop.PartOf), Text: lang.X("jobs.partof", "part of what was planned")})
	fit.Required = true
	fit.SetValue(string(shop.OnTop))
	fits := widgets.NewField(lang.X("jobs.fit", "It is"), fit).Spanning()
	fits.Hidden = r.Plan.Hours == (costing.ThreePoint{}) && r.Plan.Parts == (costing.ThreePoint{})
	tell := func() {
		hours, parts, err := p.shop.CardEstimate(card.Value(), int(count.Value().Value))
		if err != nil {
			return
		}
		c, _ := p.shop.Card(card.Value())
		note := ""
		if c.Starting {
			note = " " + lang.X("jobs.starting", "Common practice, from memory, until you change the card.")
		}
		if h, known := p.shop.Overruns().Cards[c.ID]; known && h.Hours.Known() {
			note += " " + lang.X("jobs.before", "Done {{if eq .Count 1}}once{{else}}{{.Count}} times{{end}} before, at {{.Times}} times its hours.", map[string]any{"Count": h.Hours.Count, "Times": widgets.FormatNumber(h.Hours.Typical(), 1)})
		}
		says.SetText(lang.X("jobs.guess", "Hours {{.Hours}}; parts {{.Parts}}.", map[string]any{"Hours": hoursRange(hours), "Parts": p.moneyRange(parts)}) + note)
	}
	card.OnValue = func(id string) error {
		if c, err := p.shop.Card(id); err == nil {
			per.Hidden = c.Per == costing.PerMotor
			count.SetValue(widgets.Known(float64(c.Pieces(r.Motor))))
			tell()
		}
		return nil
	}
	count.OnValue = func(widgets.Number) error { tell(); return nil }
	card.SetValue(cards[0].ID)
	_ = card.OnValue(cards[0].ID)
	form := widgets.NewForm(widgets.NewField(lang.X("jobs.card", "Job card"), card), per, fits)
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("jobs.put.title", "Put a job card on the plan"), widgets.Column(look.Wide, form, says),
		lang.X("jobs.put.do", "Put it on"), func() error {
			n := count.Value()
			if !n.Known {
				return errors.New(lang.X("jobs.count.blank", "How many: say how many cylinders or pieces."))
			}
			_, err := p.shop.PutOn(r.ID, card.Value(), int(n.Value), shop.Fit(fit.Value()))
			return err
		}).SetFirst(card).SetWidth(620).Show()
}

// hoursRange writes a guess: "2 to 9, likely 4".
func hoursRange(t costing.ThreePoint) string {
	t = t.Full()
	f := func(v float64) string { return widgets.FormatNumber(v, 1) }
	return guessWords(f(t.Low), f(t.Likely), f(t.High))
}

func (p *Screen) moneyRange(t costing.ThreePoint) string {
	t = t.Full()
	f := func(v float64) string { return p.shop.Currency().Whole(money.Round(v)) }
	return guessWords(f(t.Low), f(t.Likely), f(t.High))
}

func guessWords(low, likely, high string) string {
	if low == high {
		return likely
	}
	return lang.X("jobs.range", "{{.Low}} to {{.High}}, likely {{.Likely}}", map[string]any{"Low": low, "High": high, "Likely": likely})
}

// askStarter offers the starting set while the shop has no card that fits, and goes on with what was asked
// for once it is taken.
func (p *Screen) askStarter(then func()) {
	taken := false
	d := widgets.NewDialog(p.host.Window().Canvas(), lang.X("cards.starter.title", "No job cards yet"),
		widgets.NewText(lang.X("cards.starter", "A job card is a repair you do again and again, with its hours, parts and consumables. Sixteen of them are at hand to begin with: common practice for 40 to 115 hp, from memory, in whole units of your money. Change them as you learn, or make your own.")),
		lang.X("cards.starter.do", "Take the starting set"), func() error {
			_, err := p.shop.AddStarterCards()
			taken = err == nil
			return err
		}).SetWidth(560)
	d.OnClosed = func() {
		if taken {
			then()
		}
	}
	d.Show()
}
