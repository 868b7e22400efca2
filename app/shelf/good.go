package shelf

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// goodPart is one good: what can be done with it, its history, and what it is.
type goodPart struct {
	p       *Screen
	view    shop.GoodView
	actions []fyne.CanvasObject // without removing it
	remove  *widgets.Button

	history *widgets.Fold
	table   *widgets.Table[shop.GoodMove]
	prices  *widgets.Text
	lots    *widgets.Fold
	left    *widgets.Table[costing.Lot]
	undo    *widgets.Button

	about   *widgets.Fold
	name    *widgets.Entry
	unit    *widgets.Choice
	unitIs  *widgets.Field
	reorder *widgets.NumberEntry
	line    *widgets.Field
	note    *widgets.Entry
}

func newGoodPart(p *Screen) *goodPart {
	g := &goodPart{p: p, prices: widgets.NewText("")}
	g.actions = []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("shelf.bought", "Bought…"), theme.ContentAddIcon(), func() { p.askBought(g.view) }),
		widgets.NewButton(lang.X("shelf.use", "Use…"), nil, func() { p.askUse(g.view) }),
		widgets.NewButton(lang.X("shelf.counted", "Counted…"), nil, func() { p.askCounted(g.view) }),
		widgets.NewQuietButton(lang.X("down.ask", "Write down…"), nil, func() {
			p.askDown(g.view.Good.Name, g.view.Stock.Value, func(by money.Amount, why string, on day.Day) error {
				return p.shop.MarkDown(g.view.Good.ID, by, why, on)
			})
		}),
	}
	g.remove = widgets.NewQuietButton(lang.X("shelf.remove", "Remove this good"), theme.DeleteIcon(), func() {
		p.host.Failed(p.shop.DeleteGood(g.view.Good.ID))
	})
	g.newHistory()
	g.newLots()
	g.newAbout()
	return g
}

func (g *goodPart) newHistory() {
	p := g.p
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	g.table = widgets.NewTable(func(m shop.GoodMove) string { return m.Move.ID },
		widgets.TableColumn[shop.GoodMove]{Key: "on", Title: lang.X("column.day", "Day"), Text: func(m shop.GoodMove) string { return widgets.FormatDay(m.Move.On, order) },
			Less: func(a, b shop.GoodMove) bool { return a.Move.On < b.Move.On }},
		widgets.TableColumn[shop.GoodMove]{Key: "what", Title: lang.X("column.what", "What"), Grow: true, Text: func(m shop.GoodMove) string { return widgets.Say(m.What) }},
		widgets.TableColumn[shop.GoodMove]{Key: "change", Title: lang.X("column.change", "Change"), Align: fyne.TextAlignTrailing,
			Text: func(m shop.GoodMove) string { return signed(m.Change) }, Less: func(a, b shop.GoodMove) bool { return a.Change < b.Change }},
		widgets.TableColumn[shop.GoodMove]{Key: "left", Title: lang.X("column.left", "Left"), Align: fyne.TextAlignTrailing,
			Text: func(m shop.GoodMove) string { return costing.Measure(m.Left, "") }, Less: func(a, b shop.GoodMove) bool { return a.Left < b.Left }},
		widgets.TableColumn[shop.GoodMove]{Key: "each", Title: lang.X("column.unitcost", "A unit"), Align: fyne.TextAlignTrailing,
			Text: func(m shop.GoodMove) string {
				if m.Each == 0 {
					return ""
				}
				return p.shop.UnitCost(m.Each)
			}, Less: func(a, b shop.GoodMove) bool { return a.Each < b.Each }},
		widgets.TableColumn[shop.GoodMove]{Key: "cost", Title: lang.X("column.cost", "Cost"), Align: fyne.TextAlignTrailing,
			Text: func(m shop.GoodMove) string { return c.Format(m.Cost) }, Less: func(a, b shop.GoodMove) bool { return a.Cost < b.Cost }},
	)
	remove := func(m shop.GoodMove) {
		err := p.shop.DeleteMove(m.Move)
		p.host.Failed(err)
		if err == nil {
			p.host.Status(lang.X("shelf.removed", "Removed; Ctrl+Z brings it back."))
		}
	}
	g.table.OnDelete = remove
	g.table.HideFilter()
	g.undo = widgets.NewQuietButton(lang.X("shelf.move.remove", "Remove the chosen entry"), theme.DeleteIcon(), func() {
		if m, ok := g.table.Selected(); ok {
			remove(m)
			return
		}
		p.host.Status(lang.X("shelf.move.choose", "Choose an entry in the table first."))
	})
	g.history = widgets.NewFold(lang.X("shelf.history", "Bought, used, counted"), widgets.Column(look.Gap, g.prices, g.table.High(9), widgets.Flow(look.Gap, widgets.NewButton(lang.X("shelf.back", "Take the chosen back…"), theme.ContentUndoIcon(), func() { g.takeBack() }), g.undo)))
	g.history.SetOpen(true)
}

