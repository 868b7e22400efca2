package shop

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
)

func TestParseRatio(t *testing.T) {
	for text, want := range map[string]float64{
		"50:1": 50, "50": 50, " 25 : 1 ": 25, "1:50": 50, "100 to 1": 100, "2:100": 50, "33,3:1": 33.3, "16": 16,
	} {
		if got, err := ParseRatio(text); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%q is %v, want %v; %v", text, got, want, err)
		}
	}
	for _, text := range []string{"", "x", "50:", ":1", "50:1:1", "0", "-50", "NaN", "Inf", "3:1", "5000", "50 %", "1:0"} {
		if got, err := ParseRatio(text); err == nil || !strings.HasPrefix(err.Error(), "ratio: ") {
			t.Errorf("%q is %v, %v", text, got, err)
		}
	}
}

// The table printed on cans, in US measures: a gallon is 128 fl oz, so 6 gal at 50:1 take 15.36 fl oz; and
// 20 L take 400 mL. A US fluid ounce is 29.5735 mL (NIST Handbook 44, appendix C).
func TestPremix(t *testing.T) {
	s := fresh(t)
	for _, c := range []struct {
		fuel        float64
		unit, ratio string
		oil, first  string
	}{
		{6, "gal", "50:1", "15.4 fl oz (454 mL) of oil in 6 gal of fuel is 50:1.", "30.7 fl oz (908 mL), which is 25:1"},
		{3, "gal", "24:1", "16.0 fl oz (473 mL) of oil in 3 gal of fuel is 24:1.", "32.0 fl oz (946 mL), which is 12:1"},
		{20, "L", "50", "13.5 fl oz (400 mL) of oil in 20 L of fuel is 50:1.", "27.1 fl oz (800 mL), which is 25:1"},
		{1, "gal", "1:100", "1.3 fl oz (38 mL) of oil in 1 gal of fuel is 100:1.", "2.6 fl oz (76 mL), which is 50:1"},
	} {
		m, err := s.Premix(c.fuel, c.unit, c.ratio)
		ok(t, err)
		if m.Answer.String() != c.oil || !strings.Contains(m.First.String(), c.first) {
			t.Errorf("%v %s at %s: %q, %q", c.fuel, c.unit, c.ratio, m.Answer, m.First)
		}
		if !strings.Contains(m.First.String(), "common practice") || !strings.Contains(m.First.String(), "maker's manual comes first") {
			t.Errorf("the break-in mix is given as more than common practice: %q", m.First)
		}
	}
	for what, m := range map[string]struct {
		fuel        float64
		unit, ratio string
	}{"fuel: ": {0, "gal", "50"}, "ratio: ": {6, "gal", ""}, "unit of fuel: ": {6, "lb", "50"}} {
		if _, err := s.Premix(m.fuel, m.unit, m.ratio); err == nil || !strings.HasPrefix(err.Error(), what) {
			t.Errorf("want an error about %s, got %v", what, err)
		}
	}
}

func TestFirstRun(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s) // a two-stroke of 90 hp: full throttle burns 9 gal an hour by the rule of a tenth
	run, err := s.FirstRun(id, 2, 0.5)
	ok(t, err)
	if run.Fuel != 9 || run.Unit != "gal" || !strings.Contains(run.Words.String(), "about 9 gal in those 2 h") {
		t.Errorf("two hours at half power: %v %s, %q", run.Fuel, run.Unit, run.Words)
	}
	ok(t, s.ChangeSettings("volume", func(x *costing.Settings) { x.Volume = "L" }))
	if run, err = s.FirstRun(id, 2, 0.5); err != nil || run.Fuel != 34.07 || run.Unit != "L" { // 9 gal of 3.785 L
		t.Errorf("in litres: %v %s, %v", run.Fuel, run.Unit, err)
	}
	ok(t, s.Change(id, "stroke", func(r *costing.Record) { r.Motor.Stroke = valuation.FourStroke }))
	if run, err = s.FirstRun(id, 2, 0.5); err != nil || !strings.Contains(run.Words.String(), "does not run on a mix") {
		t.Errorf("a four-stroke: %q, %v", run.Words, err)
	}
	blank, err := s.AddProspect()
	ok(t, err)
	if _, err := s.FirstRun(blank, 2, 0.5); err == nil {
		t.Error("a run was estimated for a motor of no known power")
	}
	if _, err := s.FirstRun(id, 0, 0.5); err == nil {
		t.Error("a run of no hours was estimated")
	}
}

func TestBookMixIsOneChange(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 10000}))
	oil, err := s.AddGood(NewGood{Name: "two-stroke oil", Unit: "qt", Quantity: 4, Paid: 4000})
	ok(t, err)
	fuel, err := s.AddGood(NewGood{Name: "petrol", Unit: "gal", Quantity: 10, Paid: 4000})
	ok(t, err)
	mix, err := s.Premix(5, "gal", "40:1") // an eighth of a gallon of oil: half a quart
	ok(t, err)
	before, err := s.Record(id)
	ok(t, err)
	ok(t, s.BookMix(MixBooking{MotorID: id, Mix: mix, First: true, OilID: oil, FuelID: fuel}))
	left := func(good string) float64 {
		v, err := s.GoodOf(good)
		ok(t, err)
		return v.Stock.Quantity
	}
	if left(oil) != 3 || left(fuel) != 5 { // double the oil
		t.Errorf("left %v qt of oil, %v gal of fuel", left(oil), left(fuel))
	}
	after, err := s.Record(id)
	ok(t, err)
	if got := after.Sheet(0, 0).Of(costing.Consumables) - before.Sheet(0, 0).Of(costing.Consumables); got != 1000+2000 {
		t.Errorf("the motor was charged %d", got)
	}
	if _, done, err := s.Undo(); err != nil || !done || left(oil) != 4 || left(fuel) != 10 {
		t.Errorf("one undo leaves %v qt and %v gal", left(oil), left(fuel))
	}
	ok(t, s.BookMix(MixBooking{MotorID: id, Mix: mix, OilID: oil}))
	if left(oil) != 3.5 || left(fuel) != 10 {
		t.Errorf("the running mix leaves %v qt, %v gal", left(oil), left(fuel))
	}
	for what, b := range map[string]MixBooking{
		"no oil":        {MotorID: id, Mix: mix},
		"oil as fuel":   {MotorID: id, Mix: mix, OilID: oil, FuelID: oil},
		"no motor":      {Mix: mix, OilID: oil},
		"nothing mixed": {MotorID: id, OilID: oil},
	} {
		if s.BookMix(b) == nil {
			t.Errorf("%s: it was booked", what)
		}
	}
	if left(oil) != 3.5 {
		t.Error("a refused mix took oil")
	}
}

// Oil and fuel are always as the ratio says, whatever they are measured in.
func TestPremixKeepsTheRatio(t *testing.T) {
	s := fresh(t)
	rapid.Check(t, func(t *rapid.T) {
		fuel := rapid.Float64Range(0.01, 1000).Draw(t, "fuel")
		ratio := rapid.IntRange(leastRatio, mostRatio).Draw(t, "ratio")
		unit := rapid.SampledFrom(costing.Compatible("gal")).Draw(t, "unit")
		m, err := s.Premix(fuel, unit, costing.Measure(float64(ratio), "")+":1")
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(m.Oil*float64(ratio)-fuel) > 1e-9*fuel || math.Abs(m.BreakIn-2*m.Oil) > 1e-9*m.Oil {
			t.Fatalf("%v %s at %d:1: oil %v, first %v", fuel, unit, ratio, m.Oil, m.BreakIn)
		}
	})
}
