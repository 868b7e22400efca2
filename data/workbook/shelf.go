package workbook

import (
	"slices"

	"skegworth/costing"
	"skegworth/valuation/say"
)

// shelf is the sheet of shelf goods: what each was worth at the start, what was bought, drawn and missed,
// and what is left.
func (b *book) shelf() *table {
	t := &table{
		name:  "Shelf",
		about: say.New("workbook.about.shelf", "shelf goods: there, bought, drawn, missed and left"),
		title: say.New("workbook.shelf.title", "Shelf goods, {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.shelf.note",
			"At cost, each draw by the method it was made by. Differences are what counts found more than the records said, or less.")},
		empty: say.New("workbook.shelf.none", "Nothing is on the shelf."),
		columns: []column{
			{key: "good", head: say.New("workbook.col.good", "Good"), widest: 30},
			{key: "unit", head: say.New("workbook.col.unit", "Unit")},
			{key: "was", head: say.New("workbook.col.was", "There at the start"), kind: measure},
			{key: "opening", head: say.New("workbook.col.opening", "Worth at the start"), kind: amount, foot: added},
			{key: "bought", head: say.New("workbook.col.bought.shelf", "Bought"), kind: amount, foot: added},
			{key: "drawn", head: say.New("workbook.col.drawn", "Drawn"), kind: amount, foot: added},
			{key: "taken", head: say.New("workbook.col.taken", "Taken for private use"), kind: amount, foot: added},
			{key: "down", head: say.New("workbook.col.goodsdown", "Written down"), kind: amount, foot: added},
			{key: "difference", head: say.New("workbook.col.difference", "Differences"), kind: amount, foot: added},
			{key: "closing", head: say.New("workbook.col.closing", "Worth at the end"), kind: amount,
				formula: "{opening}+{bought}-{drawn}-{taken}-{down}+{difference}", foot: added},
			{key: "left", head: say.New("workbook.col.left", "There at the end"), kind: measure},
			{key: "reorder", head: say.New("workbook.col.reorder", "Reorder at"), kind: measure},
		},
	}
	p := b.Review.Period
	moves := make(map[string][]costing.Move)
	for _, m := range b.Moves {
		moves[m.GoodID] = append(moves[m.GoodID], m)
	}
	var rows [][]any
	for _, g := range b.goods() {
		start, end := costing.StockOf(g, moves[g.ID], p.From-1), costing.StockOf(g, moves[g.ID], p.To)
		var reorder any
		if g.Reorder > 0 {
			reorder = g.Reorder
		}
		rows = append(rows, []any{g.Name, g.Unit, start.Quantity, start.Value,
			end.BoughtFor - start.BoughtFor, end.DrawnFor - start.DrawnFor,
			end.TakenFor - start.TakenFor, end.MarkedDown - start.MarkedDown, end.Differences - start.Differences,
			end.Value, end.Quantity, reorder})
	}
	t.rows(rows)
	return t
}

// goods are those of the shop, and one by its key for each that moves speak of and the shop no longer
// has, as the review counts them.
func (b *book) goods() []costing.Good {
	out := slices.Clone(b.Goods)
	known := make(map[string]bool)
	for _, g := range out {
		known[g.ID] = true
	}
	for _, m := range b.Moves {
		if !known[m.GoodID] {
			known[m.GoodID] = true
			out = append(out, costing.Good{ID: m.GoodID, Name: m.GoodID})
		}
	}
	return out
}
