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
)

// Weygandt, Kimmel, Kieso, Accounting Principles, inventory chapter: 100 at $10, 200 at $11, 300 at $12, a
// sale of 550, 400 at $13. First-in first-out: cost of sales $6,200, closing $5,800, of which 50 are the
// last of the $12 ones.
func TestFirstInFirstOutOfTheTextbook(t *testing.T) {
	s := newShelf("each")
	s.by = costing.FirstIn
	s.buy(100, 1000_00)
	s.buy(200, 2200_00)
	s.buy(300, 3600_00)
	if got := s.draw(550); got != 6200_00 {
		t.Errorf("550 drawn at %d, want 620000", got)
	}
	s.buy(400, 5200_00)
	end := s.stock()
	if end.Quantity != 450 || end.Value != 5800_00 {
		t.Errorf("left %v at %d, want 450 at 580000", end.Quantity, end.Value)
	}
	want := []costing.Lot{
		{MoveID: "m2", On: day.Of(2026, 1, 4), Bought: 300, Paid: 3600_00, Left: 50, Value: 600_00},
		{MoveID: "m4", On: day.Of(2026, 1, 6), Bought: 400, Paid: 5200_00, Left: 400, Value: 5200_00},
	}
	if diff := cmp.Diff(want, end.Lots); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// A shop that changes its method keeps what it charged, and starts from the value its books show.
func TestChangingTheMethodChangesNoDraw(t *testing.T) {
	s := newShelf("each")
	s.buy(10, 100_00)
	s.buy(10, 200_00)
	if got := s.draw(10); got != 150_00 {
		t.Errorf("by average: %d", got)
	}
	before := s.stock()
	s.by = costing.FirstIn
	if after := s.stock(); !cmp.Equal(before, after) || after.Value != 150_00 {
		t.Errorf("the change alone: %s", cmp.Diff(before, after))
	}
	s.buy(10, 300_00)
	if got := s.draw(10); got != 150_00 { // the ten of before, at what the books carried them at
		t.Errorf("the oldest ten: %d", got)
	}
	if got := s.draw(5); got != 150_00 {
		t.Errorf("five of the new: %d", got)
	}
	s.by = costing.ByAverage
	s.buy(5, 50_00)
	if got := s.draw(10); got != 200_00 { // 5 at 30 and 5 at 10
		t.Errorf("by average again: %d", got)
	}
}

func TestSentBackAndPutBack(t *testing.T) {
	for _, by := range costing.Methods {
		t.Run(string(by), func(t *testing.T) {
			s := newShelf("each")
			s.by = by
			s.buy(10, 100_00)
			s.buy(10, 200_00)
			s.moves = append(s.moves, costing.Move{ID: "back", GoodID: "g", Kind: costing.SentBack, On: s.on + 1, Quantity: 4, Cost: 80_00, Undoes: "m1"})
			s.on++
			got := s.stock()
			if got.Quantity != 16 || got.Value != 220_00 || got.BoughtFor != 220_00 || got.Differences != 0 {
				t.Errorf("four of the second lot sent back: %+v", got)
			}
			if got.Lots[0].Left != 10 || got.Lots[1].Left != 6 {
				t.Errorf("lots %+v", got.Lots)
			}
			charged := s.draw(2)
			s.moves = append(s.moves, costing.Move{ID: "put", GoodID: "g", Kind: costing.PutBack, On: s.on + 1, Quantity: 2, Cost: charged, Undoes: "m3"})
			s.on++
			again := s.stock()
			if again.Quantity != 16 || again.Value != 220_00 || again.DrawnFor != 0 || again.Lots[0].Left != 2 {
				t.Errorf("two put back: %+v", again)
			}
			s.moves = append(s.moves, costing.Move{ID: "down", GoodID: "g", Kind: costing.MarkedDown, On: s.on + 1, Cost: 20_00})
			s.on++
			if got := s.stock(); got.Value != 200_00 || got.MarkedDown != 20_00 || got.Quantity != 16 {
				t.Errorf("written down: %+v", got)
			}
			s.add(costing.TakenHome, 16, 200_00)
			if got := s.stock(); got.Value != 0 || got.Quantity != 0 || got.TakenFor != 200_00 || len(got.Lots) != 0 {
				t.Errorf("taken home: %+v", got)
			}
		})
	}
}

func TestADrawWrittenDownLate(t *testing.T) {
	s := newShelf("qt")
	s.by = costing.FirstIn
	s.buy(4, 2000) // on the 2nd
	s.on += 30
	s.buy(4, 4000)
	late := costing.Move{On: day.Of(2026, 1, 5), Quantity: 2, By: costing.FirstIn}
	if got := costing.CostOfDraw(s.good, s.moves, late); got != 1000 {
		t.Errorf("2 qt of January are charged %d, want 1000", got)
	}
	late.Quantity = 6 // more than was there: the whole shelf pays for it
	if got := costing.CostOfDraw(s.good, s.moves, late); got != 2000+2000 {
		t.Errorf("6 qt are charged %d, want 4000", got)
	}
	late.On = day.Of(2025, 12, 1) // before anything was bought
	late.Quantity = 1
	if got := costing.CostOfDraw(s.good, s.moves, late); got != 500 {
		t.Errorf("a quart of December is charged %d, want 500", got)
	}
}

// parcels are a shelf written the slow and plain way: purchases in a queue, in whole units.
type parcels struct {
	queue []parcel
	short int          // used and not there
	owing money.Amount // what those were charged
	last  parcel       // the latest purchase
	off   money.Amount // differences
	mixed bool         // by average: one parcel of everything
}

type parcel struct {
	n    int
	cost money.Amount
}

func part(of money.Amount, n, all int) money.Amount {
	return of.Times(float64(n) / float64(all))
}

// at is so many at the price of one, which is how a cost known by the unit is told.
func at(of money.Amount, n, all int) money.Amount {
	return money.Round(float64(of) / float64(all) * float64(n))
}

func (p *parcels) count() (n int) {
	for _, q := range p.queue {
		n += q.n
	}
	return n - p.short
}

func (p *parcels) value() (sum money.Amount) {
	for _, q := range p.queue {
		sum += q.cost
	}
	return sum - p.owing
}

func (p *parcels) buy(n int, paid money.Amount) {
	p.last = parcel{n, paid}
	if p.short > 0 {
		covered := min(p.short, n)
		charged := part(p.owing, covered, p.short)
		bears := at(paid, covered, n)
		if covered == n {
			bears = paid
		}
		p.off -= bears - charged
		p.owing -= charged
		p.short -= covered
		n, paid = n-covered, paid-bears
	}
	if n > 0 {
		p.queue = append(p.queue, parcel{n, paid})
	}
}

// draw takes from the front of the queue.
func (p *parcels) draw(n int) (cost money.Amount) {
	for n > 0 && len(p.queue) > 0 {
		q := &p.queue[0]
		if n >= q.n {
			cost += q.cost
			n -= q.n
			p.queue = p.queue[1:]
			continue
		}
		c := part(q.cost, n, q.n)
		if p.mixed { // by the cost of one, as the average is told
			c = at(q.cost, n, q.n)
		}
		q.n, q.cost = q.n-n, q.cost-c
		return cost + c
	}
	if n > 0 {
		beyond := at(p.last.cost, n, p.last.n)
		p.short += n
		p.owing += beyond
		cost += beyond
	}
	return cost
}

// level is the average: one parcel of everything, mixed at each purchase.
func (p *parcels) level() {
	if len(p.queue) > 1 {
		p.queue = []parcel{{p.count(), p.value()}}
	}
}

// Bought, drawn, put back and drawn beyond the count in any order: the shelf and the plain queue agree at
// every step, to the cent, by either method.
func TestTheShelfAgainstAPlainQueue(t *testing.T) {
	for _, by := range costing.Methods {
		t.Run(string(by), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				s := newShelf("each")
				s.by = by
				m := parcels{mixed: by == costing.ByAverage}
				level := func() {
					if by == costing.ByAverage {
						m.level()
					}
				}
				var lastDraw costing.Move
				t.Repeat(map[string]func(*rapid.T){
					"buy": func(t *rapid.T) {
						n := rapid.IntRange(1, 40).Draw(t, "bought")
						paid := money.Amount(rapid.Int64Range(1, 50_000).Draw(t, "paid"))
						s.buy(float64(n), paid)
						m.buy(n, paid)
						level()
					},
					"draw": func(t *rapid.T) {
						if m.last.n == 0 {
							t.Skip("nothing was ever bought")
						}
						n := rapid.IntRange(1, 50).Draw(t, "drawn")
						got, want := s.draw(float64(n)), m.draw(n)
						if got != want {
							t.Fatalf("%d drawn at %d, the queue says %d", n, got, want)
						}
						lastDraw = s.moves[len(s.moves)-1]
					},
					"put back": func(t *rapid.T) {
						if lastDraw.ID == "" || m.short > 0 {
							t.Skip("nothing to put back")
						}
						n := int(lastDraw.Quantity)
						s.on++
						s.moves = append(s.moves, costing.Move{ID: fmt.Sprint("m", len(s.moves)), GoodID: "g", Kind: costing.PutBack, On: s.on,
							Quantity: lastDraw.Quantity, Cost: lastDraw.Cost, Undoes: lastDraw.ID})
						m.queue = append([]parcel{{n, lastDraw.Cost}}, m.queue...)
						level()
						lastDraw = costing.Move{}
					},
					"": func(t *rapid.T) {
						got := s.stock()
						if int(got.Quantity) != m.count() || got.Value != m.value() || got.Differences != m.off {
							t.Fatalf("the shelf has %v at %d (differences %d), the queue %d at %d (%d)", got.Quantity, got.Value, got.Differences, m.count(), m.value(), m.off)
						}
						if by == costing.ByAverage {
							return
						}
						if len(got.Lots) != len(m.queue) {
							t.Fatalf("lots %+v, queue %+v", got.Lots, m.queue)
						}
						for i, l := range got.Lots {
							if int(l.Left) != m.queue[i].n || l.Value != m.queue[i].cost {
								t.Fatalf("lot %d is %+v, in the queue %+v", i, l, m.queue[i])
							}
						}
					},
				})
			})
		})
	}
}