func signed(v float64) string {
	if v > 0 {
		return "+" + costing.Measure(v, "")
	}
	return costing.Measure(v, "")
}

func (g *goodPart) newAbout() {
	p := g.p
	g.name, g.unit, g.reorder, g.note = widgets.NewEntry(), widgets.NewChoice(unitOptions()...), widgets.NewNumberEntry(3), widgets.NewTextArea(3)
	g.reorder.Least, g.reorder.Most = 0, 1e6
	change := func(field string, f func(*costing.Good)) error { return p.shop.ChangeGood(g.view.Good.ID, field, f) }
	g.name.OnSave = func(text string) error {
		return change("name", func(x *costing.Good) { x.Name = strings.TrimSpace(text) })
	}
	g.unit.OnValue = func(v string) error { return change("unit", func(x *costing.Good) { x.Unit = v }) }
	g.reorder.OnValue = func(n widgets.Number) error {
		return change("reorder line", func(x *costing.Good) { x.Reorder = n.Value })
	}
	g.note.OnSave = func(text string) error { return change("note", func(x *costing.Good) { x.Note = text }) }
	g.unitIs = widgets.NewField(lang.X("shelf.unit", "Counted in"), g.unit)
	g.line = widgets.NewField(lang.X("shelf.reorder", "Say so at or below"), g.reorder)
	g.about = widgets.NewFold(lang.X("shelf.about", "What it is"), widgets.NewForm(
		widgets.NewField(lang.X("column.name", "Name"), g.name).Spanning(), g.unitIs, g.line,
		widgets.NewField(lang.X("shelf.note", "Notes"), g.note).Spanning()))
}

func unitOptions() []widgets.Option {
	var out []widgets.Option
	for _, u := range shop.CountUnits() {
		out = append(out, widgets.Option{Value: u, Text: u})
	}
	return out
}

// show draws the good anew.
func (g *goodPart) show(id string) error {
	v, err := g.p.shop.GoodOf(id)
	if err != nil {
		return err
	}
	g.view = v
	p := g.p
	p.frame.SetSecond(widgets.Say(v.Answer))
	actions := g.actions
	if len(v.Moves) == 0 {
		actions = append(actions[:len(actions):len(actions)], g.remove)
	}
	p.frame.SetActions(actions...)
	g.prices.SetText(widgets.Say(v.Prices))
	g.table.SetRows(v.History)
	g.undo.Hidden = len(v.History) == 0
	g.history.SetSummary(lang.X("shelf.history.sum", "{{.Count}} entries", map[string]any{"Count": len(v.History)}))
	g.name.Set(v.Good.Name)
	g.unit.SetValue(v.Good.Unit)
	g.reorder.SetValue(widgets.Number{Value: v.Good.Reorder, Known: v.Good.Reorder > 0})
	g.note.Set(v.Good.Note)
	if len(v.Moves) > 0 {
		g.unit.Disable()
		g.unitIs.SetHint(lang.X("shelf.unit.kept", "It keeps this unit once something is written down in it; every purchase and use may be in another that fits."))
	} else {
		g.unit.Enable()
		g.unitIs.SetHint(lang.X("shelf.unit.hint", "the measure it is used by"))
	}
	g.line.SetHint(lang.X("shelf.reorder.hint", "in {{.Unit}}; left empty, never", map[string]any{"Unit": v.Good.Unit}))
	g.about.SetSummary(v.Good.Note)
	p.mix.show(v.GoodRow)
	g.left.SetRows(v.Stock.Lots)
	g.lots.Hidden = len(v.Stock.Lots) == 0
	g.lots.SetSummary(p.lotsSummary(len(v.Stock.Lots)))
	p.frame.SetWorking(g.history, g.lots, g.about, p.mix.fold)
	return nil
}

