package costing_test

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
)

// Values of NIST Special Publication 811 (2008), appendix B.8, and Handbook 44, appendix C.
func TestConvert(t *testing.T) {
	for _, c := range []struct {
		quantity float64
		from, to string
		want     float64
	}{
		{1, "gal", "L", 3.785411784},
		{1, "gal", "fl oz", 128},
		{1, "gal", "qt", 4},
		{1, "qt", "pt", 2},
		{1, "fl oz", "mL", 29.5735295625},
		{1, "US qt", "mL", 946.352946},
		{1, "imp gal", "L", 4.54609},
		{1, "kg", "g", 1000},
		{1, "lb", "oz", 16},
		{1, "lb", "kg", 0.45359237},
		{1, "oz", "g", 28.349523125},
		{1, "in", "cm", 2.54},
		{1, "ft", "in", 12},
		{1, "m", "mm", 1000},
		{1, "mi", "km", 1.609344},
		{1, "mile", "ft", 5280},
		{1, "hp", "kW", 0.745699872},
		{1, "PS", "kW", 0.73549875},
		{1, "psi", "kPa", 6.894757},
		{1, "bar", "kPa", 100},
		{100, "psi", "bar", 6.894757},
		{3, "each", "pcs", 3},
		{3, "", "each", 3},
		{2, "Fl. Oz.", "fl oz", 2},
	} {
		got, err := costing.Convert(c.quantity, c.from, c.to)
		if err != nil || math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%v %s in %s: %v, want %v (%v)", c.quantity, c.from, c.to, got, c.want, err)
		}
	}
}

func TestConvertRefuses(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"qt", "lb", "convert qt to lb: one is a volume, the other a mass"},
		{"firkin", "L", `convert firkin: "firkin" is not a unit that is known`},
		{"L", "firkin", `convert L to firkin: "firkin" is not a unit that is known`},
		{"oz", "fl oz", "convert oz to fl oz: one is a mass, the other a volume"},
	} {
		if _, err := costing.Convert(1, c.from, c.to); err == nil || err.Error() != c.want {
			t.Errorf("%s to %s: %v, want %s", c.from, c.to, err, c.want)
		}
	}
}

func TestEveryNameMeansOneUnit(t *testing.T) {
	seen := map[string]string{}
	for _, u := range costing.Units {
		for _, name := range append([]string{u.Symbol}, u.Names...) {
			got, err := costing.UnitNamed(name)
			if err != nil || got.Symbol != u.Symbol {
				t.Errorf("%q of %s means %s (%v)", name, u.Symbol, got.Symbol, err)
			}
			if other, twice := seen[name]; twice {
				t.Errorf("%q names both %s and %s", name, other, u.Symbol)
			}
			seen[name] = u.Symbol
		}
	}
}

func TestThereAndBackAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom(costing.Units).Draw(t, "from").Symbol
		to := rapid.SampledFrom(costing.Compatible(from)).Draw(t, "to")
		q := rapid.Float64Range(0, 1e6).Draw(t, "quantity")
		there, err := costing.Convert(q, from, to)
		if err != nil {
			t.Fatal(err)
		}
		back, err := costing.Convert(there, to, from)
		if err != nil || math.Abs(back-q) > 1e-9*(1+q) {
			t.Fatalf("%v %s is %v %s is %v (%v)", q, from, there, to, back, err)
		}
	})
}

func TestCompatible(t *testing.T) {
	if got := costing.Compatible("quart"); !slices.Contains(got, "mL") || slices.Contains(got, "lb") {
		t.Errorf("%v", got)
	}
	if got := costing.Compatible("firkin"); got != nil {
		t.Errorf("%v", got)
	}
}