// Whatever happens on a shelf and however its method changes on the way, its lots add up to what is there
// and to its value, and no cent is made or lost.
func TestLotsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newShelf("qt")
		var bought []string
		for i := range rapid.IntRange(1, 40).Draw(t, "moves") {
			s.by = rapid.SampledFrom(costing.Methods).Draw(t, fmt.Sprint("by ", i))
			quantity := rapid.SampledFrom([]float64{0.03125, 0.25, 1. / 3, 1, 2, 7.5, 32}).Draw(t, fmt.Sprint("quantity ", i))
			cost := money.Amount(rapid.Int64Range(0, 20_000).Draw(t, fmt.Sprint("cost ", i)))
			switch rapid.IntRange(0, 7).Draw(t, fmt.Sprint("what ", i)) {
			case 0, 1:
				s.buy(quantity, cost)
				bought = append(bought, s.moves[len(s.moves)-1].ID)
			case 2, 3:
				s.draw(quantity)
			case 4:
				s.count(quantity)
			case 5:
				s.add(costing.PutBack, quantity, cost)
			case 6:
				s.add(costing.SentBack, quantity, cost)
				if len(bought) > 0 {
					s.moves[len(s.moves)-1].Undoes = rapid.SampledFrom(bought).Draw(t, fmt.Sprint("undoes ", i))
				}
			default:
				s.add(rapid.SampledFrom([]costing.MoveKind{costing.TakenHome, costing.MarkedDown}).Draw(t, fmt.Sprint("out ", i)), quantity, cost)
			}
			got := s.stock()
			if got.BoughtFor+got.Differences != got.DrawnFor+got.TakenFor+got.MarkedDown+got.Value {
				t.Fatalf("%+v", got)
			}
			if got.Quantity <= 0 {
				if len(got.Lots) != 0 {
					t.Fatalf("%v there, in lots %+v", got.Quantity, got.Lots)
				}
				continue
			}
			var left float64
			var value money.Amount
			for _, l := range got.Lots {
				left += l.Left
				value += l.Value
				if !(l.Left > 0) {
					t.Fatalf("an empty lot: %+v", got.Lots)
				}
			}
			if math.Abs(left-got.Quantity) > 1e-5 || value != got.Value {
				t.Fatalf("lots of %v at %d, stock of %v at %d", left, value, got.Quantity, got.Value)
			}
			if all := got.CostOf(costing.FirstIn, got.Quantity); got.Value >= 0 && all != got.Value {
				t.Fatalf("all of it would be charged %d of %d", all, got.Value)
			}
		}
	})
}
