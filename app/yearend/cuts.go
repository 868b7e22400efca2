package yearend

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// cutsPart shows the motors sold by what they have in common.
type cutsPart struct {
	fold                       *widgets.Fold
	make, power, stroke, month *widgets.Table[review.Cut]
	none                       *widgets.Text
	all                        *fyne.Container
}

func newCutsPart(p *Screen) *cutsPart {
	k := &cutsPart{none: widgets.NewQuiet(lang.X("yearend.nosold", "No motor was sold in this year."))}
	c := p.shop.Currency()
	k.make, k.power = newCutTable(c, lang.X("column.make", "Make")), newCutTable(c, lang.X("column.power", "Power"))
	k.stroke, k.month = newCutTable(c, lang.X("column.stroke", "Stroke")), newCutTable(c, lang.X("column.month", "Month of sale"))
	k.all = widgets.Column(look.Wide, k.make.High(8), k.power.High(7), k.stroke.High(3), k.month.High(12))
	k.fold = widgets.NewFold(lang.X("yearend.cuts", "By make, power, stroke and month"), widgets.Column(look.Gap, k.none, k.all))
	return k
}

func newCutTable(c money.Currency, title string) *widgets.Table[review.Cut] {
	amount := func(key, title string, of func(review.Cut) money.Amount) widgets.TableColumn[review.Cut] {
		return widgets.TableColumn[review.Cut]{Key: key, Title: title, Align: fyne.TextAlignTrailing,
			Text: func(k review.Cut) string { return c.Format(of(k)) },
			Tone: func(k review.Cut) fyne.ThemeColorName { return toneOf(of(k)) },
			Less: func(a, b review.Cut) bool { return of(a) < of(b) }}
	}
	t := widgets.NewTable(func(k review.Cut) string { return widgets.Say(k.Name) },
		widgets.TableColumn[review.Cut]{Key: "name", Title: title, Grow: true, Text: func(k review.Cut) string { return widgets.Say(k.Name) }},
		widgets.TableColumn[review.Cut]{Key: "sold", Title: lang.X("column.sold", "Sold"), Align: fyne.TextAlignTrailing,
			Text: func(k review.Cut) string { return strconv.Itoa(k.Sold) }, Less: func(a, b review.Cut) bool { return a.Sold < b.Sold }},
		amount("price", lang.X("column.netsales", "Net sales"), func(k review.Cut) money.Amount { return k.NetSale }),
		amount("costs", lang.X("column.costs", "Costs"), func(k review.Cut) money.Amount { return k.Costs }),
		amount("before", lang.X("column.profit", "Profit"), func(k review.Cut) money.Amount { return k.BeforeOwnTime }),
		widgets.TableColumn[review.Cut]{Key: "perhour", Title: lang.X("column.rate", "Per hour"), Align: fyne.TextAlignTrailing,
			Text: func(k review.Cut) string { return perHour(c, k.Result) },
			Less: func(a, b review.Cut) bool { x, _ := a.PerOwnHour(); y, _ := b.PerOwnHour(); return x < y }},
		widgets.TableColumn[review.Cut]{Key: "margin", Title: lang.X("column.margin", "Margin"), Align: fyne.TextAlignTrailing,
			Text: func(k review.Cut) string { return share(k.Margin()) },
			Less: func(a, b review.Cut) bool { x, _ := a.Margin(); y, _ := b.Margin(); return x < y }},
	)
	return t.HideFilter()
}

func (k *cutsPart) show(y shop.Year) {
	r := y.Review
	k.make.SetRows(r.ByMake)
	k.power.SetRows(r.ByPower)
	k.stroke.SetRows(r.ByStroke)
	k.month.SetRows(r.ByMonth)
	k.none.Hidden, k.all.Hidden = len(r.Sold) > 0, len(r.Sold) == 0
}
