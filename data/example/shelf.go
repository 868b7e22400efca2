package example

import (
	"fmt"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// ware is a good on the example's shelf and how it is bought.
type ware struct {
	name     string
	unit     string
	reorder  float64
	lot      float64      // bought so many at a time
	each     money.Amount // a unit at first; it grows dearer by a twentieth with each purchase
	supplier string
	down     float64 // where not 0, what is left today, below the reorder mark
}

var wares = []ware{
	{"two-stroke oil", "qt", 4, 12, 465, "Harbour Supply", 3},
	{"four-stroke oil", "qt", 4, 12, 540, "Harbour Supply", 0},
	{"gear oil", "qt", 2, 6, 780, "Harbour Supply", 0},
	{"marine grease, tubes", "each", 1, 3, 690, "Tern & Tide", 0},
	{"gasket sealant, tubes", "each", 0.5, 2, 1125, "Northquay Spares", 0},
	{"spark plugs", "each", 6, 20, 345, "Northquay Spares", 0},
	{"fuel line", "ft", 6, 25, 215, "Tern & Tide", 0},
	{"fogging oil, cans", "each", 0.5, 2, 1095, "Harbour Supply", 0},
}

// countedBack is how many days ago the shelf was last counted.
const countedBack = 9

// shelf books every draw the jobs made, in order of day, with the purchases that kept the shelf full and
// the last count.
func (b *ledger) shelf() error {
	b.wanted = append(b.wanted, want{nil, "fuel line", 6, b.today - 100}) // a new hose for the test tank
	slices.SortStableFunc(b.wanted, func(x, y want) int { return int(x.on - y.on) })
	for _, w := range wares {
		var wants []want
		for _, x := range b.wanted {
			if x.good == w.name {
				wants = append(wants, x)
			}
		}
		if len(wants) == 0 {
			return fmt.Errorf("fill the example's shelf: nothing draws %s", w.name)
		}
		b.keep(w, wants)
	}
	return nil
}

// keep books one good.
func (b *ledger) keep(w ware, wants []want) {
	first := wants[0].on - 12
	good := costing.Good{ID: b.id(first), Name: w.name, Unit: w.unit, Reorder: w.reorder}
	b.goods = append(b.goods, good)
	opening, before, left := w.plan(wants)
	missing := 0.0 // what the count finds less than the records say
	if w.down > 0 {
		missing = left - w.down
	}

	var moves []costing.Move
	price := w.each
	buy := func(on day.Day, quantity float64) {
		moves = append(moves, costing.Move{ID: b.id(on), GoodID: good.ID, Kind: costing.Bought, On: on, Quantity: quantity,
			Cost: price.Times(quantity), Supplier: w.supplier})
		price = price.Times(1.05)
	}
	count := func() {
		on := b.today - countedBack
		s := costing.StockOf(good, moves, 0)
		m := costing.Move{ID: b.id(on), GoodID: good.ID, Kind: costing.Counted, On: on, Quantity: s.Quantity - missing}
		m.Cost = costing.CountDifference(good, moves, m)
		moves = append(moves, m)
	}

	buy(first, opening)
	counted := false
	for i, x := range wants {
		if !counted && x.on > b.today-countedBack {
			count()
			counted = true
		}
		if before[i] {
			buy(max(x.on-2, moves[len(moves)-1].On), w.lot)
		}
		motor := ""
		if x.record != nil {
			motor = x.record.ID
		}
		cost := costing.CostOfDraw(good, moves, costing.Move{On: x.on, Quantity: x.quantity})
		id := b.id(x.on) // the draw and the line on the motor share it
		moves = append(moves, costing.Move{ID: id, GoodID: good.ID, MotorID: motor, Kind: costing.Drawn, On: x.on,
			Quantity: x.quantity, Cost: cost})
		if x.record == nil {
			continue
		}
		x.record.Lines = append(x.record.Lines, costing.Line{ID: id, MotorID: motor, Kind: costing.Shelf, On: x.on,
			Text: w.name, Quantity: x.quantity, Unit: w.unit, Each: money.Round(float64(cost) / x.quantity), Total: cost, ShelfID: good.ID})
	}
	if !counted {
		count()
	}
	b.moves = append(b.moves, moves...)
}

// plan decides the first purchase, before which draws a lot is bought, and what is then left by the
// records: at the reorder mark a lot is bought, except that of a good that is to stand low today the
// shelf is let run down, and the first purchase is such that the end comes out within one of what is to
// be left.
func (w ware) plan(wants []want) (opening float64, before []bool, left float64) {
	run := func(opening, least float64) ([]bool, float64) {
		before := make([]bool, len(wants))
		left := opening
		for i, x := range wants {
			if left-x.quantity < least {
				before[i] = true
				left += w.lot
			}
			left -= x.quantity
		}
		return before, left
	}
	if w.down == 0 {
		before, left = run(w.lot, w.reorder*1.3)
		return w.lot, before, left
	}
	for opening = w.lot / 2; opening < 2*w.lot; opening++ {
		before, left = run(opening, 0)
		if over := left - w.down; over >= 0 && over < 1 {
			break
		}
	}
	return opening, before, left
}

// itoa writes a small whole number.
func itoa(n int) string { return fmt.Sprintf("%d", n) }