func TestMeasure(t *testing.T) {
	for want, c := range map[string]struct {
		q    float64
		unit string
	}{"1.5 qt": {1.5, "qt"}, "3": {3, "each"}, "0.333 gal": {1. / 3, "gal"}, "2": {2, ""}, "-1 qt": {-1, "qt"}} {
		if got := costing.Measure(c.q, c.unit); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Printed on every can; arithmetic.
func TestPremix(t *testing.T) {
	for _, c := range []struct {
		fuel, ratio float64
		unit        string
		want        float64
		in          string
	}{
		{6, 50, "gal", 15.36, "fl oz"},
		{6, 25, "gal", 30.72, "fl oz"},
		{20, 50, "L", 400, "mL"},
		{20, 25, "L", 800, "mL"},
	} {
		oil, err := costing.PremixOil(c.fuel, c.ratio)
		if err != nil {
			t.Fatal(err)
		}
		got, err := costing.Convert(oil, c.unit, c.in)
		if err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v %s at %v:1 take %v %s, want %v (%v)", c.fuel, c.unit, c.ratio, got, c.in, c.want, err)
		}
	}
	for _, c := range [][2]float64{{-1, 50}, {6, 0}, {6, -50}, {math.NaN(), 50}, {6, math.NaN()}, {math.Inf(1), 50}, {6, math.Inf(1)}} {
		if _, err := costing.PremixOil(c[0], c[1]); err == nil {
			t.Errorf("%v of fuel at %v:1 is taken", c[0], c[1])
		}
	}
}

// Common practice: a carburetted two-stroke burns about power/10 US gallons an hour, and 0.50 lb a
// horsepower and hour over 6.1 lb a gallon for a four-stroke; the break-in mix has double the oil.
func TestBreakIn(t *testing.T) {
	two := costing.BreakIn{Stroke: valuation.TwoStroke, Power: 90, Load: 0.5, Hours: 10, Ratio: 50}
	fuel, err := two.Fuel()
	if err != nil || math.Abs(fuel-45) > 1e-9 { // 9 gal/h x 0.5 x 10 h
		t.Errorf("fuel %v, %v", fuel, err)
	}
	oil, err := two.Oil()
	if err != nil || math.Abs(oil-45./25) > 1e-9 {
		t.Errorf("oil %v, %v", oil, err)
	}
	four := costing.BreakIn{Stroke: valuation.FourStroke, Power: 61, Load: 1, Hours: 2, Ratio: 50}
	if fuel, err = four.Fuel(); err != nil || math.Abs(fuel-10) > 1e-9 {
		t.Errorf("fuel of a four-stroke %v, %v", fuel, err)
	}
	if oil, err = four.Oil(); err != nil || oil != 0 {
		t.Errorf("a four-stroke has %v oil in its fuel, %v", oil, err)
	}
	two.Ratio = 0
	if oil, err = two.Oil(); err != nil || oil != 0 {
		t.Errorf("without a mix %v, %v", oil, err)
	}
}

func TestBreakInRefuses(t *testing.T) {
	good := costing.BreakIn{Stroke: valuation.TwoStroke, Power: 90, Load: 0.5, Hours: 10, Ratio: 50}
	for want, change := range map[string]func(*costing.BreakIn){
		"estimate break-in fuel: stroke must be two or four":               func(b *costing.BreakIn) { b.Stroke = "" },
		"estimate break-in fuel: power must be from 0 to 1000":             func(b *costing.BreakIn) { b.Power = math.NaN() },
		"estimate break-in fuel: load must be from 0 to 1":                 func(b *costing.BreakIn) { b.Load = 1.1 },
		"estimate break-in fuel: hours must be from 0 to 1000":             func(b *costing.BreakIn) { b.Hours = -1 },
		"mix fuel and oil: ratio must be more than 0, such as 50 for 50:1": func(b *costing.BreakIn) { b.Ratio = -1 },
	} {
		b := good
		change(&b)
		if _, err := b.Oil(); err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func TestThreePoint(t *testing.T) {
	// NIST/SEMATECH e-Handbook and any table of the triangular distribution: F(mode) = (c-a)/(b-a).
	p := costing.ThreePoint{Low: 2, Likely: 4, High: 10}
	if got := p.Quantile(0.25); math.Abs(got-4) > 1e-12 {
		t.Errorf("quantile at the peak %v", got)
	}
	if got, want := p.Quantile(0.5), 10-math.Sqrt(24); math.Abs(got-want) > 1e-12 {
		t.Errorf("median %v, want %v", got, want)
	}
	if p.Quantile(0) != 2 || p.Quantile(1) != 10 || math.Abs(p.Mean()-16./3) > 1e-12 {
		t.Errorf("from %v to %v, mean %v", p.Quantile(0), p.Quantile(1), p.Mean())
	}
	for _, c := range []struct{ given, want costing.ThreePoint }{
		{costing.ThreePoint{Likely: 5}, costing.ThreePoint{Low: 5, Likely: 5, High: 5}},
		{costing.ThreePoint{Low: 3, Likely: 5}, costing.ThreePoint{Low: 3, Likely: 5, High: 5}},
		{costing.ThreePoint{Likely: 5, High: 9}, costing.ThreePoint{Low: 0, Likely: 5, High: 9}},
		{costing.ThreePoint{}, costing.ThreePoint{}},
	} {
		if diff := cmp.Diff(c.want, c.given.Full()); diff != "" {
			t.Errorf("%v -want +got\n%s", c.given, diff)
		}
		if err := c.given.Check(); err != nil {
			t.Errorf("%v: %v", c.given, err)
		}
	}
	for _, bad := range []costing.ThreePoint{{Low: 2, Likely: 1, High: 3}, {Low: 1, Likely: 4, High: 3}, {Likely: -1}, {Likely: math.NaN()}, {High: math.Inf(1)}} {
		if bad.Check() == nil {
			t.Errorf("%v is taken", bad)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(0, 1e5), 3, 3).Draw(t, "points")
		slices.Sort(v)
		p := costing.ThreePoint{Low: v[0], Likely: v[1], High: v[2]}.Full()
		a, b := rapid.Float64Range(0, 1).Draw(t, "a"), rapid.Float64Range(0, 1).Draw(t, "b")
		x, y := p.Quantile(min(a, b)), p.Quantile(max(a, b))
		if x > y+1e-9 || x < p.Low-1e-9 || y > p.High+1e-9 {
			t.Fatalf("%v: quantiles %v and %v", p, x, y)
		}
	})
}
