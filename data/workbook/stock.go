package workbook

import (
	"fmt"

	"skegworth/costing/review"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// stock is the sheet of what stands in the shop at the period's end, line by line at cost.
func (b *book) stock() *table {
	end := b.Review.Period.To
	until := end // while the period runs, days are counted to the day the review was made
	for _, l := range b.Review.ClosingStock {
		if l.DaysKnown && l.Days > 0 {
			until = l.Since + day.Day(l.Days)
			break
		}
	}
	on := end
	if b.Today != 0 && b.Today < end {
		on = b.Today
	}
	t := &table{
		name:  "Stock",
		title: say.New("workbook.stock.title", "Stock on {{.Day}}, at cost", "Day", on.String()),
		notes: []say.Sentence{say.New("workbook.stock.note",
			"Motors by what each cost, shelf goods by the shop's method, less what was written down by hand: look for what would not bring its cost.")},
		empty: say.New("workbook.stock.none", "Nothing is in stock."),
		columns: []column{
			{key: "name", head: say.New("workbook.col.item", "Motor or good"), widest: 32},
			{key: "tag", head: say.New("workbook.col.tag", "Tag")},
			{key: "what", head: say.New("workbook.col.what", "What")},
			{key: "stage", head: say.New("workbook.col.stage", "Stands as, today"), widest: 18},
			{key: "quantity", head: say.New("workbook.col.quantity", "Quantity"), kind: measure},
			{key: "unit", head: say.New("workbook.col.unit", "Unit")},
			{key: "since", head: say.New("workbook.col.since", "Bought, or last bought"), kind: date},
			{key: "days", head: say.New("workbook.col.held", "Days held"), kind: whole,
				formula: fmt.Sprintf("MAX(0,DATE(%d,%d,%d)-{since})", until.Year(), until.Month(), until.Time().Day())},
			{key: "cost", head: say.New("workbook.col.cost.each", "Cost"), kind: amount, foot: added},
		},
	}
	for _, l := range b.Review.ClosingStock {
		var quantity, since, days any = nil, b.Say(notKnown), nil
		var stage string
		if l.What == review.ShelfStock {
			quantity = l.Quantity
		} else if l.What != review.ThingStock {
			stage = b.Say(l.Stage.Name())
		}
		if l.DaysKnown {
			since, days = l.Since, l.Days
		}
		t.rows = append(t.rows, []any{l.Name, l.Tag, b.Say(stockName(l.What)), stage, quantity, l.Unit, since, days, l.Cost})
	}
	b.tie("closing stock", t.totalValue("cost"), b.Review.Schedule.Closing)
	return t
}

// stockName is what kind of stock a line is, as a label.
func stockName(k review.StockKind) say.Sentence {
	switch k {
	case review.MotorStock:
		return say.New("workbook.stock.motor", "motor")
	case review.DonorStock:
		return say.New("workbook.stock.donor", "donor")
	case review.ThingStock:
		return say.New("workbook.stock.thing", "thing by itself")
	case review.ShelfStock:
		return say.New("workbook.stock.shelf", "shelf")
	}
	return say.New("workbook.stock.other", string(k))
}
