package timetosell_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"skegworth/valuation/timetosell"
)

func proper() timetosell.Prior {
	return timetosell.Prior{Mean: []float64{3, 4, 0.5}, SD: []float64{0.7, 1.5, 0.4}, LnScale: -0.3, LnScaleSD: 0.3, Doubtful: 1, HasDoubtful: true}
}

func odd(t *rapid.T, name string) timetosell.Spell {
	s := timetosell.Spell{Sold: rapid.Bool().Draw(t, name+" sold"), Doubt: rapid.SampledFrom([]float64{0, 0.1, 0.5, 3}).Draw(t, name+" doubt")}
	for range rapid.IntRange(1, 3).Draw(t, name+" stretches") {
		s.Stretches = append(s.Stretches, timetosell.Stretch{
			Days: rapid.SampledFrom([]float64{0, 0, 1, 2, 30, 400, 1e5}).Draw(t, name+" days"),
			X:    []float64{1, rapid.SampledFrom([]float64{0, 0, 0.1, -0.2, 2, -5}).Draw(t, name+" over"), rapid.SampledFrom([]float64{0, 1}).Draw(t, name+" season")}})
	}
	return s
}

// Zero days, nothing sold, one spell, the same column throughout: there is always an answer, and it rises.
func TestAlwaysAnswers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var spells []timetosell.Spell
		for range rapid.IntRange(0, 5).Draw(t, "spells") {
			spells = append(spells, odd(t, "spell"))
		}
		m, err := timetosell.Fit(spells, proper())
		if err != nil {
			t.Fatal(err)
		}
		x, doubt := []float64{1, 0.1, 0}, rapid.SampledFrom([]float64{0, 0.2}).Draw(t, "doubt")
		low, mid, high := m.Days(0.1, x, doubt), m.Days(0.5, x, doubt), m.Days(0.9, x, doubt)
		if !(low > 0 && low < mid && mid < high) || math.IsInf(high, 0) {
			t.Fatalf("%v, %v, %v days", low, mid, high)
		}
		for _, days := range []float64{0, 1, mid, 1e9} {
			if c := m.Sold(days, x, doubt); math.IsNaN(c) || c < 0 || c > 1 {
				t.Fatalf("sold within %v days: %v", days, c)
			}
		}
		if c := m.Sold(mid, x, doubt); math.Abs(c-0.5) > 1e-6 {
			t.Fatalf("half are sold by %v days, that is %v", mid, c)
		}
		total := 0.0
		for _, d := range m.Draws(64, x) {
			total += d.Weight
			if !(d.Scale > 0) {
				t.Fatalf("a scale of %v", d.Scale)
			}
		}
		if math.Abs(total-1) > 1e-9 {
			t.Fatalf("the draws weigh %v", total)
		}
	})
}

// A stretch cut in two of the same circumstances is the same spell.
func TestCutIsNoChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := []float64{1, rapid.Float64Range(-0.3, 0.5).Draw(t, "over"), 0}
		first, second := rapid.Float64Range(1, 90).Draw(t, "first"), rapid.Float64Range(1, 90).Draw(t, "second")
		sold := rapid.Bool().Draw(t, "sold")
		whole, err := timetosell.Fit([]timetosell.Spell{{Sold: sold, Stretches: []timetosell.Stretch{{Days: first + second, X: x}}}}, proper())
		if err != nil {
			t.Fatal(err)
		}
		cut, err := timetosell.Fit([]timetosell.Spell{{Sold: sold, Stretches: []timetosell.Stretch{{Days: first, X: x}, {Days: second, X: x}}}}, proper())
		if err != nil {
			t.Fatal(err)
		}
		if a, b := whole.LogLikelihood(), cut.LogLikelihood(); math.Abs(a-b) > 1e-6*(1+math.Abs(a)) {
			t.Fatalf("%v and %v", a, b)
		}
	})
}

// A motor that stands unsold makes the next one take no less long, and longer still the longer it stands.
func TestUnsoldSpellsLengthen(t *testing.T) {
	x := []float64{1, 0, 0}
	before := 0.0
	for _, days := range []float64{0, 10, 40, 150, 600} {
		m, err := timetosell.Fit([]timetosell.Spell{{Stretches: []timetosell.Stretch{{Days: days, X: x}}}}, proper())
		if err != nil {
			t.Fatal(err)
		}
		if mid := m.Days(0.5, x, 0); mid < before*(1-1e-9) {
			t.Errorf("after %v days unsold the next takes %v, less than %v", days, mid, before)
		} else {
			before = mid
		}
	}
	if before < 1.3*20 {
		t.Errorf("after 600 days unsold the next takes %v", before)
	}
}

