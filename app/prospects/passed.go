package prospects

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// whys are the reasons to pass a motor over, to tap.
func whys() *widgets.Segments {
	var options []widgets.Option
	for _, w := range costing.Whys {
		options = append(options, widgets.Option{Value: string(w), Text: widgets.Say(shop.WhyName(w))})
	}
	s := widgets.NewSegments(options...)
	s.Tall = true
	return s
}

// askPass asks why a prospect is passed over; the reason may stay open.
func (p *Screen) askPass(r costing.Record) {
	widgets.FlushAll()
	why, note := whys(), widgets.NewTextArea(3)
	form := widgets.Column(look.Wide,
		widgets.NewField(lang.X("passed.why", "Why"), why),
		widgets.NewField(lang.X("passed.note", "In your own words"), note))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("passed.title", "Pass on {{.Motor}}", map[string]any{"Motor": nameOf(r)}), form,
		lang.X("passed.do", "Pass on it"), func() error {
			if err := p.shop.PassFor(r.ID, costing.Why(why.Value()), note.Text); err != nil {
				return err
			}
			p.host.Status(lang.X("passed.done", "{{.Motor}} is among those passed over.", map[string]any{"Motor": nameOf(r)}))
			return nil
		}).SetFirst(why).SetWidth(560).Show()
}

// passedPart is why a motor was passed over and what became of it.
type passedPart struct {
	p     *Screen
	box   *fyne.Container
	says  *widgets.Text
	why   *widgets.Segments
	note  *widgets.Entry
	later *widgets.MoneyEntry
	on    *widgets.DateEntry
}

func newPassedPart(p *Screen) *passedPart {
	w := &passedPart{p: p, says: widgets.NewText(""), why: whys(), note: widgets.NewTextArea(2),
		later: widgets.NewMoneyEntry(p.shop.Currency()), on: widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))}
	w.why.OnValue = func(v string) error { return p.shop.PassFor(p.Chosen(), costing.Why(v), w.note.Text) }
	w.note.OnSave = func(text string) error { return p.shop.PassFor(p.Chosen(), costing.Why(w.why.Value()), text) }
	w.later.OnValue = func(a money.Amount) error { return p.shop.SeenSold(p.Chosen(), a, w.on.Value()) }
	w.on.OnValue = func(d day.Day) error { return p.shop.SeenSold(p.Chosen(), w.later.Value(), d) }
	w.box = widgets.Column(look.Wide, w.says,
		widgets.NewField(lang.X("passed.why", "Why"), w.why),
		widgets.NewForm(
			widgets.NewField(lang.X("passed.note", "In your own words"), w.note).Spanning(),
			widgets.NewField(lang.X("passed.later", "Sold elsewhere for"), w.later),
			widgets.NewField(lang.X("passed.later.on", "Seen on"), w.on)))
	return w
}

func (w *passedPart) show(r costing.Record) {
	if w.box.Hidden = r.Stage != costing.Passed; w.box.Hidden {
		return
	}
	for _, row := range w.p.shop.PassedOver().Rows {
		if row.Record.ID == r.ID {
			w.says.SetText(capital(widgets.Say(row.Words)) + ".")
		}
	}
	w.why.SetValue(string(r.Passing.Why))
	w.note.Set(r.Passing.Note)
	w.later.SetValue(r.Passing.Later)
	w.on.SetValue(r.Passing.LaterOn)
}

// looksPart is the trips made to look at the motor.
type looksPart struct {
	p     *Screen
	box   *fyne.Container
	table *widgets.Table[costing.Line]
	far   *widgets.NumberEntry
	on    *widgets.DateEntry
}

func newLooksPart(p *Screen) *looksPart {
	c, order := p.shop.Currency(), widgets.DateOrder(p.shop.DateOrder())
	w := &looksPart{p: p, far: widgets.NewNumberEntry(1), on: widgets.NewDateEntry(order)}
	w.far.Least = 0
	w.table = widgets.NewTable(func(l costing.Line) string { return l.ID },
		widgets.TableColumn[costing.Line]{Key: "on", Title: lang.X("column.day", "Day"), Grow: true, Text: func(l costing.Line) string { return widgets.FormatDay(l.On, order) },
			Less: func(a, b costing.Line) bool { return a.On < b.On }},
		widgets.TableColumn[costing.Line]{Key: "far", Title: lang.X("column.distance", "Distance"), Align: fyne.TextAlignTrailing,
			Text: func(l costing.Line) string { return widgets.FormatNumber(l.Quantity, 1) + " " + l.Unit }, Less: func(a, b costing.Line) bool { return a.Quantity < b.Quantity }},
		widgets.TableColumn[costing.Line]{Key: "cost", Title: lang.X("column.cost", "Cost"), Align: fyne.TextAlignTrailing,
			Text: func(l costing.Line) string { return c.Short(l.Total) }, Less: func(a, b costing.Line) bool { return a.Total < b.Total }})
	w.table.HideFilter()
	w.table.OnDelete = func(l costing.Line) { p.host.Failed(p.shop.DeleteLine(l)) }
	add := widgets.NewButton(lang.X("looks.add", "Book the trip"), nil, func() {
		widgets.FlushAll()
		err := p.shop.AddLook(p.Chosen(), w.on.Value(), w.far.Value().Value)
		if err == nil {
			w.far.SetValue(widgets.Number{})
			w.on.SetValue(0)
		}
		p.host.Failed(err)
	})
	unit := map[string]any{"Unit": p.shop.Settings().Distance}
	w.box = widgets.Column(look.Gap, widgets.NewTitle(lang.X("looks.title", "Trips made to look at it")),
		widgets.NewQuiet(lang.X("looks.words", "They stand on the motor if it is bought; of one passed over, those that are bought carry them.")),
		w.table.Fit(4),
		widgets.NewForm(
			widgets.NewField(lang.X("looks.far", "Distance there and back, {{.Unit}}", unit), w.far),
			widgets.NewField(lang.X("looks.on", "On"), w.on).WithHint(lang.X("looks.on.hint", "left empty, today"))),
		widgets.Flow(look.Gap, add))
	return w
}

func (w *looksPart) show(r costing.Record) {
	lines := w.p.shop.LooksAt(r.ID)
	w.table.SetRows(lines)
	w.table.Hidden = len(lines) == 0
}
