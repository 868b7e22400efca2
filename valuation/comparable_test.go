package valuation

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"skegworth/valuation/say"
)

// A sale's price and the lines of its adjustment add up to the adjusted price to the minor unit, the
// factors multiply to it, and the nearest come first.
func TestComparablesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := newWorld(rapid.Uint64().Draw(t, "seed"), 1200)
		forget := rapid.Float64Range(0, 1).Draw(t, "forget")
		sales := w.sales(rapid.IntRange(0, 30).Draw(t, "n"), forget)
		m, err := NewMarket(sales, Options{Currency: usd, Anchor: 120_000, AsOf: w.today})
		if err != nil {
			t.Fatal(err)
		}
		mo := w.told(w.motor(), forget)
		want := rapid.IntRange(-1, 40).Draw(t, "want")
		near := m.Comparables(mo, w.today, want)
		if len(near) != max(0, min(want, len(sales))) {
			t.Fatalf("%d of %d for %d", len(near), len(sales), want)
		}
		row, _ := m.row(mo, w.today)
		mean, _ := m.model.Coefficients()
		for i, c := range near {
			if i > 0 && c.Distance < near[i-1].Distance {
				t.Fatalf("%v after %v", c.Distance, near[i-1].Distance)
			}
			sum, factor := c.Sale.Price, 1.0
			for _, a := range c.Adjustments {
				sum += a.Money
				factor *= a.Factor
			}
			if sum != c.AdjustedPrice || len(c.Differences) != len(c.Adjustments) {
				t.Fatalf("lines add up to %v, not %v", sum, c.AdjustedPrice)
			}
			theirs, _ := m.row(c.Sale.Motor, c.Sale.Sold)
			apart := 0.0
			for j := range row {
				apart += mean[j] * (row[j] - theirs[j])
			}
			if math.Abs(math.Log(factor)-apart) > 1e-9 {
				t.Fatalf("factors multiply to %v, the model says %v", factor, math.Exp(apart))
			}
		}
	})
}

// The same motor sold on the same day is at no distance and needs no adjustment.
func TestComparableOfItself(t *testing.T) {
	w := newWorld(6, 1200)
	sales := w.sales(20, 0.3)
	m := market(t, sales, Options{AsOf: w.today})
	for _, s := range sales {
		c := m.Comparables(s.Motor, s.Sold, 1)[0]
		if c.Sale.ID != s.ID || c.Distance != 0 || len(c.Differences) != 0 || c.AdjustedPrice != s.Price {
			t.Errorf("sale %s: nearest is %s at %v, adjusted by %v", s.ID, c.Sale.ID, c.Distance, say.Strings(c.Differences))
		}
	}
}

func TestDifferencesInWords(t *testing.T) {
	theirs := anchorMotor()
	ours := theirs
	ours.Power, ours.State, ours.Water, ours.Looks, ours.Year = 90, Rebuilt, Salt, 0, 2003
	ours.Make, ours.Compression, ours.Hours = "Tornvik", []float64{120, 80, 118}, 800
	m := market(t, []Sale{{Motor: theirs, Sold: today, Price: 100_000}}, Options{Anchor: 100_000})
	c := m.Comparables(ours, today, 1)[0]
	var fields []string
	for _, a := range c.Adjustments {
		fields = append(fields, a.Field)
	}
	if want := []string{"power", "year", "state", "water", "hours", "compression", "make"}; !slices.Equal(fields, want) {
		t.Errorf("differ in %v, want %v", fields, want)
	}
	for i, start := range []string{
		"power: 50 hp there, 90 hp here: +", "year: 2011 there, 2003 here: -", "state: runs there, rebuilt here: +",
		"water: fresh water there, salt water here: -", "engine hours: 300 there, 800 here: -",
		"compression: 120/118/119 there, 120/80/118 here: -", "make: Nobody there, Tornvik here: ",
	} {
		if got := c.Differences[i].String(); !strings.HasPrefix(got, start) {
			t.Errorf("%q, want %q...", got, start)
		}
	}
}