// With no spells the answer is the prior's: the median of days is exp of the mean, and ln days have the
// variance of the intercept and the mean of s^2 under the log-normal prior of s.
func TestNoSpellsIsThePrior(t *testing.T) {
	p := proper()
	m, err := timetosell.Fit(nil, p)
	if err != nil {
		t.Fatal(err)
	}
	x := []float64{1, 0, 0}
	if mid := m.Days(0.5, x, 0); math.Abs(mid/math.Exp(3)-1) > 0.05 {
		t.Errorf("half are sold by %v days, want about %v", mid, math.Exp(3))
	}
	low, high := math.Log(m.Days(0.1, x, 0)), math.Log(m.Days(0.9, x, 0))
	want := 2 * 1.2816 * math.Sqrt(0.49+math.Exp(2*-0.3+2*0.09))
	if got := high - low; math.Abs(got/want-1) > 0.06 {
		t.Errorf("eight in ten lie within %v of ln days, want about %v", got, want)
	}
	if all, sold := m.Spells(); all != 0 || sold != 0 {
		t.Errorf("%d spells, %d sold", all, sold)
	}
}

// The doubt about a column widens days and leaves their middle.
func TestDoubtWidens(t *testing.T) {
	m, err := timetosell.Fit(nil, proper())
	if err != nil {
		t.Fatal(err)
	}
	x := []float64{1, 0, 0}
	if sure, unsure := m.Days(0.9, x, 0), m.Days(0.9, x, 0.3); unsure < 1.3*sure {
		t.Errorf("nine in ten by %v days, by %v when the worth is in doubt", sure, unsure)
	}
	if a, b := m.Days(0.5, x, 0), m.Days(0.5, x, 0.3); math.Abs(a/b-1) > 0.03 {
		t.Errorf("the middle moves from %v to %v", a, b)
	}
}

func TestRefuses(t *testing.T) {
	one := func(days float64, x ...float64) []timetosell.Spell {
		return []timetosell.Spell{{Sold: true, Stretches: []timetosell.Stretch{{Days: days, X: x}}}}
	}
	for name, spells := range map[string][]timetosell.Spell{
		"days that are no number": one(math.NaN(), 1, 0, 0), "days less than none": one(-1, 1, 0, 0), "days without end": one(math.Inf(1), 1, 0, 0),
		"a value that is no number": one(3, 1, math.NaN(), 0), "too few columns": one(3, 1),
		"a doubt that is no number": {{Doubt: math.NaN(), Stretches: []timetosell.Stretch{{Days: 1, X: []float64{1, 0, 0}}}}},
	} {
		if _, err := timetosell.Fit(spells, proper()); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	for name, spells := range map[string][]timetosell.Spell{
		"nothing":        nil,
		"nothing sold":   {{Stretches: []timetosell.Stretch{{Days: 9, X: []float64{1}}}}},
		"one sale alone": one(9, 1),
	} {
		if _, err := timetosell.Fit(spells, flat(1)); !errors.Is(err, timetosell.ErrUndetermined) {
			t.Errorf("%s, with a flat prior: %v", name, err)
		}
	}
	twin := one(9, 1, 1)
	twin = append(append(twin, one(20, 1, 1)...), one(30, 1, 1)...)
	if _, err := timetosell.Fit(twin, flat(2)); !errors.Is(err, timetosell.ErrUndetermined) {
		t.Errorf("columns that are the same, with a flat prior: %v", err)
	}
	if _, err := timetosell.Fit(nil, timetosell.Prior{}); err == nil {
		t.Error("a prior of no columns was taken")
	}
}

func BenchmarkFit500(b *testing.B) {
	var spells []timetosell.Spell
	for i := range 500 {
		spells = append(spells, timetosell.Spell{Sold: i%5 < 3, Stretches: []timetosell.Stretch{{Days: float64(3 + i%97), X: []float64{1, float64(i%21-5) / 50, float64(i / 3 % 2)}}}})
	}
	for b.Loop() {
		if _, err := timetosell.Fit(spells, proper()); err != nil {
			b.Fatal(err)
		}
	}
}
