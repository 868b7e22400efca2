package record

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// ratioPart is how the middles of the bands compare with the prices, by the assessors' measures.
type ratioPart struct {
	fold    *widgets.Fold
	table   *widgets.Table[shop.RatioRow]
	whole   *widgets.Text
	warning *widgets.Text
}

func newRatioPart(p *Screen) *ratioPart {
	type col = widgets.TableColumn[shop.RatioRow]
	w := &ratioPart{whole: widgets.NewText(lang.X("record.inwhole", "Choose a line to read it in full.")), warning: widgets.NewQuiet("")}
	w.table = widgets.NewTable(func(r shop.RatioRow) string { return r.Key },
		col{Key: "measure", Title: lang.X("record.measure", "Measure"), Width: 240, Grow: true, Text: func(r shop.RatioRow) string { return widgets.Capital(widgets.Say(r.Name)) }},
		col{Key: "figure", Title: lang.X("record.figure", "Is"), Align: fyne.TextAlignTrailing, Text: func(r shop.RatioRow) string { return r.Figure }},
		col{Key: "meant", Title: lang.X("record.meant", "Acceptable"), Text: func(r shop.RatioRow) string { return widgets.Say(r.Meant) }},
		col{Key: "words", Title: lang.X("record.words", "Which is"), Width: 240, Grow: true, Text: func(r shop.RatioRow) string { return widgets.Say(r.Words) }, Tone: ratioTone},
	).HideFilter()
	w.table.Keep(p.shop, "record.ratios", p.host.Failed)
	w.table.OnSelected = func(r shop.RatioRow) {
		if r.Figure == "" {
			w.whole.SetText(lang.X("record.ratio.untold", "{{.Name}}: {{.Words}}.", map[string]any{"Name": widgets.Capital(widgets.Say(r.Name)), "Words": widgets.Say(r.Words)}))
			p.frame.Reflow()
			return
		}
		w.whole.SetText(lang.X("record.ratio.whole", "{{.Name}}: {{.Figure}} (acceptable: {{.Meant}}); {{.Words}}.", map[string]any{
			"Name": widgets.Capital(widgets.Say(r.Name)), "Figure": r.Figure, "Meant": widgets.Say(r.Meant), "Words": widgets.Say(r.Words)}))
		p.frame.Reflow()
	}
	w.fold = widgets.NewFold(lang.X("record.ratios", "High or low, and alike for cheap and dear: the ratio study"), widgets.Column(look.Gap,
		widgets.NewQuiet(lang.X("record.ratios.words", "The middle of each band beside the price, by the measures that assessors of property are held to.")),
		widgets.Tall(164, w.table), w.whole, w.warning))
	return w
}

func ratioTone(r shop.RatioRow) fyne.ThemeColorName {
	if r.Holds {
		return look.Plain
	}
	return look.Warn
}

func (w *ratioPart) show(a shop.RecordAnswer) {
	w.table.SetRows(a.Ratios.Rows)
	var all []string
	for _, warning := range a.Ratios.Warnings {
		all = append(all, widgets.Capital(widgets.Say(warning))+".")
	}
	w.warning.SetText(strings.Join(all, " "))
	if len(all) == 0 {
		w.warning.Hide()
	} else {
		w.warning.Show()
	}
}
