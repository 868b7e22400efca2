// Package bench is the screen for oily hands: what a motor has taken so far, and one line to add more.
package bench

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Screen lists the motors on the bench and shows the chosen one's costs and hours.
type Screen struct {
	shop  *shop.Shop
	host  widgets.Host
	table *widgets.Table[row]
	frame *widgets.Frame
	empty *widgets.Empty
	blank *widgets.Empty

	chosen       string
	onlyReceipts bool // are on show, the bench being empty

	bars   *picture.PlanBars
	add    *addPart
	clock  *clockPart
	lines  *linesPart
	hours  *hoursPart
	jobs   *jobsPart
	snags  *snagsPart
	checks *checksPart
	photos *photosPart
	raise  *raisePart
	runIn  *runInPart
	motor  *motorPart

	cautions *widgets.Fold
}

// row is one motor in the list.
type row struct {
	costing.Record
	spent money.Amount
	hours costing.Hours
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, bars: picture.NewPlanBars(s.Currency())}
	c := s.Currency()
	p.table = widgets.NewTable(func(r row) string { return r.ID },
		widgets.TableColumn[row]{Key: "tag", Title: lang.X("column.tag", "Tag"), Text: func(r row) string { return r.Tag }},
		widgets.TableColumn[row]{Key: "motor", Title: lang.X("column.motor", "Motor"), Grow: true, Text: func(r row) string { return r.Name() }},
		widgets.TableColumn[row]{Key: "spent", Title: lang.X("column.spent", "Spent"), Align: fyne.TextAlignTrailing,
			Text: func(r row) string { return c.Whole(r.spent) }, Less: func(a, b row) bool { return a.spent < b.spent }},
		widgets.TableColumn[row]{Key: "hours", Title: lang.X("column.hours", "Hours"), Align: fyne.TextAlignTrailing,
			Text: func(r row) string {
				if r.hours == 0 {
					return ""
				}
				return r.hours.String()
			}, Less: func(a, b row) bool { return a.hours < b.hours }},
	)
	p.table.OnSelected = func(r row) { p.choose(r.ID) }
	p.table.OnCleared = func() { p.choose("") }
	p.frame = widgets.NewFrame(p.table)
	p.add, p.clock, p.lines, p.hours, p.motor = newAddPart(p), newClockPart(p), newLinesPart(p), newHoursPart(p), newMotorPart(p)
	p.jobs, p.snags, p.checks, p.photos = newJobsPart(p), newSnagsPart(p), newChecksPart(p), newPhotosPart(p)
	p.raise, p.runIn, p.cautions = newRaisePart(), newRunInPart(p), benchCautions()
	p.empty = widgets.NewEmpty(theme.HomeIcon(), lang.X("bench.empty", "The bench is empty"),
		lang.X("bench.empty.words", "A motor comes here when it is bought: open Prospects and press Bought it."),
		widgets.NewMainButton(lang.X("bench.toprospects", "Go to Prospects"), nil, func() { host.Go(widgets.ProspectsScreen, "") }),
		widgets.NewButton(lang.X("app.example", "Open the example shop"), nil, host.OpenExample))
	p.blank = widgets.NewEmpty(nil, lang.X("bench.blank", "Choose a motor"), lang.X("bench.blank.words", "in the list, to add what it takes."))
	return p
}

// Chosen is the id of the motor on show.
func (p *Screen) Chosen() string { return p.chosen }

// Content implements widgets.Screen.
func (p *Screen) Content() fyne.CanvasObject { return p.frame }

// Close stops the clock's hand; the clock itself runs on in the shop file.
func (p *Screen) Close() { p.clock.stop() }

// Refresh implements widgets.Screen.
func (p *Screen) Refresh() {
	records := p.shop.Records(costing.Bench)
	rows := make([]row, len(records))
	for i, r := range records {
		sheet := r.Sheet(0, p.shop.Settings().OwnRate)
		rows[i] = row{r, sheet.Total, sheet.OwnHours}
	}
	if len(rows) == 0 {
		p.chosen = ""
		p.table.SetRows(nil)
		p.showEmpty()
		return
	}
	p.table.SetRows(rows)
	if _, chosen := p.table.Selected(); !chosen {
		p.chosen = rows[0].ID
		p.table.Select(p.chosen)
	}
	p.show()
}

