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
	}
	g.remove = widgets.NewQuietButton(lang.X("shelf.remove", "Remove this good"), theme.DeleteIcon(), func() {
		p.host.Failed(p.shop.DeleteGood(g.view.Good.ID))
	})
	g.newHistory()
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
	g.history = widgets.NewFold(lang.X("shelf.history", "Bought, used, counted"), widgets.Column(look.Gap, g.prices, g.table.High(9), widgets.Flow(look.Gap, g.undo)))
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
	p.frame.SetWorking(g.history, g.about, p.mix.fold)
	return nil
}
