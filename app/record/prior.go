package record

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// priorPart is the trade prior, readable line by line.
type priorPart struct {
	fold  *widgets.Fold
	table *widgets.Table[shop.PriorWords]
	whole *widgets.Text
}

func newPriorPart(p *Screen) *priorPart {
	type col = widgets.TableColumn[shop.PriorWords]
	w := &priorPart{whole: widgets.NewText(lang.X("record.inwhole", "Choose a line to read it in full."))}
	w.table = widgets.NewTable(func(r shop.PriorWords) string { return r.Column },
		col{Key: "name", Title: lang.X("record.difference", "Difference"), Width: 220, Grow: true, Text: func(r shop.PriorWords) string { return widgets.Capital(widgets.Say(r.Name)) }},
		col{Key: "change", Title: lang.X("record.change", "Price"), Align: fyne.TextAlignTrailing, Text: func(r shop.PriorWords) string { return widgets.Say(r.Change) },
			Less: func(a, b shop.PriorWords) bool { return a.Mean*a.Step < b.Mean*b.Step }},
		col{Key: "range", Title: lang.X("record.range", "Eight times in ten"), Text: func(r shop.PriorWords) string { return widgets.Say(r.Range) },
			Less: func(a, b shop.PriorWords) bool { return a.Spread*a.Step < b.Spread*b.Step }},
		col{Key: "reason", Title: lang.X("record.reason", "Why"), Width: 220, Grow: true, Text: func(r shop.PriorWords) string { return widgets.Say(r.Reason) }},
		col{Key: "basis", Title: lang.X("record.basis", "Known from"), Text: func(r shop.PriorWords) string { return widgets.Say(r.Basis) }},
	)
	w.table.Keep(p.shop, "record.prior", p.host.Failed)
	w.table.OnSelected = func(r shop.PriorWords) {
		w.whole.SetText(widgets.Capital(widgets.Say(r.Words)))
		p.frame.Reflow()
	}
	w.fold = widgets.NewFold(lang.X("record.prior", "What is believed before any sale: the trade prior"), widgets.Column(look.Gap,
		widgets.NewQuiet(lang.X("record.prior.words", "None of this is data. It is what the trade holds to be so, from memory, or a cautious guess where not even that was at hand. Your own sales overrule it as they come in.")),
		widgets.Tall(360, w.table), w.whole))
	return w
}

func (w *priorPart) show(a shop.RecordAnswer) { w.table.SetRows(a.Prior) }

// anchorPart asks the one question that sets the level of all prices.
type anchorPart struct {
	fold  *widgets.Fold
	price *widgets.MoneyEntry
	field *widgets.Field
	shop  *shop.Shop
}

func newAnchorPart(p *Screen) *anchorPart {
	w := &anchorPart{shop: p.shop, price: widgets.NewMoneyEntry(p.shop.Currency())}
	w.price.OnValue = func(a money.Amount) error {
		if a == p.shop.Settings().Anchor {
			return nil
		}
		return p.shop.ChangeSettings(lang.X("record.anchor.field", "the anchor question"), func(s *costing.Settings) { s.Anchor = a })
	}
	w.field = widgets.NewField(lang.X("record.anchor.ask", "What would a plain running 50 hp, 15-year-old two-stroke bring around here?"), w.price)
	form := widgets.Column(look.Gap, widgets.NewForm(w.field),
		widgets.NewQuiet(lang.X("record.anchor.words", "One honest guess sets the level of every band until your own sales do. Answer it before the first sale; afterwards it matters less with each one.")))
	w.fold = widgets.NewFold(lang.X("record.anchor", "The anchor question"), form)
	return w
}

func (w *anchorPart) show(a shop.RecordAnswer) {
	w.price.SetValue(w.shop.Settings().Anchor)
	if len(a.Prior) > 0 {
		w.field.SetHint(widgets.Capital(widgets.Say(a.Prior[0].Reason)) + ".")
	}
}