// Show implements widgets.Screen. The keyboard comes to the line that adds a cost: that is what one comes
// to a motor on the bench for.
func (p *Screen) Show(id string) {
	if !p.table.Select(id) {
		return
	}
	p.choose(id)
	p.focus(p.add.line)
}

// focus puts the keyboard on a control, if there is a window to have one.
func (p *Screen) focus(on fyne.Focusable) {
	if w := p.host.Window(); w != nil {
		w.Canvas().Focus(on)
	}
}

func (p *Screen) choose(id string) {
	if p.chosen != id {
		widgets.FlushAll()
		p.chosen = id
		p.frame.Top()
		p.add.clear()
		p.snags.clear()
		p.runIn.clear()
	}
	p.show()
}

func (p *Screen) show() {
	a, err := p.shop.BenchOf(p.chosen)
	if err != nil || a.Record.Stage != costing.Bench {
		p.frame.ShowBlank(p.blank)
		return
	}
	p.frame.Update(func() { p.draw(a) })
}

// showEmpty says what fills the bench; receipts that wait to be entered are at hand all the same.
func (p *Screen) showEmpty() {
	waiting := p.shop.UnfiledWords()
	if waiting.Empty() {
		p.frame.ShowEmpty(p.empty)
		return
	}
	p.frame.Update(func() {
		p.frame.SetTitle(lang.X("bench.empty", "The bench is empty"))
		p.frame.SetAnswer(widgets.Say(waiting))
		p.frame.SetSecond(lang.X("bench.empty.words", "A motor comes here when it is bought: open Prospects and press Bought it."))
		p.frame.SetActions(widgets.NewMainButton(lang.X("bench.toprospects", "Go to Prospects"), nil, func() { p.host.Go(widgets.ProspectsScreen, "") }))
		p.frame.SetPicture(nil)
		p.photos.showReceipts()
		if !p.onlyReceipts {
			p.onlyReceipts = true
			p.photos.receipts.SetOpen(true)
		}
		p.frame.SetWorking(p.photos.receipts)
		p.frame.ShowDetail()
	})
}

// draw lays the answer, the picture and the working out.
func (p *Screen) draw(a shop.BenchAnswer) {
	r := a.Record
	if p.onlyReceipts { // beside a motor they are asked for
		p.onlyReceipts = false
		p.photos.receipts.SetOpen(false)
	}
	p.frame.SetTitle(r.Name())
	p.frame.SetAnswer(widgets.Say(a.Answer))
	second := make([]string, len(a.Second))
	for i, s := range a.Second {
		second[i] = widgets.Say(s)
	}
	p.frame.SetSecond(strings.Join(second, " "))
	p.frame.SetActions(p.actions(r)...)
	bars := make([]picture.PlanBar, len(a.Kinds))
	for i, k := range a.Kinds {
		bars[i] = picture.PlanBar{Name: widgets.Say(k.Name), Planned: k.Planned, Actual: k.Actual}
	}
	p.bars.SetBars(bars)
	p.frame.SetPicture(p.bars)
	p.add.show(r)
	p.clock.show()
	p.jobs.show(a)
	p.snags.show(a)
	p.checks.show(a)
	p.photos.show(a)
	p.lines.show(a)
	p.hours.show(a)
	p.raise.show(p.shop.Raise(r.ID))
	p.runIn.show(r)
	p.motor.show(r)
	p.frame.SetWorking(p.add.content, p.clock.content, p.jobs.fold, p.snags.fold, p.checks.fold, p.photos.fold, p.photos.receipts,
		p.lines.fold, p.hours.fold, p.runIn.fold, p.raise.Fold, p.motor.fold, p.cautions)
	p.frame.ShowDetail()
}

