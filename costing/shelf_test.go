package costing_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// shelf plays moves of one good as a shop would make them: draws at the cost they are given when made.
type shelf struct {
	good  costing.Good
	moves []costing.Move
	on    day.Day
	by    costing.Method
}

func newShelf(unit string) *shelf {
	return &shelf{good: costing.Good{ID: "g", Name: "gear oil", Unit: unit}, on: day.Of(2026, 1, 1)}
}

func (s *shelf) add(kind costing.MoveKind, quantity float64, cost money.Amount) {
	s.on++
	s.moves = append(s.moves, costing.Move{ID: fmt.Sprint("m", len(s.moves)), GoodID: "g", Kind: kind, On: s.on, Quantity: quantity, Cost: cost, By: s.by})
}

func (s *shelf) buy(quantity float64, paid money.Amount) { s.add(costing.Bought, quantity, paid) }

func (s *shelf) draw(quantity float64) money.Amount {
	cost := costing.CostOfDraw(s.good, s.moves, costing.Move{On: s.on + 1, Quantity: quantity, By: s.by})
	s.add(costing.Drawn, quantity, cost)
	return cost
}

func (s *shelf) count(quantity float64) money.Amount {
	m := costing.Move{GoodID: "g", Kind: costing.Counted, On: s.on + 1, Quantity: quantity, By: s.by}
	m.Cost = costing.CountDifference(s.good, s.moves, m)
	s.add(costing.Counted, quantity, m.Cost)
	return m.Cost
}

func (s *shelf) stock() costing.Stock { return costing.StockOf(s.good, s.moves, 0) }

// Weygandt, Kimmel, Kieso, Accounting Principles, inventory chapter: 100 at $10, 200 at $11, 300 at $12,
// a sale of 550, 400 at $13. Moving average 10.6667 after the second purchase, 11.3333 after the third;
// the 450 left at the end stand at $5,766.67.
func TestMovingAverageOfTheTextbook(t *testing.T) {
	s := newShelf("each")
	average := func(want float64) {
		t.Helper()
		if got := float64(s.stock().UnitCost) / 100; math.Abs(got-want) > 0.00005 {
			t.Errorf("average %.4f, want %.4f", got, want)
		}
	}
	s.buy(100, 1000_00)
	s.buy(200, 2200_00)
	average(10.6667)
	s.buy(300, 3600_00)
	average(11.3333)
	if got := s.draw(550); got != 6233_33 {
		t.Errorf("550 drawn at %d, want 623333", got)
	}
	s.buy(400, 5200_00)
	end := s.stock()
	if end.Quantity != 450 || end.Value != 5766_67 {
		t.Errorf("left %v at %d, want 450 at 576667", end.Quantity, end.Value)
	}
}

