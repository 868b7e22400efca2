package record

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/valuation"
)

// coveragePart is how often bands of each level held.
type coveragePart struct {
	fold  *widgets.Fold
	table *widgets.Table[shop.CoverageRow]
	whole *widgets.Text
}

func newCoveragePart(p *Screen) *coveragePart {
	type col = widgets.TableColumn[shop.CoverageRow]
	w := &coveragePart{whole: widgets.NewText(lang.X("record.inwhole", "Choose a line to read it in full.")), table: widgets.NewTable(func(r shop.CoverageRow) string { return r.ID },
		col{Key: "by", Title: lang.X("record.by", "Each valued by"), Width: 170, Text: func(r shop.CoverageRow) string { return widgets.Capital(widgets.Say(r.By)) }},
		col{Key: "promised", Title: lang.X("record.promised", "Meant to hold"), Align: fyne.TextAlignTrailing, Text: func(r shop.CoverageRow) string { return r.Promised },
			Less: func(a, b shop.CoverageRow) bool { return a.Level < b.Level }},
		col{Key: "kept", Title: lang.X("record.kept", "Held"), Align: fyne.TextAlignTrailing, Text: func(r shop.CoverageRow) string { return r.Kept },
			Less: func(a, b shop.CoverageRow) bool { return a.Achieved < b.Achieved }},
		col{Key: "held", Title: lang.X("record.held", "Sales"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.CoverageRow) string {
				return lang.X("record.of", "{{.Held}} of {{.Count}}", map[string]any{"Held": r.Held(), "Count": r.Count})
			}, Less: func(a, b shop.CoverageRow) bool { return a.Held() < b.Held() }},
		col{Key: "words", Title: lang.X("record.words", "Which is"), Grow: true, Text: func(r shop.CoverageRow) string { return widgets.Say(r.Words) }},
	).HideFilter()}
	w.table.Keep(p.shop, "record.coverage", p.host.Failed)
	w.table.OnSelected = func(r shop.CoverageRow) {
		w.whole.SetText(lang.X("record.coverage.whole", "Bands meant to hold {{.Meant}}, each sale valued by {{.By}}: {{.Held}} of {{.Count}} held, {{.Words}}.", map[string]any{
			"Meant": widgets.Say(r.Meant), "By": widgets.Say(r.By), "Held": r.Held(), "Count": r.Count, "Words": widgets.Say(r.Words)}))
		p.frame.Reflow()
	}
	w.fold = widgets.NewFold(lang.X("record.coverage", "How often the bands held"), widgets.Column(look.Gap, widgets.Tall(224, w.table), w.whole,
		widgets.NewQuiet(lang.X("record.coverage.by", "Valued by all the others, a sale is also seen by the light of what came later; valued by the earlier ones only, it is seen as on its day, from as few sales as there then were.")),
		widgets.NewQuiet(lang.X("record.coverage.words", "A band that is right holds about as often as it says, no less and no more: one that always holds is too wide to be of use.")))).Opened()
	return w
}

func (w *coveragePart) show(a shop.RecordAnswer) { w.table.SetRows(a.Coverage) }

// effectsPart is what moves the price.
type effectsPart struct {
	fold    *widgets.Fold
	picture *picture.EffectPicture
	table   *widgets.Table[shop.EffectRow]
	whole   *widgets.Text
}

func newEffectsPart(p *Screen) *effectsPart {
	type col = widgets.TableColumn[shop.EffectRow]
	w := &effectsPart{picture: picture.NewEffectPicture(), whole: widgets.NewText(lang.X("record.inwhole", "Choose a line to read it in full."))}
	w.table = widgets.NewTable(func(r shop.EffectRow) string { return r.Key },
		col{Key: "name", Title: lang.X("record.difference", "Difference"), Width: 240, Grow: true, Text: func(r shop.EffectRow) string { return widgets.Capital(widgets.Say(r.Name)) }},
		col{Key: "change", Title: lang.X("record.change", "Price"), Align: fyne.TextAlignTrailing, Text: func(r shop.EffectRow) string { return widgets.Say(r.Change) },
			Less: func(a, b shop.EffectRow) bool { return a.Mid < b.Mid }},
		col{Key: "range", Title: lang.X("record.range", "Eight times in ten"), Text: func(r shop.EffectRow) string { return widgets.Say(r.Range) },
			Less: func(a, b shop.EffectRow) bool { return spread(a.Effect) < spread(b.Effect) }},
		col{Key: "rests", Title: lang.X("record.rests", "Rests on"), Width: 200, Grow: true, Text: func(r shop.EffectRow) string { return widgets.Say(r.Rests) }, Tone: restsTone},
	)
	w.table.Keep(p.shop, "record.effects", p.host.Failed)
	w.table.OnSelected = func(r shop.EffectRow) {
		w.whole.SetText(lang.X("record.effect", "{{.Words}} ({{.Rests}}).", map[string]any{"Words": widgets.Capital(widgets.Say(r.Words)), "Rests": widgets.Say(r.Rests)}))
		p.frame.Reflow()
	}
	w.fold = widgets.NewFold(lang.X("record.effects", "What moves the price"), widgets.Column(look.Gap, w.picture,
		widgets.NewQuiet(lang.X("record.effects.words", "Each line is one difference with all else the same, in per cent of the price. Where your own sales say little, the line is what the trade believes, and is told as that.")),
		widgets.Tall(330, w.table), w.whole)).Opened()
	return w
}

