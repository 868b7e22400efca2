package sold

import (
	"errors"

	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

// pastForm asks for the five facts that a past sale needs.
type pastForm struct {
	on     *widgets.DateEntry
	price  *widgets.MoneyEntry
	power  *widgets.Entry
	year   *widgets.Entry
	stroke *widgets.Segments
	fields map[string]*widgets.Field
}

// askPast asks for one past sale.
func (p *Screen) askPast() {
	if p.host.Window() == nil {
		return
	}
	widgets.FlushAll()
	unit := p.shop.Settings().PowerUnit
	var strokes []widgets.Option
	for _, s := range valuation.Strokes {
		strokes = append(strokes, widgets.Option{Value: string(s), Text: widgets.Capital(widgets.Say(s.Label()))})
	}
	f := &pastForm{on: widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())), price: widgets.NewMoneyEntry(p.shop.Currency()),
		power: widgets.NewEntry(), year: widgets.NewEntry(), stroke: widgets.NewSegments(strokes...)}
	var m valuation.Motor
	f.power.OnSave = func(text string) error { return m.SetIn("power", text, unit == "kW") }
	f.year.OnSave = func(text string) error { return m.Set("year", text) }
	f.fields = map[string]*widgets.Field{
		"sold":   widgets.NewField(lang.X("sold.on", "Sold on"), f.on),
		"price":  widgets.NewField(lang.X("sold.price", "Sold for"), f.price),
		"power":  widgets.NewField(lang.X("past.power", "Power, {{.Unit}}", map[string]any{"Unit": unit}), f.power),
		"year":   widgets.NewField(lang.X("past.year", "Model year"), f.year),
		"stroke": widgets.NewField(lang.X("past.stroke", "Stroke"), f.stroke),
	}
	content := widgets.Column(look.Wide,
		widgets.NewForm(f.fields["sold"], f.fields["price"], f.fields["power"], f.fields["year"], f.fields["stroke"].Spanning()),
		widgets.NewQuiet(lang.X("past.rest", "Make, state and the rest can be filled in afterwards; each makes the sale tell more.")))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("past.title", "Add a past sale"), content, lang.X("past.do", "Add it"), func() error {
		if problem := errors.Join(f.power.Problem(), f.year.Problem()); problem != nil {
			return errors.New(lang.X("past.mend", "Mend what is marked first."))
		}
		m.Stroke = valuation.Stroke(f.stroke.Value())
		id, err := p.shop.AddSale(costing.Record{Motor: m, Sale: &costing.Sale{Sold: f.on.Value(), Price: f.price.Value()}})
		if err != nil {
			return f.point(err)
		}
		p.table.SetFilter("")
		p.Show(id)
		p.motor.fold.SetOpen(true)
		p.host.Status(lang.X("past.added", "One past sale more. Fill in what else you know of it."))
		return nil
	}).SetFirst(f.on).SetWidth(520).Show()
}

// point puts an error that names a field under that field too.
func (f *pastForm) point(err error) error {
	var named *valuation.FieldError
	if errors.As(err, &named) {
		for name, field := range f.fields {
			field.SetProblem(nil)
			if name == named.Field {
				field.SetProblem(err)
			}
		}
	}
	return err
}
