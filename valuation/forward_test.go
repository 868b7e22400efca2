package valuation

import (
	"math"
	"slices"
	"testing"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func forward(t testing.TB, m *Market) Forward {
	t.Helper()
	f, err := m.Forward()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// In a short history each band is that of the market over the sales before the day, read on that day.
func TestForwardIsTheMarketOfTheDay(t *testing.T) {
	w := newWorld(5, 1200)
	sales := w.sales(18, 0.3)
	o := Options{Currency: usd, Anchor: 120_000, HalfLife: 3, AsOf: w.today}
	f := forward(t, market(t, sales, o))
	if len(f.Rows)+f.Untold != len(sales) || f.Untold == 0 {
		t.Fatalf("%d valued and %d not, of %d", len(f.Rows), f.Untold, len(sales))
	}
	held := make([]int, len(trackLevels))
	for _, r := range f.Rows {
		before := slices.DeleteFunc(slices.Clone(sales), func(s Sale) bool { return s.Sold >= r.Sale.Sold })
		if r.Known != len(before) {
			t.Fatalf("%d sales known, %d before the day", r.Known, len(before))
		}
		o.AsOf = r.Sale.Sold
		b, err := market(t, before, o).Worth(r.Sale.Motor, r.Sale.Sold)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "PIT", r.PIT, b.Chance(r.Sale.Price), 1e-12)
		for i, level := range trackLevels {
			if low, high := b.Interval(level); low <= r.Sale.Price && r.Sale.Price <= high {
				held[i]++
			}
		}
	}
	for i, c := range f.Coverage {
		if c.Held() != held[i] || c.Count != len(f.Rows) || c.Level != trackLevels[i] {
			t.Errorf("%+v, want %d held", c, held[i])
		}
	}
}

// What comes later changes nothing, even in a long history; and the steps never lack more than a tenth.
func TestForwardSeesNothingLater(t *testing.T) {
	w := newWorld(6, 1200)
	sales := w.sales(90, 0.3)
	o := Options{Currency: usd, AsOf: w.today}
	m := market(t, sales, o)
	f := forward(t, m)
	from := m.sales[60].Sold
	wild := slices.Clone(sales)
	for i := range wild {
		if wild[i].Sold >= from {
			wild[i].Price *= 7
		}
	}
	g := forward(t, market(t, wild, o))
	changed := 0
	for i, r := range f.Rows {
		other := g.Rows[i]
		if r.Sale.Sold < from && (r.PIT != other.PIT || r.Known != other.Known) {
			t.Errorf("sale %s was valued by later ones", r.Sale.ID)
		}
		if r.PIT != other.PIT {
			changed++
		}
		before, _ := slices.BinarySearchFunc(m.sales, r.Sale.Sold, func(s Sale, on day.Day) int { return int(s.Sold) - int(on) })
		if r.Known > before || before-r.Known > max(0, before/forwardStep) {
			t.Errorf("%d sales known of %d before the day", r.Known, before)
		}
	}
	if changed == 0 {
		t.Error("other prices are valued alike")
	}
	if f.Fits >= len(f.Rows) || f.Fits < 30 {
		t.Errorf("read %d times for %d sales", f.Fits, len(f.Rows))
	}
}

func TestForwardOfLittle(t *testing.T) {
	one := Sale{ID: "a", Motor: anchorMotor(), Sold: today, Price: 100_000}
	same := one
	same.ID = "b"
	next := one
	next.ID, next.Sold = "c", today+1
	for _, c := range []struct {
		what         string
		sales        []Sale
		rows, untold int
	}{
		{"nothing", nil, 0, 0}, {"one sale", []Sale{one}, 0, 1}, {"one day", []Sale{one, same}, 0, 2}, {"two days", []Sale{one, same, next}, 1, 2},
	} {
		f := forward(t, market(t, c.sales, Options{}))
		if len(f.Rows) != c.rows || f.Untold != c.untold || len(f.Coverage) != 3 || f.Coverage[1].Count != c.rows {
			t.Errorf("%s: %+v", c.what, f)
		}
	}
}

// Bands made as the sales came hold about as often as they say, in a world drawn from the prior.
func TestForwardCoverage(t *testing.T) {
	var chances []float64
	for seed := range uint64(12) {
		w := newWorld(100+seed, 1200)
		for _, r := range forward(t, market(t, w.sales(40, 0.3), Options{Currency: money.Must("USD"), Anchor: 120_000, AsOf: w.today})).Rows {
			chances = append(chances, r.PIT)
		}
	}
	for _, c := range coverageOf(chances) {
		// Sales of one history share what is wrong in it, so more than binomial room: 6 points.
		if math.Abs(c.Achieved-c.Level) > 0.06 {
			t.Errorf("bands of %v held %.3f of %d", c.Level, c.Achieved, c.Count)
		}
	}
}

func BenchmarkForward60(b *testing.B)  { benchForward(b, 60) }
func BenchmarkForward500(b *testing.B) { benchForward(b, 500) }

func benchForward(b *testing.B, n int) {
	w := newWorld(1, 1200)
	m := market(b, w.sales(n, 0.4), Options{Currency: usd, Anchor: 120_000, AsOf: w.today})
	for b.Loop() {
		forward(b, m)
	}
}