func restsTone(r shop.EffectRow) fyne.ThemeColorName {
	if r.Prior {
		return look.Quiet
	}
	return look.Plain
}

// spread orders effects by how closely they are known.
func spread(e valuation.Effect) float64 { return e.High / e.Low }

func (w *effectsPart) show(a shop.RecordAnswer) {
	rows := make([]picture.Effect, len(a.Effects))
	for i, e := range a.Effects {
		rows[i] = picture.Effect{Name: widgets.Capital(widgets.Say(e.Name)), Low: e.Low, Mid: e.Mid, High: e.High, Prior: e.Prior,
			Words: lang.X("record.effect.read", "{{.Change}}; eight times in ten {{.Range}}", map[string]any{"Change": widgets.Say(e.Change), "Range": widgets.Say(e.Range)})}
	}
	w.picture.SetEffects(rows)
	w.table.SetRows(a.Effects)
}

// salesPart is each sale beside the band that the others gave it.
type salesPart struct {
	fold  *widgets.Fold
	table *widgets.Table[valuation.TrackRow]
}

func newSalesPart(p *Screen) *salesPart {
	type col = widgets.TableColumn[valuation.TrackRow]
	c, order := p.shop.Currency(), widgets.DateOrder(p.shop.DateOrder())
	w := &salesPart{table: widgets.NewTable(func(r valuation.TrackRow) string { return r.Sale.ID },
		col{Key: "sold", Title: lang.X("column.sold", "Sold"), Text: func(r valuation.TrackRow) string { return widgets.FormatDay(r.Sale.Sold, order) },
			Less: func(a, b valuation.TrackRow) bool { return a.Sale.Sold < b.Sale.Sold }},
		col{Key: "motor", Title: lang.X("column.motor", "Motor"), Grow: true, Text: func(r valuation.TrackRow) string { return r.Sale.Motor.Name() }},
		col{Key: "price", Title: lang.X("column.price", "Price"), Align: fyne.TextAlignTrailing, Text: func(r valuation.TrackRow) string { return c.Short(r.Sale.Price) },
			Less: func(a, b valuation.TrackRow) bool { return a.Sale.Price < b.Sale.Price }},
		col{Key: "middle", Title: lang.X("column.middle", "Predicted"), Align: fyne.TextAlignTrailing, Text: func(r valuation.TrackRow) string { return c.Whole(r.Mid) },
			Less: func(a, b valuation.TrackRow) bool { return a.Mid < b.Mid }},
		col{Key: "band", Title: lang.X("column.band", "Eight times in ten"), Align: fyne.TextAlignTrailing,
			Text: func(r valuation.TrackRow) string {
				return lang.X("sold.range", "{{.Low}} – {{.High}}", map[string]any{"Low": c.Whole(r.Low), "High": c.Whole(r.High)})
			}, Less: func(a, b valuation.TrackRow) bool { return a.Low < b.Low }},
		col{Key: "held", Title: lang.X("column.outcome", "Band"), Text: func(r valuation.TrackRow) string { return widgets.Say(shop.OutcomeOf(r).Name()) },
			Less: func(a, b valuation.TrackRow) bool { return a.PIT < b.PIT },
			Tone: func(r valuation.TrackRow) fyne.ThemeColorName {
				if r.Inside {
					return look.Plain
				}
				return look.Warn
			}},
	)}
	w.table.SortBy("sold", true)
	w.table.Keep(p.shop, "record.sales", p.host.Failed)
	w.table.OnSelected = func(r valuation.TrackRow) { p.track.Choose(r.Sale.ID) }
	w.table.OnOpen = func(r valuation.TrackRow) { p.host.Go(widgets.SoldScreen, r.Sale.ID) }
	w.fold = widgets.NewFold(lang.X("record.sales", "Sale by sale"), widgets.Column(look.Gap, widgets.Tall(380, w.table),
		widgets.NewQuiet(lang.X("record.sales.words", "Return or a second tap on a sale opens it under Sold."))))
	return w
}

func (w *salesPart) show(a shop.RecordAnswer) { w.table.SetRows(a.Track.Rows) }

// chosen is the id of the sale marked, "" for none.
func (w *salesPart) chosen() string { return w.table.SelectedID() }
