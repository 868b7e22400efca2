package valuation

import (
	"errors"
	"math"
	"strings"
	"testing"

	"skegworth/valuation/day"
)

// refusedField is the field that an error names, "" for none.
func refusedField(t *testing.T, err error) string {
	t.Helper()
	if err == nil {
		return ""
	}
	var refused *FieldError
	if !errors.As(err, &refused) {
		t.Fatalf("%v names no field", err)
	}
	if s := err.Error(); !strings.HasPrefix(s, refused.Field+": ") || strings.Contains(s, "{{") || strings.Contains(s, "NaN") || len(s) > 200 {
		t.Errorf("not a sentence for a person: %q", s)
	}
	return refused.Field
}

func TestCheck(t *testing.T) {
	for _, c := range []struct {
		field string
		m     Motor
	}{
		{"", Motor{}},
		{"", Motor{Power: LeastPower, Year: FirstYear, Stroke: TwoStroke, State: PartsOnly}},
		{"", Motor{Power: MostPower, Year: LastYear, Shaft: 22, Looks: 5, HoursKnown: true, Compression: []float64{0, 0}}},
		{"power", Motor{Power: -1}},
		{"power", Motor{Power: math.NaN()}},
		{"power", Motor{Power: math.Inf(1)}},
		{"power", Motor{Power: 1000.5}},
		{"power", Motor{Power: 1e-300}},
		{"year", Motor{Year: 203}},
		{"year", Motor{Year: 20033}},
		{"year", Motor{Year: -1}},
		{"stroke", Motor{Stroke: "three"}},
		{"state", Motor{State: "mint"}},
		{"fuel", Motor{Fuel: "steam"}},
		{"start", Motor{Start: "hope"}},
		{"lift", Motor{Lift: "crane"}},
		{"steering", Motor{Steering: "sail"}},
		{"water", Motor{Water: "wet"}},
		{"oil", Motor{Oil: "olive"}},
		{"turns", Motor{Turns: "maybe"}},
		{"lower-unit", Motor{LowerUnit: "half"}},
		{"tank", Motor{Tank: "full"}},
		{"shaft", Motor{Shaft: 9}},
		{"shaft", Motor{Shaft: 41}},
		{"hours", Motor{Hours: -1, HoursKnown: true}},
		{"hours", Motor{Hours: math.NaN(), HoursKnown: true}},
		{"hours", Motor{Hours: math.Inf(1), HoursKnown: true}},
		{"looks", Motor{Looks: 6}},
		{"looks", Motor{Looks: -1}},
		{"cylinders", Motor{Cylinders: 13}},
		{"compression", Motor{Compression: []float64{120, math.NaN()}}},
		{"compression", Motor{Compression: []float64{-1}}},
		{"compression", Motor{Compression: make([]float64, 13)}},
		{"warranty", Motor{WarrantyDays: -1}},
		{"make", Motor{Make: "a\nb"}},
		{"model", Motor{Model: strings.Repeat("x", 300)}},
		{"bracket-number", Motor{BracketNumber: "\xff"}},
	} {
		if got := refusedField(t, c.m.Check()); got != c.field {
			t.Errorf("%+v: refused for %q, want %q", c.m, got, c.field)
		}
	}
}

func TestNeeded(t *testing.T) {
	m := Motor{}
	for _, step := range []struct {
		missing string
		give    func()
	}{
		{"power", func() { m.Power = 90 }},
		{"year", func() { m.Year = 2003 }},
		{"stroke", func() { m.Stroke = TwoStroke }},
		{"state", func() { m.State = Rebuilt }},
		{"", func() {}},
	} {
		if got := refusedField(t, m.Needed()); got != step.missing {
			t.Errorf("missing %q, want %q", got, step.missing)
		}
		step.give()
	}
}

// A model year may be the one after the sale, as makers sell ahead, and no later.
func TestYearAgainstTheSale(t *testing.T) {
	on := day.Of(2026, 4, 30)
	for year, want := range map[int]string{2026: "", 2027: "", 2028: "year", 1999: ""} {
		if got := refusedField(t, Motor{Year: year}.CheckOn(on)); got != want {
			t.Errorf("%d: refused for %q", year, got)
		}
	}
}

func TestLabelsTellWordsApart(t *testing.T) {
	seen := map[string]string{}
	note := func(key, text string) {
		if text == "" || strings.Contains(text, "{{") {
			t.Errorf("%s: %q", key, text)
		}
		if before, twice := seen[text]; twice && before != key {
			t.Errorf("%s and %s both read %q", before, key, text)
		}
		seen[text] = key
	}
	for _, w := range Strokes {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range States {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range Fuels {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range Waters {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range Starts {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range Lifts {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range Steerings {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range Oils {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range Answers {
		note(w.Label().Key, w.Label().String())
	}
	for _, w := range []How{Measured, Seen, Told} {
		note(w.Label().Key, w.Label().String())
	}
	for _, n := range Shafts {
		note(ShaftLabel(n).Key, ShaftLabel(n).String())
	}
	for n := 1; n <= 5; n++ {
		note(LooksLabel(n).Key, LooksLabel(n).String())
	}
	if got := Runs.Label().Key; got != "state.runs" {
		t.Errorf("key of runs is %q", got)
	}
	for _, s := range []string{State("").Label().String(), LooksLabel(0).String(), ShaftLabel(0).String(), How("").Label().String()} {
		if s != "not known" {
			t.Errorf("nothing known reads %q", s)
		}
	}
	if got := State("odd").Label().String(); got != "odd" {
		t.Errorf("a word without label reads %q", got)
	}
}
