package workbook

import (
	"fmt"

	"skegworth/costing/review"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

var (
	writeDown = say.New("workbook.stock.writedown", "write down")
	takeBack  = say.New("workbook.stock.takeback", "take back")
	asItIs    = say.New("workbook.stock.asitis", "as it is")
	worthGone = say.New("workbook.stock.notknown", "not known")
)

// stock is the sheet of what stands in the shop at the period's end, line by line at the lower of cost and
// what it will bring.
func (b *book) stock(g *ledger, lines *table) *table {
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
	down, up, as, unknown := b.Say(writeDown), b.Say(takeBack), b.Say(asItIs), b.Say(worthGone)
	t := &table{
		name:  "Stock",
		about: say.New("workbook.about.stock", "what stands in the shop, at cost and at what it will bring"),
		title: say.New("workbook.stock.title", "Stock on {{.Day}}, at the lower of cost and what it will bring", "Day", on.String()),
		notes: []say.Sentence{say.New("workbook.stock.note",
			"What it will bring is the price expected less what it still costs to finish and to sell (IAS 2 paras 6, 9 and 28 to 33). Write-downs to come are in no figure of the year until they are booked.")},
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
			{key: "taken-off", head: say.New("workbook.col.takenoff", "Written down so far"), kind: amount, foot: added},
			{key: "basis", head: say.New("workbook.col.basis", "What it will bring rests on"), widest: 34},
			{key: "price", head: say.New("workbook.col.expected", "Price expected"), kind: amount, only: onlyNumber},
			{key: "finish", head: say.New("workbook.col.finish", "Still to finish"), kind: amount, only: onlyNumber},
			{key: "selling", head: say.New("workbook.col.tosell", "To sell"), kind: amount, only: onlyNumber},
			{key: "net", head: say.New("workbook.col.nrv", "Will bring"), kind: amount, formula: "MAX(0,{price}-{finish}-{selling})"},
			{key: "down", head: say.New("workbook.col.todown", "To write down"), kind: amount, formula: "MAX(0,{cost}-{net})", foot: added},
			{key: "up", head: say.New("workbook.col.toup", "To take back"), kind: amount, formula: "MAX(0,MIN({taken-off},{net}-{cost}))", foot: added},
			{key: "lower", head: say.New("workbook.col.lower", "At the lower"), kind: amount, formula: "{cost}-{down}+{up}", foot: added},
			{key: "mark", head: say.New("workbook.col.todo", "To do"),
				formula: fmt.Sprintf("IF({down}>0,%s,IF({up}>0,%s,%s))", text(down), text(up), text(as))},
		},
		marks: []marked{{"mark", down, true}},
		count: len(b.Review.ClosingStock),
	}
	t.row = func(i int, out []any) []any {
		l := &b.Review.ClosingStock[i]
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
		cost := b.standingOf(lines, g, l)
		out = append(out, l.Name, l.Tag, b.Say(stockName(l.What)), stage, quantity, l.Unit, since, days, cost, l.WrittenDown)
		r := &l.Realisable
		lower := l.Lower()
		if !r.Known() {
			return append(out, unknown, nil, nil, nil, nil, nil, nil, cell{value: lower, formula: fmt.Sprintf("%s%d", t.letter("cost"), t.firstRow()+i)}, nil)
		}
		mark := as
		if r.Down > 0 {
			mark = down
		} else if r.Up > 0 {
			mark = up
		}
		out = append(out, b.Say(basisName(r.Basis)), r.Price, r.Finish, r.Selling)
		if r.Net != max(0, r.Price-r.Finish-r.Selling) || r.Down != max(0, l.Cost-r.Net) || r.Up != max(0, min(l.WrittenDown, r.Net-l.Cost)) {
			// As for shelf goods whose motors bring back their cost: what they would bring by themselves does not count.
			plain := func(v any) cell { return cell{value: v} }
			return append(out, plain(r.Net), plain(r.Down), plain(r.Up), lower, mark)
		}
		return append(out, r.Net, r.Down, r.Up, lower, mark)
	}
	return t
}

// standingOf is what a line of the stock carries: the sum of the lines that stand in it.
func (b *book) standingOf(lines *table, g *ledger, l *review.StockLine) cell {
	what, figure := review.OfMotor, review.ClosingMotors
	switch l.What {
	case review.ShelfStock:
		what, figure = review.OfGood, review.ClosingShelf
	case review.ThingStock:
		what, figure = review.OfPiece, review.ClosingThings
	}
	c := b.standing(lines, g, what, l.ID, figure)
	if c.value != l.Cost {
		b.tie("stock of "+l.Name, c.value, l.Cost)
		return cell{value: l.Cost}
	}
	return c
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

// basisName is what a net realisable value rests on, as a label.
func basisName(k review.Basis) say.Sentence {
	switch k {
	case review.ByMarket:
		return say.New("workbook.basis.market", "own sales")
	case review.ByOrder:
		return say.New("workbook.basis.order", "price agreed with a buyer")
	case review.ByLaterSale:
		return say.New("workbook.basis.later", "sold since")
	case review.ByParts:
		return say.New("workbook.basis.parts", "its parts, by their chances")
	case review.ByValue:
		return say.New("workbook.basis.value", "what it would sell for")
	case review.ForUse:
		return say.New("workbook.basis.use", "for motors that bring it back")
	case review.Replacement:
		return say.New("workbook.basis.replace", "last price paid")
	}
	return worthGone
}
