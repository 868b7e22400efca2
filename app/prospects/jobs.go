package prospects

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// jobsPart is the job cards that were put on a prospect's plan by hand.
type jobsPart struct {
	p     *Screen
	box   *fyne.Container
	table *widgets.Table[shop.JobRow]
	held  *fyne.Container
	none  *widgets.Text
	cards *widgets.Choice
	field *widgets.Field
}

func newJobsPart(p *Screen) *jobsPart {
	c := p.shop.Currency()
	w := &jobsPart{p: p, cards: widgets.NewChoice(), none: widgets.NewQuiet(lang.X("prospects.jobs.none",
		"No job card is on it: the ways out go by what usually has to be done. A card put on says that it has to be done here."))}
	w.table = widgets.NewTable(func(x shop.JobRow) string { return x.Job.ID },
		widgets.TableColumn[shop.JobRow]{Key: "job", Title: lang.X("column.job", "Job"), Grow: true, Text: func(x shop.JobRow) string {
			if x.Job.Pieces > 1 {
				return lang.X("prospects.jobs.pieces", "{{.Job}}, {{.Count}}", map[string]any{"Job": x.Job.Name, "Count": x.Job.Pieces})
			}
			return x.Job.Name
		}},
		widgets.TableColumn[shop.JobRow]{Key: "hours", Title: lang.X("column.hours", "Hours"), Align: fyne.TextAlignTrailing,
			Text: func(x shop.JobRow) string { return x.Time.Said() }, Less: func(a, b shop.JobRow) bool { return a.Time < b.Time }},
		widgets.TableColumn[shop.JobRow]{Key: "parts", Title: lang.X("column.parts", "Parts"), Align: fyne.TextAlignTrailing,
			Text: func(x shop.JobRow) string { return c.Whole(x.Parts) }, Less: func(a, b shop.JobRow) bool { return a.Parts < b.Parts }})
	w.table.HideFilter()
	off := func(x shop.JobRow) { p.host.Failed(p.shop.TakeOff(p.Chosen(), x.Job.ID)) }
	w.table.OnDelete = off
	w.held = widgets.Column(look.Gap, w.table.Fit(9), widgets.Flow(look.Gap, widgets.NewButton(lang.X("prospects.jobs.off", "Take the chosen one off"), theme.DeleteIcon(), func() {
		if x, ok := w.table.Selected(); ok {
			off(x)
		} else {
			p.host.Status(lang.X("jobs.choose", "Choose a job in the list first."))
		}
	})))
	w.field = widgets.NewField(lang.X("prospects.jobs.card", "Put a job card on"), w.cards)
	w.cards.OnValue = func(id string) error {
		if id == "" {
			return nil
		}
		w.cards.SetValue("")
		card, err := p.shop.Card(id)
		if err != nil {
			return err
		}
		return p.shop.PutNeeded(p.Chosen(), shop.Need{Card: card})
	}
	starters := widgets.NewQuietButton(lang.X("prospects.jobs.starters", "Take the starting set of job cards in"), theme.ContentAddIcon(), func() {
		_, err := p.shop.AddStarterCards()
		p.host.Failed(err)
	})
	w.box = widgets.Column(look.Gap, widgets.NewTitle(lang.X("prospects.jobs", "Job cards that have to be done")), w.none, w.held, w.field, widgets.Flow(look.Gap, starters))
	return w
}

func (w *jobsPart) show(r costing.Record) {
	rows := w.p.shop.JobsOf(r)
	w.table.SetRows(rows)
	if _, chosen := w.table.Selected(); !chosen && len(rows) > 0 {
		w.table.Select(rows[0].Job.ID)
	}
	w.held.Hidden, w.none.Hidden = len(rows) == 0, len(rows) > 0
	cards := w.p.shop.CardsFor(r.Motor)
	options := []widgets.Option{{Value: "", Text: lang.X("prospects.jobs.choose", "choose a card…")}}
	for _, c := range cards {
		options = append(options, widgets.Option{Value: c.ID, Text: c.Name})
	}
	w.cards.SetOptionsOf(options...)
	w.field.Hidden = len(cards) == 0
	w.box.Objects[len(w.box.Objects)-1].(*fyne.Container).Hidden = len(cards) > 0
}
