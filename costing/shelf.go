package costing

import (
	"math"
	"slices"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// UnitCost is the cost of one unit of a good in minor units, not rounded: a millilitre of oil costs a
// fraction of a cent.
type UnitCost float64

// For is the cost of a quantity, to the nearest minor unit.
func (c UnitCost) For(quantity float64) money.Amount { return money.Round(float64(c) * quantity) }

// Stock is what is on the shelf of one good. How a draw is costed, by moving weighted average or first-in
// first-out (IAS 2 paras 25 and 27), is written in the draw: a shop that changes its method changes no
// draw that was made. To the minor unit, always,
//
//	BoughtFor + Differences = DrawnFor + TakenFor + MarkedDown + Value
type Stock struct {
	Quantity float64      // by the records, in the good's own unit; below 0 when more was drawn than was there
	Value    money.Amount // what it cost; below 0 while Quantity is
	UnitCost UnitCost     // Value / Quantity, or LastCost when none is left
	LastCost UnitCost     // of the latest purchase, or of the first count when nothing was ever bought
	Lots     []Lot        // what is left of each purchase, the oldest first; they add up to Quantity and Value

	Low        bool // at or below the good's reorder mark
	CountIsOff bool // more was drawn than was there, and it has not been counted since
	Priced     bool // some cost is known; else draws cost nothing until one is

	BoughtFor   money.Amount // paid for all purchases, less what came back for goods sent back
	DrawnFor    money.Amount // what all draws were charged at, less what was put back
	TakenFor    money.Amount // taken for private use
	MarkedDown  money.Amount // written down
	Differences money.Amount // value that counts and corrections found (+) or missed (-)
	LastBought  day.Day
}

// StockOf replays the moves of a good to the end of a day; day 0 takes everything. Moves of other goods
// are passed over. Moves are taken by day, and within a day in the order given.
//
// A draw leaves at the cost it was booked at, which is what the motor was charged, so that a receipt
// found late does not change what a past motor cost; CostOfDraw gives that cost when the draw is made.
// What is put back comes in at the cost it went out at, and what is sent back goes out at what came back
// for it. A count sets the quantity; the value of the difference is worked out here by the count's own
// method, and a count's own Cost is only used where no cost is known, as for what stood on the shelf at
// the start.
// Where more was drawn than was there, the next purchase first makes up for it, and what that cost
// more or less than was charged is a difference.
func StockOf(good Good, moves []Move, until day.Day) Stock { return StockEach(good, moves, until, nil) }

// StockEach is StockOf, and shows the stock as it is after each move.
func StockEach(good Good, moves []Move, until day.Day, each func(m *Move, now *Stock)) Stock {
	own := make([]*Move, 0, len(moves))
	for i := range moves {
		if m := &moves[i]; m.GoodID == good.ID && (until == 0 || m.On <= until) {
			own = append(own, m)
		}
	}
	slices.SortStableFunc(own, func(a, b *Move) int { return int(a.On - b.On) })
	var s Stock
	for i, m := range own {
		s.apply(m)
		endOfDay := i == len(own)-1 || own[i+1].On != m.On
		if endOfDay && s.Quantity < 0 {
			s.CountIsOff = true
		}
		if each != nil {
			each(m, &s)
		}
	}
	s.settle()
	s.UnitCost = s.average()
	s.Low = good.Reorder > 0 && s.Quantity <= good.Reorder
	return s
}

func (s *Stock) apply(m *Move) {
	quantity := m.Quantity
	if !(quantity > 0) || math.IsInf(quantity, 0) {
		quantity = 0 // no such quantity can be bought, drawn or counted; its cost still stands
	}
	switch m.Kind {
	case Bought:
		s.buy(quantity, m)
	case Drawn:
		s.DrawnFor += m.Cost
		s.leave(quantity, m.Cost, "")
	case TakenHome:
		s.TakenFor += m.Cost
		s.leave(quantity, m.Cost, "")
	case SentBack:
		s.BoughtFor -= m.Cost
		s.leave(quantity, m.Cost, m.Undoes)
	case PutBack:
		s.DrawnFor -= m.Cost
		s.come(quantity, m.Cost, m, true)
	case MarkedDown:
		s.MarkedDown += m.Cost
		s.set(s.Quantity, s.Value-m.Cost)
	case Counted:
		s.count(quantity, m)
	}
}

// leave takes a quantity off at a cost, from the lot of that move first.
func (s *Stock) leave(quantity float64, cost money.Amount, first string) {
	s.lots().lift(quantity, first)
	s.set(s.Quantity-quantity, s.Value-cost)
}

// come puts a quantity on at a cost: as the newest lot, or as the oldest when it was there before. What
// was used before it was there has taken its share of it already.
func (s *Stock) come(quantity float64, cost money.Amount, m *Move, before bool) {
	s.settle()
	there := quantity
	carries := cost
	if s.Quantity < 0 {
		there = settled(max(0, s.Quantity+quantity))
		if quantity > 0 {
			carries = cost.Times(there / quantity)
		}
	}
	s.set(s.Quantity+quantity, s.Value+cost)
	if !(there > 0) {
		return
	}
	l := Lot{MoveID: m.ID, On: m.On, Supplier: m.Supplier, Bought: quantity, Paid: cost, Left: there, Value: carries}
	if before {
		s.Lots = slices.Insert(s.Lots, 0, l)
		return
	}
	s.Lots = append(s.Lots, l)
}

func (s *Stock) lots() *lots { return (*lots)(&s.Lots) }

func (s *Stock) buy(quantity float64, m *Move) {
	paid := m.Cost
	s.BoughtFor += paid
	s.LastBought = m.On
	if quantity > 0 {
		s.LastCost = UnitCost(float64(paid) / quantity)
		s.Priced = true
	}
	cost := paid
	if s.Quantity < 0 {
		// Part of this purchase was used before it was booked. It takes the place of what the draws
		// were charged.
		missing := -s.Quantity
		covered := min(missing, quantity)
		charged := s.Value.Times(covered / missing)
		bears := s.LastCost.For(covered)
		if covered == quantity {
			bears = paid
		}
		s.Differences -= bears + charged
		s.Value -= charged // what the draws were charged is made up for
		cost -= bears
		s.Quantity += covered
		s.come(settled(quantity-covered), cost, m, false)
		return
	}
	s.come(quantity, cost, m, false)
}

func (s *Stock) count(quantity float64, m *Move) {
	value, worth := s.Value, m.Cost
	over := settled(quantity - s.Quantity)
	switch {
	case !s.Priced:
		value = s.Value + worth
		if quantity > 0 && worth != 0 {
			s.LastCost = UnitCost(float64(value) / quantity)
			s.Priced = true
		}
	case over == 0:
	case m.By == FirstIn && s.Quantity > 0 && over < 0:
		s.settle()
		value -= s.lots().oldest(-over)
	case m.By == FirstIn && s.Quantity > 0:
		value += s.newest().For(over)
	default:
		value = s.average().For(quantity)
	}
	s.Differences += value - s.Value
	s.CountIsOff = false
	if s.Quantity < 0 {
		s.Lots, s.Quantity, over = nil, 0, quantity
	}
	if over < 0 {
		s.lots().lift(-over, "")
	} else if over > 0 {
		found := s.average().For(over)
		s.Lots = append(s.Lots, Lot{MoveID: m.ID, On: m.On, Bought: over, Paid: found, Left: over, Value: found})
	}
	s.set(quantity, value)
	s.settle()
}

// newest is the cost of one unit of the latest purchase that something is left of.
func (s *Stock) newest() UnitCost {
	if n := len(s.Lots); n > 0 && s.Lots[n-1].Left > 0 {
		s.settle()
		l := s.Lots[n-1]
		return UnitCost(float64(l.Value) / l.Left)
	}
	return s.LastCost
}

// set puts quantity and value down. Nothing on the shelf is worth nothing: what value a correction left
// behind is a difference.
func (s *Stock) set(quantity float64, value money.Amount) {
	s.Quantity = settled(quantity)
	s.Value = value
	if s.Quantity == 0 {
		s.Differences -= value
		s.Value = 0
		s.Lots = nil
	}
}

// average is the cost of one unit now.
func (s *Stock) average() UnitCost {
	if s.Quantity > 0 && s.Value >= 0 {
		return UnitCost(float64(s.Value) / s.Quantity)
	}
	return s.LastCost
}

// settled takes the dust of unit conversions for nothing: a millionth of any unit goods are counted in
// cannot be seen.
func settled(q float64) float64 {
	if math.Abs(q) < 1e-6 {
		return 0
	}
	return q
}

// CostOfDraw is what a draw made after the given moves is charged by its method: its share of the value by
// the moving average, or what the oldest purchases carry. A draw that empties the shelf takes all the
// value that is left; what is drawn beyond the count goes at the last known cost. A draw is never refused.
//
// A draw written down later than it was made is charged by what was there on its day, if that was enough.
func CostOfDraw(good Good, moves []Move, draw Move) money.Amount {
	if draw.On != 0 {
		then := StockOf(good, moves, draw.On)
		if then.Priced && settled(then.Quantity-draw.Quantity) >= 0 {
			return then.CostOf(draw.By, draw.Quantity)
		}
	}
	return StockOf(good, moves, 0).CostOf(draw.By, draw.Quantity)
}

// CostOf is what drawing the quantity from this stock is charged; see CostOfDraw.
func (s Stock) CostOf(by Method, quantity float64) money.Amount {
	if !(quantity > 0) {
		return 0
	}
	if s.Quantity <= 0 || s.Value < 0 {
		return s.LastCost.For(quantity)
	}
	beyond := settled(quantity - s.Quantity)
	if beyond >= 0 {
		return s.Value + s.LastCost.For(beyond)
	}
	if by == FirstIn {
		return lots(s.Lots).oldest(quantity)
	}
	return min(s.average().For(quantity), s.Value)
}

// CountDifference is the value that a count made after the given moves finds (+) or misses (-).
func CountDifference(good Good, moves []Move, count Move) money.Amount {
	all := append(slices.Clone(moves), count)
	return StockOf(good, all, 0).Differences - StockOf(good, moves, 0).Differences
}

// Warnings says what is wrong with the stock of the good.
func (s Stock) Warnings(good Good) []say.Sentence {
	var all []say.Sentence
	if s.CountIsOff {
		all = append(all, say.New("shelf.count-off",
			"{{.Good}}: the count is off. More was drawn than was there; draws go at the last known cost until it is counted.",
			"Good", good.Name))
	}
	if !s.Priced && s.Quantity != 0 {
		all = append(all, say.New("shelf.no-cost",
			"{{.Good}}: no cost is known, so draws are charged at nothing until a purchase is written down.", "Good", good.Name))
	}
	if s.Low {
		all = append(all, say.New("shelf.low", "{{.Good}} is down to {{.Quantity}}.",
			"Good", good.Name, "Quantity", Measure(s.Quantity, good.Unit)))
	}
	return all
}
