package asking

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// nearPart holds the nearest sales beside this motor, made like it line by line.
type nearPart struct {
	fold  *widgets.Fold
	grid  *widgets.SideBySide
	words *widgets.Text
	money money.Currency
	order widgets.DateOrder
}

func newNearPart(p *Screen) *nearPart {
	w := &nearPart{grid: widgets.NewSideBySide(), words: widgets.NewQuiet(""), money: p.shop.Currency(), order: widgets.DateOrder(p.shop.DateOrder())}
	w.fold = widgets.NewFold(lang.X("asking.near", "Your nearest sales, made like this motor line by line"), widgets.Column(look.Wide, w.grid, w.words))
	return w
}

func (w *nearPart) show(a shop.AskAnswer) {
	g := a.Grid
	w.fold.SetSummary(lang.X("asking.near.count", "{{.Count}} {{if eq .Count 1}}sale{{else}}sales{{end}}", map[string]any{"Count": len(g.Columns)}))
	if len(g.Columns) == 0 {
		w.grid.SetRows(nil)
		w.words.SetText(lang.X("near.none", "No sales of your own yet."))
		return
	}
	w.words.SetText(lang.X("asking.near.how", "The most alike stands first. Each column adds up: what it was sold for, a line for every difference, and what it would have brought had it been this motor, sold today. \"Own\" differences are told mostly by your own sales, those of the \"trade\" mostly by the trade prior."))
	w.grid.SetRows(w.rows(g))
}

func (w *nearPart) rows(g valuation.Grid) []widgets.SideRow {
	head := widgets.SideRow{Bold: true}
	sold := widgets.SideRow{Name: widgets.SideCell{Words: lang.X("asking.near.sold", "Sold for")}}
	end := widgets.SideRow{Name: widgets.SideCell{Words: lang.X("asking.near.now", "As this motor, today")}, Bold: true, Ruled: true}
	for _, c := range g.Columns {
		head.Cells = append(head.Cells, widgets.SideCell{Words: c.Sale.Motor.Name(), Note: widgets.FormatDay(c.Sale.Sold, w.order)})
		sold.Cells = append(sold.Cells, widgets.SideCell{Words: w.money.Whole(c.Price)})
		end.Cells = append(end.Cells, widgets.SideCell{Words: w.money.Whole(c.Adjusted),
			Note: lang.X("asking.near.gross", "{{.Gross}} moved in all", map[string]any{"Gross": w.money.Whole(c.Gross)})})
	}
	rows := []widgets.SideRow{head, sold}
	for _, r := range g.Rows {
		row := widgets.SideRow{Name: widgets.SideCell{Words: widgets.Capital(widgets.Say(r.Name)), Note: widgets.Say(r.Subject)}}
		for _, c := range r.Cells {
			row.Cells = append(row.Cells, w.cell(c))
		}
		rows = append(rows, row)
	}
	return append(rows, end)
}

// cell is one difference: what it is worth, what it was in the sale, and what that rests on.
func (w *nearPart) cell(c valuation.GridCell) widgets.SideCell {
	if !c.Differs {
		return widgets.SideCell{Note: lang.X("asking.near.same", "the same")}
	}
	words := w.money.Whole(c.Money)
	if c.Money > 0 {
		words = "+" + words
	}
	named := map[string]any{"Theirs": widgets.Say(c.Theirs), "Sales": c.Sales}
	rests := lang.X("asking.near.own", "{{.Theirs}}; own, {{.Sales}} sales", named)
	switch {
	case c.Prior:
		rests = lang.X("asking.near.prior", "{{.Theirs}}; trade", named)
	case c.Sales == 1:
		rests = lang.X("asking.near.own-one", "{{.Theirs}}; own, one sale", named)
	}
	return widgets.SideCell{Words: words, Note: rests}
}
