package shop

import (
	"math"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// The sentences here say what something on the shelf would come to before it is booked. They are empty
// while what was typed cannot be booked.

// RestockSentence says what a purchase costs a unit, beside what the last one did.
func (s *Shop) RestockSentence(goodID string, quantity float64, unit string, paid money.Amount) say.Sentence {
	g, err := s.good(goodID)
	if err != nil || paid <= 0 {
		return say.Sentence{}
	}
	q, err := inUnit(g, quantity, unit)
	if err != nil {
		return say.Sentence{}
	}
	each := costing.UnitCost(float64(paid) / q)
	stock := costing.StockOf(g, s.moves(goodID), 0)
	if stock.LastBought == 0 {
		return say.New("restock.first", "That is {{.Each}}.", "Each", s.aUnit(each, g.Unit))
	}
	return say.New("restock.each", "That is {{.Each}}; the last was {{.Last}}.", "Each", s.aUnit(each, g.Unit), "Last", s.UnitCost(stock.LastCost))
}

// UseSentence says what taking so much off the shelf would be charged, and what is left then.
func (s *Shop) UseSentence(goodID string, quantity float64, unit string) say.Sentence {
	g, err := s.good(goodID)
	if err != nil {
		return say.Sentence{}
	}
	q, err := inUnit(g, quantity, unit)
	if err != nil {
		return say.Sentence{}
	}
	moves := s.moves(goodID)
	stock := costing.StockOf(g, moves, 0)
	cost := costing.CostOfDraw(g, moves, costing.Move{On: s.Today(), Quantity: q, By: s.Settings().By})
	pairs := []any{"Cost", s.currency.Format(cost), "Left", costing.Measure(math.Abs(stock.Quantity-q), g.Unit), "There", costing.Measure(max(stock.Quantity, 0), g.Unit)}
	switch {
	case !stock.Priced:
		return say.New("use.unpriced", "No cost is known yet, so it is charged at nothing.")
	case q > stock.Quantity+1e-6:
		return say.New("use.beyond", "Charged at {{.Cost}}. The records say only {{.There}} is there: it is booked all the same, and the count is then off by {{.Left}}.", pairs...)
	}
	return say.New("use.cost", "Charged at {{.Cost}}, which leaves {{.Left}}.", pairs...)
}

// CountSentence says what a count would find or miss, and what that is worth.
func (s *Shop) CountSentence(goodID string, quantity float64, on day.Day) say.Sentence {
	g, err := s.good(goodID)
	if err != nil || !(quantity >= 0) || math.IsInf(quantity, 0) {
		return say.Sentence{}
	}
	moves := s.moves(goodID)
	on = orToday(on, s)
	records := costing.StockOf(g, moves, on).Quantity
	worth := costing.CountDifference(g, moves, costing.Move{GoodID: goodID, Kind: costing.Counted, On: on, Quantity: quantity, By: s.Settings().By})
	over := quantity - records
	pairs := []any{"Records", costing.Measure(records, g.Unit), "Difference", costing.Measure(math.Abs(over), g.Unit), "Worth", s.currency.Format(max(worth, -worth))}
	switch {
	case math.Abs(over) < 1e-6:
		return say.New("count.right", "The records say {{.Records}} too.", pairs...)
	case over > 0:
		return say.New("count.found", "The records say {{.Records}}: {{.Difference}} more is there, worth {{.Worth}}.", pairs...)
	}
	return say.New("count.missed", "The records say {{.Records}}: {{.Difference}} is missing, worth {{.Worth}}.", pairs...)
}
