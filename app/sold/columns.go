package sold

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// columnChoices shows the columns of a list side by side: what each is taken for, to be chosen otherwise,
// its heading, and what stands in its first rows.
type columnChoices struct {
	root    fyne.CanvasObject
	layout  shop.IntakeLayout
	choices []*widgets.Choice
	changed func(shop.IntakeLayout)
}

func newColumnChoices(l shop.IntakeLayout, changed func(shop.IntakeLayout)) *columnChoices {
	w := &columnChoices{layout: l, changed: changed}
	options := []widgets.Option{{Value: "", Text: lang.X("sold.columns.out", "leave out")}}
	fields, names := shop.IntakeFields()
	for i, f := range fields {
		options = append(options, widgets.Option{Value: f, Text: widgets.Capital(widgets.Say(names[i]))})
	}
	var columns []fyne.CanvasObject
	for i, c := range l.Columns {
		choice := widgets.NewChoice(options...)
		choice.SetValue(c.Field)
		choice.OnValue = func(field string) error {
			w.take(i, field)
			return nil
		}
		w.choices = append(w.choices, choice)
		heading := c.Heading
		if heading == "" {
			heading = lang.X("sold.columns.unnamed", "without a heading")
		}
		parts := []fyne.CanvasObject{choice, widgets.NewOneLine(heading, true)}
		for _, example := range c.Examples {
			parts = append(parts, widgets.NewOneLine(example, false))
		}
		columns = append(columns, widgets.Column(look.Tight, parts...))
	}
	w.root = widgets.Strip(170, look.Gap, columns...)
	return w
}

// take takes a column for another fact; the column that was taken for it before is left out.
func (w *columnChoices) take(column int, field string) {
	w.layout = w.layout.With(column, field)
	for i, c := range w.layout.Columns {
		w.choices[i].SetValue(c.Field)
	}
	w.changed(w.layout)
}