// A textbook of cost accounting, ch. 16 "Joint products and byproducts": a joint cost of $200,000 by
// sales value at split-off, A 10,000 at $10, B 10,500 at $30, C 11,500 at $20; the rule is IAS 2
// para 14.
func TestJointCostOfTheTextbook(t *testing.T) {
	got, err := money.Share(200_000, []float64{10_000 * 10, 10_500 * 30, 11_500 * 20})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]money.Amount{31_008, 97_674, 71_318}, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestDraws(t *testing.T) {
	t.Run("the last draw takes what is left", func(t *testing.T) {
		s := newShelf("each")
		s.buy(3, 1000) // 333.33 each
		if a, b, c := s.draw(1), s.draw(1), s.draw(1); a != 333 || b != 334 || c != 333 {
			t.Errorf("draws of a third at %d, %d, %d", a, b, c)
		}
		if got := s.stock(); got.Quantity != 0 || got.Value != 0 || got.CountIsOff || got.Differences != 0 {
			t.Errorf("left %+v", got)
		}
	})
	t.Run("beyond the count at the last known cost", func(t *testing.T) {
		s := newShelf("qt")
		s.buy(2, 1000)
		s.buy(2, 1400) // 6.00 on average, 7.00 the last
		if got := s.draw(5); got != 2400+700 {
			t.Errorf("5 of 4 at %d, want 3100", got)
		}
		if got := s.draw(1); got != 700 {
			t.Errorf("1 of none at %d, want 700", got)
		}
		got := s.stock()
		if got.Quantity != -2 || got.Value != -1400 || !got.CountIsOff {
			t.Errorf("left %+v", got)
		}
		if diff := cmp.Diff([]string{"gear oil: the count is off. More was drawn than was there; draws go at the last known cost until it is counted."},
			say.Strings(got.Warnings(s.good))); diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
		// The next purchase makes up for the two: they cost 16.00 and were charged 14.00.
		s.buy(10, 8000)
		got = s.stock()
		if got.Quantity != 8 || got.Value != 6400 || got.Differences != -200 || !got.CountIsOff {
			t.Errorf("after buying %+v", got)
		}
		if diff := s.count(7); diff != -800 {
			t.Errorf("one missing is %d, want -800", diff)
		}
		if got = s.stock(); got.Quantity != 7 || got.Value != 5600 || got.CountIsOff || got.Differences != -1000 {
			t.Errorf("after counting %+v", got)
		}
	})
	t.Run("used on the day it was bought, and written down the other way about", func(t *testing.T) {
		s := newShelf("each")
		s.draw(1)
		s.moves = append(s.moves, costing.Move{GoodID: "g", Kind: costing.Bought, On: s.on, Quantity: 2, Cost: 500})
		got := s.stock()
		if got.CountIsOff || got.Quantity != 1 || got.Value != 250 || got.Differences != -250 {
			t.Errorf("%+v", got)
		}
	})
	t.Run("of nothing", func(t *testing.T) {
		s := newShelf("each")
		s.buy(3, 1000)
		for _, q := range []float64{0, -1, math.NaN()} {
			if got := costing.CostOfDraw(s.good, s.moves, costing.Move{Quantity: q}); got != 0 {
				t.Errorf("a draw of %v at %d", q, got)
			}
		}
	})
	t.Run("by the millilitre", func(t *testing.T) {
		s := newShelf("mL")
		s.buy(1000, 1250)
		if got := s.draw(60); got != 75 { // 1.25 cents a millilitre
			t.Errorf("60 mL at %d, want 75", got)
		}
	})
}

func TestCounts(t *testing.T) {
	s := newShelf("each")
	s.moves = append(s.moves, costing.Move{GoodID: "g", Kind: costing.Counted, On: s.on, Quantity: 4, Cost: 2000})
	if got := s.stock(); got.Value != 2000 || got.Differences != 2000 || got.UnitCost != 500 {
		t.Errorf("what stood there at the start: %+v", got)
	}
	if got := s.count(6); got != 1000 {
		t.Errorf("two found are %d", got)
	}
	if got := s.count(6); got != 0 {
		t.Errorf("a count that agrees differs by %d", got)
	}
	if got := s.count(0); got != -3000 {
		t.Errorf("all gone is %d", got)
	}
	if got := s.stock(); got.Quantity != 0 || got.Value != 0 || got.LastCost != 500 {
		t.Errorf("%+v", got)
	}
}

func TestNothingIsKnownOfItsCost(t *testing.T) {
	s := newShelf("tubes")
	s.count(5)
	if got := s.draw(2); got != 0 {
		t.Errorf("drawn at %d", got)
	}
	if diff := cmp.Diff([]string{"gear oil: no cost is known, so draws are charged at nothing until a purchase is written down."},
		say.Strings(s.stock().Warnings(s.good))); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	s.buy(1, 700)
	if got := s.stock(); !got.Priced || len(got.Warnings(s.good)) != 0 {
		t.Errorf("%+v", got)
	}
}

