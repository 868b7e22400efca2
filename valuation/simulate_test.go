package valuation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// world is a market whose truth is known: coefficients drawn from the trade prior itself.
type world struct {
	*rand.Rand
	level   float64
	push    []float64 // by column of the trade table
	makes   []float64
	scatter float64
	today   day.Day
}

func newWorld(seed uint64, answer float64) *world {
	w := &world{Rand: rand.New(rand.NewPCG(seed, 15)), scatter: residual, today: day.Of(2026, 6, 1)}
	w.level = math.Log(answer) + anchorSpread*w.NormFloat64()
	for _, c := range trade {
		w.push = append(w.push, c.mean+c.spread*w.NormFloat64())
	}
	for range 5 {
		w.makes = append(w.makes, makeSpread*w.NormFloat64())
	}
	return w
}

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
	ln := w.level + w.makes[m.Make[len("Make ")]-'A'] + w.scatter*w.NormFloat64()
	s := subject{m, on, w.today}
	for j, c := range trade {
		ln += w.push[j] * c.of(s).value
	}
	return money.Round(100 * math.Exp(ln))
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

func TestSimulateScratch(t *testing.T) {
	usd := money.Must("USD")
	for _, forget := range []float64{0, 0.4, 1} {
		for _, n := range []int{0, 3, 5, 12, 25, 60, 200} {
			hit, total, out, width, track, trackN := map[float64]int{}, 0, 0, 0.0, 0, 0
			taus := map[float64]int{}
			for k := range 150 {
				w := newWorld(uint64(k), 1200)
				m, err := NewMarket(w.sales(n, forget), Options{Currency: usd, Anchor: 120000, AsOf: w.today})
				if err != nil {
					t.Fatal(err)
				}
				taus[m.model.Tau()]++
				for range 20 {
					mo := w.motor()
					price := w.price(mo, w.today)
					b, err := m.Worth(w.told(mo, forget), w.today)
					if err != nil {
						t.Fatal(err)
					}
					for _, l := range []float64{.5, .8, .95} {
						lo, hi := b.Interval(l)
						if lo <= price && price <= hi {
							hit[l]++
						}
						if l == .8 {
							width += math.Log(float64(hi) / float64(lo))
						}
					}
					total++
					if b.Outside() {
						out++
					}
				}
				tr := m.Track()
				for _, r := range tr.Rows {
					trackN++
					if r.Inside {
						track++
					}
				}
			}
			f := func(a, b int) float64 { return float64(a) / float64(b) }
			fmt.Printf("forget %.1f n %3d: cover %.3f %.3f %.3f width %.2f outside %.3f track %.3f tau %v\n", forget, n, f(hit[.5], total), f(hit[.8], total), f(hit[.95], total), width/float64(total), f(out, total), f(track, trackN), taus)
		}
	}
}
