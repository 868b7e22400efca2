package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// addPart is the one line that adds anything, and the shelf beside it.
type addPart struct {
	p       *Screen
	content fyne.CanvasObject
	line    *widgets.Entry
	field   *widgets.Field
	good    *widgets.Choice
	amount  *widgets.NumberEntry
	unit    *widgets.Choice
	draw    *widgets.Field
	shelf   *fyne.Container // hidden while nothing is on the shelf
}

func newAddPart(p *Screen) *addPart {
	a := &addPart{p: p, line: widgets.NewEntry(), good: widgets.NewChoice(), amount: widgets.NewNumberEntry(3), unit: widgets.NewChoice()}
	a.line.SetPlaceHolder(lang.X("bench.add.example", "2 x impeller 14.50 harbour supply"))
	a.line.OnSubmit = func(string) { a.addLine() }
	a.field = widgets.NewField(lang.X("bench.add", "Add a cost"), a.line).
		WithHint(lang.X("bench.add.hint", "how many, what, the price of one, the supplier; a first word such as outside, freight, kit, used or fee says what kind"))
	a.amount.Least = 0
	a.good.OnValue = func(string) error { a.offerUnits(); return nil }
	a.draw = widgets.NewField(lang.X("bench.draw", "Or draw from the shelf"), a.good)
	a.shelf = widgets.Column(look.Gap,
		a.draw, // on a line of its own: what is left stands behind the name of the good
		widgets.Columns(150, 3, look.Gap,
			widgets.NewField(lang.X("bench.draw.amount", "How much"), a.amount),
			widgets.NewField(lang.X("bench.draw.unit", "Unit"), a.unit),
			widgets.NewField(" ", widgets.NewButton(lang.X("bench.draw.do", "Draw"), nil, a.drawGood))))
	a.content = widgets.Column(look.Gap,
		a.field, widgets.Flow(look.Gap, widgets.NewButton(lang.X("bench.add.do", "Add the line"), theme.ContentAddIcon(), a.addLine)),
		a.shelf)
	return a
}

func (a *addPart) clear() {
	a.line.Set("")
	a.field.SetProblem(nil)
}

func (a *addPart) addLine() {
	text := a.line.Text
	err := a.p.shop.QuickLine(a.p.chosen, text)
	a.field.SetProblem(err)
	if err == nil {
		a.line.SetText("")
		a.p.host.Status(lang.X("bench.added", "Added: {{.Line}}", map[string]any{"Line": text}))
	}
}

func (a *addPart) show() {
	goods := a.p.shop.Goods()
	a.shelf.Hidden = len(goods) == 0
	options := make([]widgets.Option, len(goods))
	for i, g := range goods {
		options[i] = widgets.Option{Value: g.Good.ID, Text: lang.X("bench.draw.left", "{{.Good}} ({{.Left}} left)", map[string]any{
			"Good": g.Good.Name, "Left": costing.Measure(g.Stock.Quantity, g.Good.Unit)})}
	}
	kept := a.good.Value()
	a.good.SetOptionsOf(options...)
	a.good.SetValue("")
	for _, o := range options {
		if o.Value == kept {
			a.good.SetValue(kept)
		}
	}
	if a.good.Value() == "" && len(options) > 0 {
		a.good.SetValue(options[0].Value)
	}
	a.offerUnits()
}

// offerUnits offers the units that the good can be drawn in, its own first.
func (a *addPart) offerUnits() {
	for _, g := range a.p.shop.Goods() {
		if g.Good.ID != a.good.Value() {
			continue
		}
		options := []widgets.Option{{Value: g.Good.Unit, Text: g.Good.Unit}}
		for _, u := range costing.Compatible(g.Good.Unit) {
			if u != g.Good.Unit {
				options = append(options, widgets.Option{Value: u, Text: u})
			}
		}
		kept := a.unit.Value()
		a.unit.SetOptionsOf(options...)
		a.unit.SetValue(g.Good.Unit)
		for _, o := range options {
			if o.Value == kept {
				a.unit.SetValue(kept)
			}
		}
	}
}

func (a *addPart) drawGood() {
	widgets.FlushAll()
	drawn := a.amount.Value()
	err := a.p.shop.Draw(a.p.chosen, a.good.Value(), drawn.Value, a.unit.Value(), 0)
	a.draw.SetProblem(err)
	if err != nil {
		return
	}
	a.amount.Clear()
	for _, g := range a.p.shop.Goods() {
		if g.Good.ID == a.good.Value() {
			a.p.host.Status(lang.X("bench.drawn", "Drawn: {{.Amount}} of {{.Good}}", map[string]any{
				"Amount": costing.Measure(drawn.Value, a.unit.Value()), "Good": g.Good.Name}))
		}
	}
}