func TestLow(t *testing.T) {
	s := newShelf("qt")
	s.good.Reorder = 3
	s.buy(4, 2000)
	if s.stock().Low {
		t.Error("4 is low")
	}
	s.draw(1)
	got := s.stock()
	if diff := cmp.Diff([]string{"gear oil is down to 3 qt."}, say.Strings(got.Warnings(s.good))); diff != "" || !got.Low {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestStockOfADayAndOfItsOwnMoves(t *testing.T) {
	s := newShelf("each")
	s.buy(1, 100)
	before := s.on
	s.buy(1, 300)
	s.moves = append(s.moves, costing.Move{GoodID: "another", Kind: costing.Bought, On: before, Quantity: 9, Cost: 9000})
	if got := costing.StockOf(s.good, s.moves, before); got.Quantity != 1 || got.Value != 100 || got.LastBought != before {
		t.Errorf("%+v", got)
	}
	// Order within the file does not matter, only the days do.
	s.moves[0], s.moves[1] = s.moves[1], s.moves[0]
	if got := s.stock(); got.LastCost != 300 {
		t.Errorf("last cost %v", got.LastCost)
	}
}

// Value is neither made nor lost: what was bought, and what counts found, was drawn or is there still.
func TestValueIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newShelf("qt")
		var bought, drawn, differences money.Amount
		for i := range rapid.IntRange(1, 40).Draw(t, "moves") {
			quantity := rapid.SampledFrom([]float64{0.03125, 0.25, 1. / 3, 1, 2, 7.5, 32}).Draw(t, fmt.Sprint("quantity ", i))
			switch rapid.IntRange(0, 4).Draw(t, fmt.Sprint("what ", i)) {
			case 0, 1:
				paid := money.Amount(rapid.Int64Range(0, 20_000).Draw(t, fmt.Sprint("paid ", i)))
				bought += paid
				before := s.stock().Differences
				s.buy(quantity, paid)
				differences += s.stock().Differences - before
			case 2, 3:
				left := s.stock()
				if left.Quantity > 0 && rapid.Bool().Draw(t, fmt.Sprint("all ", i)) {
					quantity = left.Quantity
				}
				cost := s.draw(quantity)
				drawn += cost
				if left.Value >= 0 && quantity <= left.Quantity && cost > left.Value {
					t.Fatalf("%v of %v drawn at %d of %d", quantity, left.Quantity, cost, left.Value)
				}
				if got := s.stock(); got.Differences != left.Differences {
					t.Fatalf("a draw booked a difference of %d", got.Differences-left.Differences)
				}
			default:
				differences += s.count(quantity)
				if got := s.stock(); got.Quantity != quantity || got.Value < 0 || got.CountIsOff {
					t.Fatalf("counted %v, have %+v", quantity, got)
				}
			}
			got := s.stock()
			if got.BoughtFor != bought || got.DrawnFor != drawn || got.Differences != differences {
				t.Fatalf("have %+v, want bought %d, drawn %d, differences %d", got, bought, drawn, differences)
			}
			if bought+differences != drawn+got.Value {
				t.Fatalf("bought %d + differences %d is not drawn %d + value %d", bought, differences, drawn, got.Value)
			}
			if got.Quantity == 0 && got.Value != 0 {
				t.Fatalf("nothing there is worth %d", got.Value)
			}
			if (got.Quantity < 0) && !got.CountIsOff {
				t.Fatalf("below nothing and not flagged: %+v", got)
			}
		}
	})
}

// Whatever a file holds, even a receipt deleted after it was drawn from, the sum holds.
func TestValueIsConservedOverAnyMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newShelf("qt")
		for i := range rapid.IntRange(0, 30).Draw(t, "moves") {
			s.moves = append(s.moves, costing.Move{
				GoodID: "g", On: day.Day(rapid.Int32Range(0, 20).Draw(t, fmt.Sprint("on ", i))),
				Kind:     rapid.SampledFrom([]costing.MoveKind{costing.Bought, costing.Drawn, costing.Counted}).Draw(t, fmt.Sprint("kind ", i)),
				Quantity: rapid.OneOf(rapid.Float64Range(-5, 50), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1)})).Draw(t, fmt.Sprint("quantity ", i)),
				Cost:     money.Amount(rapid.Int64Range(-1000, 20_000).Draw(t, fmt.Sprint("cost ", i))),
			})
		}
		got := s.stock()
		if got.BoughtFor+got.Differences != got.DrawnFor+got.Value {
			t.Fatalf("%+v", got)
		}
		if math.IsNaN(got.Quantity) || math.IsNaN(float64(got.UnitCost)) {
			t.Fatalf("not a number: %+v", got)
		}
	})
}