func (p *Screen) actions(r costing.Record) []fyne.CanvasObject {
	leave := func(words string, icon fyne.Resource, title, question string, to costing.Stage) fyne.CanvasObject {
		return widgets.NewQuietButton(words, icon, func() {
			widgets.Confirm(p.host.Window().Canvas(), title, question, words, func() {
				p.host.Failed(p.shop.Leave(r.ID, to, p.shop.Today()))
			})
		})
	}
	return []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("bench.finish", "Finished…"), theme.ConfirmIcon(), func() { p.finish(r) }),
		leave(lang.X("bench.break", "Break for parts"), nil, r.Name(),
			lang.X("bench.break.words", "It stays in stock at what it cost; parts taken off it carry their share to other motors. Undo brings it back."), costing.Broken),
		leave(lang.X("bench.keep", "Keep for yourself"), nil, r.Name(),
			lang.X("bench.keep.words", "It leaves the stock at what it cost, as drawings. Undo brings it back."), costing.Kept),
		widgets.NewQuietButton(lang.X("bench.writedown", "Write down…"), nil, func() { p.writeDown(r) }),
		leave(lang.X("bench.writeoff", "Write off"), nil, r.Name(),
			lang.X("bench.writeoff.words", "It leaves the stock as a loss of what it cost. Undo brings it back."), costing.Lost),
	}
}

// finish asks what state the work has brought the motor to, as planned unless told otherwise, and moves it
// to Asking: a motor still written down as it was bought would be priced as that.
func (p *Screen) finish(r costing.Record) {
	widgets.FlushAll()
	options := make([]widgets.Option, len(valuation.States))
	for i, s := range valuation.States {
		options[i] = widgets.Option{Value: string(s), Text: widgets.Say(s.Label())}
	}
	state := widgets.NewSegments(options...)
	state.SetValue(string(shop.PlanOf(r).State))
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	parts := []fyne.CanvasObject{widgets.NewForm(
		widgets.NewField(lang.X("finish.state", "It is now"), state).Spanning(),
		widgets.NewField(lang.X("finish.on", "Finished on"), on))}
	open := p.shop.OpenSnags(r)
	allTheSame := widgets.NewCheck(lang.X("finish.snags", "Finished all the same; they stay open"))
	if !open.Empty() {
		parts = append(parts, widgets.NewNote(theme.WarningIcon(), look.Warn, widgets.Say(open)), allTheSame)
	}
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("finish.title", "Finished: {{.Motor}}", map[string]any{"Motor": r.Name()}), widgets.Column(look.Gap, parts...),
		lang.X("finish.do", "Ready to offer"), func() error {
			finish := p.shop.Finish
			if allTheSame.Checked {
				finish = p.shop.FinishWithSnags
			} else if !open.Empty() {
				return errors.New(lang.X("finish.open", "Snags are open: see to them first, or tick that it is finished all the same."))
			}
			if err := finish(r.ID, valuation.State(state.Value()), on.Value()); err != nil {
				return err
			}
			p.host.Go(widgets.AskingScreen, r.ID)
			return nil
		}).SetFirst(state).SetWidth(600).Show()
}

func benchCautions() *widgets.Fold {
	return widgets.NewFold(lang.X("bench.cautions", "Cautions"), widgets.Column(look.Gap,
		widgets.NewNote(theme.WarningIcon(), look.Warn, lang.X("bench.caution.crank", "Ignition disabled and plug leads earthed before any cranking check; battery off before hands go near starter, flywheel or wiring.")),
		widgets.NewNote(theme.WarningIcon(), look.Warn, lang.X("bench.caution.run", "Propeller off and water on before running on muffs; plenty of air for exhaust and fuel vapour, no flames.")),
		widgets.NewNote(theme.WarningIcon(), look.Warn, lang.X("bench.caution.lift", "Lifting gear and stand rated for the weight. Waste oil and fuel go where local rules say.")),
		widgets.NewNote(theme.InfoIcon(), look.Plain, lang.X("bench.caution.manual", "The maker's service manual and a licensed technician come before anything said here."))))
}

// writeDown lowers what the motor stands at because it will not bring it.
func (p *Screen) writeDown(r costing.Record) {
	widgets.FlushAll()
	widgets.WriteDown{Name: r.Name(), Stands: r.Sheet(0, p.shop.Settings().OwnRate).Carried, Currency: p.shop.Currency(),
		Dates: widgets.DateOrder(p.shop.DateOrder()), Today: p.shop.Today(),
		Do: func(by money.Amount, why string, on day.Day) error { return p.shop.WriteDown(r.ID, by, why, on) }}.Ask(p.host.Window().Canvas())
}
