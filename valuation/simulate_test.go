package valuation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// world is a market whose truth is known.
type world struct {
	*rand.Rand
	level float64
	push  []float64 // by column of the trade table
	makes []float64
	luck  func() float64 // what is left of ln price when all facts are known
	today day.Day
}

// newWorld is one whose coefficients are drawn from the trade prior itself.
func newWorld(seed uint64, answer float64) *world { return newWorldOff(seed, answer, believed) }

// newWorldOff is one whose coefficients lie as many spreads off the trade prior's means as off draws. What
// is left of ln price is normal and as large as guessed.
func newWorldOff(seed uint64, answer float64, off func(*rand.Rand) float64) *world {
	w := &world{Rand: rand.New(rand.NewPCG(seed, 15)), today: day.Of(2026, 6, 1)}
	w.luck = func() float64 { return residual * w.NormFloat64() }
	w.level = math.Log(answer) + anchorSpread*off(w.Rand)
	for _, c := range trade {
		w.push = append(w.push, c.mean+c.spread*off(w.Rand))
	}
	for range 5 {
		w.makes = append(w.makes, makeSpread*off(w.Rand))
	}
	return w
}

// believed draws as the prior believes.
func believed(r *rand.Rand) float64 { return r.NormFloat64() }

func choose[T any](w *world, of []T) T { return of[w.IntN(len(of))] }

// motor is one with every fact known, drawn as the trade table takes them to be shared out.
func (w *world) motor() Motor {
	yes := func(p float64) Answer {
		if w.Float64() < p {
			return Yes
		}
		return No
	}
	m := Motor{
		Make: fmt.Sprintf("Make %c", 'A'+w.IntN(len(w.makes))), Power: choose(w, []float64{8, 15, 25, 40, 50, 60, 75, 90, 115}),
		Year: 1996 + w.IntN(26), Stroke: choose(w, Strokes), State: choose(w, []State{PartsOnly, Dead, Runs, Runs, Runs, Serviced, Serviced, Rebuilt, Rebuilt}),
		Looks: 1 + w.IntN(5), HoursKnown: true, Hours: math.Exp(5.5 + 0.8*w.NormFloat64()), Cylinders: 3,
		Water: choose(w, Waters), Shaft: 20, Start: Electric, Lift: ManualLift, Steering: Remote, Fuel: Carburettor, Oil: NoInjection,
		PartsSupplied: yes(0.95), Submerged: yes(0.03), Welded: yes(0.03), Plate: yes(0.95),
		Controls: yes(0.5), Propeller: yes(0.85), Tank: yes(0.3), Helm: yes(0.25), Turns: Yes, LowerUnit: Yes, ShownRunning: yes(0.7),
	}
	if m.Power < 20 {
		m.Shaft, m.Start, m.Steering = 15, Pull, Tiller
	}
	if m.Power > 50 {
		m.Lift = PowerLift
	}
	if m.Stroke == FourStroke && w.Float64() < 0.6 {
		m.Fuel = Injected
	}
	low := 120.0
	if m.runs() && w.Float64() < 0.2 {
		low = 90
	}
	m.Compression = []float64{120, 118, low}
	return m
}

func (m Motor) runs() bool { return subject{Motor: m}.runs() }

// price is what a motor fetches on a day, all facts told or not.
func (w *world) price(m Motor, on day.Day) money.Amount {
	ln := w.level + w.makes[m.Make[len("Make ")]-'A'] + w.luck()
	s := subject{m, on, w.today}
	for j, c := range trade {
		ln += w.push[j] * c.of(s).value
	}
	return max(1, money.Round(100*math.Exp(ln)))
}

// told is the motor with each fact beyond the first five forgotten with a chance.
func (w *world) told(m Motor, forget float64) Motor {
	for _, f := range fields {
		switch f.name {
		case "power", "year", "stroke", "state":
			continue
		}
		if w.Float64() < forget {
			f.clear(&m)
		}
	}
	return m
}

func (w *world) sales(n int, forget float64) []Sale {
	sales := make([]Sale, n)
	for i := range sales {
		m := w.motor()
		sold := w.today - day.Day(w.IntN(4*365))
		sales[i] = Sale{ID: fmt.Sprint(i), Motor: w.told(m, forget), Sold: sold, Price: w.price(m, sold)}
	}
	return sales
}

// With truths drawn from the trade prior, bands must hold about as often as they say at every length of
// history, the record of the own sales must say the same, and a motor like those sold must seldom be
// called outside experience. A record is counted over few sales of one world each, so that its bounds
// are wider.
func TestBandsHoldAsOftenAsTheySay(t *testing.T) {
	usd := money.Must("USD")
	for _, c := range []struct {
		sales   int
		forget  float64
		outside float64 // at the most
	}{{0, 0.4, 1}, {5, 0.4, 0.7}, {12, 1, 0.25}, {25, 0, 0.2}, {60, 0.4, 0.05}} {
		t.Run(fmt.Sprintf("%d sales, forgetting %v", c.sales, c.forget), func(t *testing.T) {
			t.Parallel()
			held := make([]float64, len(trackLevels))
			kept, counted, outside, total := 0.0, 0.0, 0.0, 0.0
			for seed := range uint64(120) {
				w := newWorld(seed, 1200)
				m, err := NewMarket(w.sales(c.sales, c.forget), Options{Currency: usd, Anchor: 120000, AsOf: w.today})
				if err != nil {
					t.Fatal(err)
				}
				for range 10 {
					mo := w.motor()
					price := w.price(mo, w.today)
					b, err := m.Worth(w.told(mo, c.forget), w.today)
					if err != nil {
						t.Fatal(err)
					}
					for i, level := range trackLevels {
						if low, high := b.Interval(level); low <= price && price <= high {
							held[i]++
						}
					}
					if b.Outside() {
						outside++
					}
					total++
				}
				record := m.Track().Coverage[1]
				kept += record.Achieved * float64(record.Count)
				counted += float64(record.Count)
			}
			for i, bounds := range [][2]float64{{0.46, 0.60}, {0.77, 0.88}, {0.93, 1}} {
				if share := held[i] / total; share < bounds[0] || share > bounds[1] {
					t.Errorf("bands of %v held %.3f", trackLevels[i], share)
				}
			}
			if share := kept / counted; counted > 0 && (share < 0.77 || share > 0.88) {
				t.Errorf("records of 80 %% bands show %.3f", share)
			}
			if outside/total > c.outside {
				t.Errorf("outside experience: %.3f", outside/total)
			}
		})
	}
}