// newLots is what is left of each purchase, and what each cost.
func (g *goodPart) newLots() {
	p := g.p
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	g.left = widgets.NewTable(func(l costing.Lot) string { return l.MoveID },
		widgets.TableColumn[costing.Lot]{Key: "on", Title: lang.X("column.day", "Day"), Text: func(l costing.Lot) string { return widgets.FormatDay(l.On, order) },
			Less: func(a, b costing.Lot) bool { return a.On < b.On }},
		widgets.TableColumn[costing.Lot]{Key: "supplier", Title: lang.X("column.supplier", "Supplier"), Grow: true, Text: func(l costing.Lot) string { return l.Supplier }},
		widgets.TableColumn[costing.Lot]{Key: "came", Title: lang.X("column.came", "Came"), Align: fyne.TextAlignTrailing,
			Text: func(l costing.Lot) string { return costing.Measure(l.Bought, "") }, Less: func(a, b costing.Lot) bool { return a.Bought < b.Bought }},
		widgets.TableColumn[costing.Lot]{Key: "each", Title: lang.X("column.unitcost", "A unit"), Align: fyne.TextAlignTrailing,
			Text: func(l costing.Lot) string { return p.shop.UnitCost(l.Each()) }, Less: func(a, b costing.Lot) bool { return a.Each() < b.Each() }},
		widgets.TableColumn[costing.Lot]{Key: "left", Title: lang.X("column.left", "Left"), Align: fyne.TextAlignTrailing,
			Text: func(l costing.Lot) string { return costing.Measure(l.Left, "") }, Less: func(a, b costing.Lot) bool { return a.Left < b.Left }},
		widgets.TableColumn[costing.Lot]{Key: "value", Title: lang.X("column.value", "At cost"), Align: fyne.TextAlignTrailing,
			Text: func(l costing.Lot) string { return c.Format(l.Value) }, Less: func(a, b costing.Lot) bool { return a.Value < b.Value }},
	)
	g.left.HideFilter()
	g.lots = widgets.NewFold(lang.X("shelf.lots", "What is left of each purchase"), widgets.Column(look.Gap,
		widgets.NewQuiet(lang.X("shelf.lots.words", "The oldest is used first. How a use is charged is chosen in the settings; a change there changes nothing that was charged before.")), g.left.High(5)))
}

// lotsSummary says how many lots there are and how uses are charged.
func (p *Screen) lotsSummary(count int) string {
	data := map[string]any{"Count": count}
	if p.shop.Settings().By == costing.FirstIn {
		return lang.X("shelf.lots.fifo", "{{.Count}}, charged first in, first out", data)
	}
	return lang.X("shelf.lots.average", "{{.Count}}, charged at the average", data)
}

// takeBack puts what was used back on the shelf, or sends what was bought back to who sold it.
func (g *goodPart) takeBack() {
	p := g.p
	m, ok := g.table.Selected()
	switch {
	case ok && m.Move.Kind == costing.Drawn:
		g.askPutBack(m)
	case ok && m.Move.Kind == costing.Bought:
		g.askSendBack(m)
	default:
		p.host.Status(lang.X("shelf.back.choose", "Choose a purchase or a use in the table first."))
	}
}

func (g *goodPart) askPutBack(m shop.GoodMove) {
	p := g.p
	on := p.day()
	q := newMeasured(g.view.Units, func() {})
	q.amount.SetValue(widgets.Known(m.Move.Quantity))
	form := widgets.NewForm(widgets.NewField(lang.X("restock.amount", "How much"), q.amount), widgets.NewField(lang.X("restock.unit", "Unit"), q.unit),
		widgets.NewField(lang.X("column.day", "Day"), on))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("putback.title", "Put back: {{.Good}}", map[string]any{"Good": g.view.Good.Name}), form,
		lang.X("putback.do", "Put it back"), func() error {
			many, day := q.quantity(), on.Value()
			if err := sound(q.amount, on); err != nil {
				return err
			}
			return p.shop.PutBack(m.Move.ID, many, q.unit.Value(), day)
		}).SetFirst(q.amount).SetWidth(560).Show()
}

func (g *goodPart) askSendBack(m shop.GoodMove) {
	p := g.p
	on := p.day()
	q := newMeasured(g.view.Units, func() {})
	q.amount.SetValue(widgets.Known(m.Move.Quantity))
	back := widgets.NewMoneyEntry(p.shop.Currency())
	back.SetValue(m.Move.Cost)
	form := widgets.NewForm(widgets.NewField(lang.X("restock.amount", "How much"), q.amount), widgets.NewField(lang.X("restock.unit", "Unit"), q.unit),
		widgets.NewField(lang.X("paper.money", "Money back"), back), widgets.NewField(lang.X("column.day", "Day"), on))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("paper.back.title", "Sent back: {{.What}}", map[string]any{"What": g.view.Good.Name}), form,
		lang.X("shelf.bought.do", "Write down"), func() error {
			r := shop.Returned{Quantity: q.quantity(), Unit: q.unit.Value(), Money: back.Value(), On: on.Value()}
			if err := sound(q.amount, back, on); err != nil {
				return err
			}
			return p.shop.ReturnGoods(m.Move.ID, r)
		}).SetFirst(q.amount).SetWidth(560).Show()
}
