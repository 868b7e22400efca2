package costing_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
)

func TestEveryTrialHasItsWords(t *testing.T) {
	for _, trial := range costing.Trials {
		if trial.Name().String() == "" {
			t.Errorf("%s has no name", trial)
		}
		if trial.How().String() == string(trial) {
			t.Errorf("%s does not say how it is done", trial)
		}
	}
	for _, hurts := range []costing.Trial{costing.Compression, costing.Spark, costing.TurnsByHand, costing.Telltale, costing.LowerHolds, costing.PropShaft} {
		if len(hurts.Cautions()) == 0 {
			t.Errorf("%s stands without a caution", hurts)
		}
	}
}

func TestSpreadOfCylinders(t *testing.T) {
	for _, c := range []struct {
		readings []float64
		share    float64
		lowest   int
		ok       bool
	}{
		{[]float64{120, 118, 90}, 0.25, 3, true},
		{[]float64{100, 100}, 0, 1, true},
		{[]float64{0, 110}, 1, 1, true},
		{[]float64{110}, 0, 0, false},
		{[]float64{0, 0}, 0, 0, false},
		{nil, 0, 0, false},
	} {
		share, lowest, ok := costing.Spread(c.readings)
		if share != c.share || lowest != c.lowest || ok != c.ok {
			t.Errorf("%v: %v, %d, %v", c.readings, share, lowest, ok)
		}
	}
}

func TestFindings(t *testing.T) {
	for _, c := range []struct {
		check costing.Check
		want  string
	}{
		{costing.Check{Trial: costing.Compression, Readings: []float64{120, 118, 90}}, "Cylinder 3 is 25 % below the best; within about 10 % of each other is common practice."},
		{costing.Check{Trial: costing.Compression, Readings: []float64{120, 118}}, "The lowest is 2 % below the best: even."},
		{costing.Check{Trial: costing.Compression, Readings: []float64{0, 0}}, "No compression on any cylinder."},
		{costing.Check{Trial: costing.Compression, Readings: []float64{90, 90}, Throttle: valuation.No}, "The lowest is 0 % below the best: even. The throttle was shut: readings are low and do not compare."},
		{costing.Check{Trial: costing.LeakDown, Readings: []float64{8, 35, 10}}, "The worst is number 2, which loses 35 %."},
		{costing.Check{Trial: costing.Spark, Verdict: costing.Fail}, ""},
	} {
		var all []string
		for _, f := range c.check.Findings() {
			all = append(all, f.String())
		}
		if got := strings.Join(all, " "); got != c.want {
			t.Errorf("%+v: %q, want %q", c.check, got, c.want)
		}
	}
	cold := costing.Check{Trial: costing.Compression, Readings: []float64{100, 100}, Heat: costing.Cold, Gauge: "old"}
	warm := costing.Check{Trial: costing.Compression, Readings: []float64{110, 110}, Heat: costing.Warm, Gauge: "new"}
	if got := len(cold.Compare(warm)); got != 2 {
		t.Errorf("cold and warm, two gauges: %d warnings", got)
	}
	if got := cold.Compare(cold); got != nil {
		t.Errorf("the same compares badly: %v", got)
	}
}

func TestChecksThatCannotBe(t *testing.T) {
	for _, c := range []costing.Check{
		{Trial: "seance"}, {Trial: costing.Spark, Readings: []float64{1}}, {Trial: costing.Compression, Readings: []float64{-1}},
		{Trial: costing.Compression, Readings: []float64{1e9}}, {Trial: costing.LeakDown, Readings: []float64{101}},
		{Trial: costing.Compression, Readings: make([]float64, 25)}, {Trial: costing.LowerHolds, Minutes: -1},
	} {
		if c.Check() == nil {
			t.Errorf("%+v was taken", c)
		}
	}
}

func TestReadingsInTheShopsUnit(t *testing.T) {
	got, err := costing.ParseReadings(costing.Compression, "8,3 8.1 / 8", "bar")
	if err != nil || len(got) != 3 || !near(got[0], 120.381, 1e-4) { // 8.3 bar / 6.894757 kPa per psi (NIST SP 811)
		t.Errorf("read %v, %v", got, err)
	}
	if text := costing.WriteReadings(costing.Compression, got, "bar"); text != "8.3 8.1 8" {
		t.Errorf("wrote %q", text)
	}
	if _, err := costing.ParseReadings(costing.Compression, "120 good", "psi"); err == nil {
		t.Error("good is a reading")
	}
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"psi", "bar", "kPa"}).Draw(t, "unit")
		readings := rapid.SliceOfN(rapid.Float64Range(20, 300), 1, 8).Draw(t, "readings")
		text := costing.WriteReadings(costing.Compression, readings, unit)
		again, err := costing.ParseReadings(costing.Compression, text, unit)
		if err != nil || costing.WriteReadings(costing.Compression, again, unit) != text {
			t.Fatalf("%q came back as %v, %v", text, again, err)
		}
	})
}

func TestChecksDescribeTheMotor(t *testing.T) {
	r := costing.Record{Motor: valuation.Motor{Power: 25, Compression: []float64{90, 60}, Turns: valuation.Yes, HowKnown: map[string]valuation.How{"hours": valuation.Told}},
		Checks: []costing.Check{
			{Trial: costing.Compression, When: costing.Before, Readings: []float64{90, 60}},
			{Trial: costing.Compression, When: costing.After, Readings: []float64{118, 116}},
			{Trial: costing.TurnsByHand, When: costing.Before, Verdict: costing.Pass},
			{Trial: costing.Plate, When: costing.Before, Verdict: costing.Fail},
			{Trial: costing.OilInjected, When: costing.After, Verdict: costing.Doubt},
		}}
	var fields []string
	for _, f := range r.Feeds() {
		fields = append(fields, f.Field)
	}
	if d := cmp.Diff([]string{"compression", "plate"}, fields); d != "" {
		t.Errorf("tells (- want, + got):\n%s", d)
	}
	before := r.Motor.HowKnown
	if err := r.Describe(); err != nil {
		t.Fatal(err)
	}
	if r.Motor.Compression[0] != 118 || r.Motor.Plate != valuation.No || r.Motor.HowKnown["compression"] != valuation.Measured || r.Motor.HowKnown["hours"] != valuation.Told {
		t.Errorf("described as %+v", r.Motor)
	}
	if len(before) != 1 {
		t.Error("the old description's table was written to")
	}
	if len(r.Feeds()) != 0 {
		t.Errorf("still tells %v", r.Feeds())
	}
}
