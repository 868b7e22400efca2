package review

import (
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// drawnMoves are the costs of draws by id: a line of kind shelf with the id of one was drawn from the
// shelf, and one without was paid for by itself.
func drawnMoves(moves []costing.Move) map[string]money.Amount {
	drawn := make(map[string]money.Amount)
	for i := range moves {
		switch m := &moves[i]; {
		case m.ID == "":
		case m.Kind == costing.Drawn:
			drawn[m.ID] = m.Cost
		case m.Kind == costing.PutBack:
			drawn[m.ID] = -m.Cost
		}
	}
	return drawn
}

// fromShelf tells whether a line was drawn from the shelf; one booked now at another cost than the draw
// is noted.
func (y *yearbook) fromShelf(l *costing.Line, now bool) bool {
	if l.Kind != costing.Shelf || l.ID == "" {
		return false
	}
	cost, drawn := y.drawn[l.ID]
	if drawn && now && cost != l.Total {
		y.odd.differ++
	}
	return drawn
}

// expensed notes a draw whose cost is an expense of the period, so that the schedule can tell it from a
// draw that nobody was charged for.
func (y *yearbook) expensed(fromShelf bool, l *costing.Line) {
	if fromShelf {
		y.Schedule.ShelfExpensed += l.Total
	}
}

// shelf books the goods.
func (y *yearbook) shelf() {
	s := &y.Schedule
	var drawn money.Amount
	moves := make(map[string][]costing.Move)
	for _, m := range y.in.Moves {
		moves[m.GoodID] = append(moves[m.GoodID], m)
	}
	for _, good := range y.goods() {
		var opening costing.Stock
		if y.Period.From > 1 {
			opening = costing.StockOf(good, moves[good.ID], y.Period.From-1)
		}
		closing := costing.StockOf(good, moves[good.ID], y.Period.To)
		s.OpeningShelf += opening.Value
		s.ClosingShelf += closing.Value
		s.ShelfBought += closing.BoughtFor - opening.BoughtFor
		s.StockDifferences -= closing.Differences - opening.Differences
		drawn += closing.DrawnFor - opening.DrawnFor
		s.Drawings += closing.TakenFor - opening.TakenFor
		s.WrittenDown += closing.MarkedDown - opening.MarkedDown
		if closing.Quantity != 0 || closing.Value != 0 {
			y.ClosingStock = append(y.ClosingStock, y.shelfLine(good, closing))
		}
		for _, w := range closing.Warnings(good) {
			if w.Key != "shelf.low" { // news for the bench, not for the year
				y.Warnings = append(y.Warnings, w)
			}
		}
	}
	s.ShelfUsed = drawn - y.shelfTaken - s.ShelfExpensed
}

func (y *yearbook) shelfLine(good costing.Good, stock costing.Stock) StockLine {
	l := StockLine{ID: good.ID, Name: good.Name, What: ShelfStock, Quantity: stock.Quantity, Unit: good.Unit, Cost: stock.Value}
	if stock.LastBought != 0 {
		l.Since, l.Days, l.DaysKnown = stock.LastBought, int(max(y.until-stock.LastBought, day.Day(0))), true
	}
	return l
}

// goods are those given, and one without a name for each that moves speak of and nobody gave, so that
// no value is lost.
func (y *yearbook) goods() []costing.Good {
	known := make(map[string]bool, len(y.in.Goods))
	for _, g := range y.in.Goods {
		known[g.ID] = true
	}
	goods := y.in.Goods
	for i := range y.in.Moves {
		if id := y.in.Moves[i].GoodID; !known[id] {
			known[id] = true
			goods = append(goods[:len(goods):len(goods)], costing.Good{ID: id, Name: id})
		}
	}
	return goods
}
