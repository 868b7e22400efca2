package valuation

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestSetTakesWhatPeopleWrite(t *testing.T) {
	for _, c := range []struct {
		field string
		texts []string
		want  Motor
	}{
		{"make", []string{"Halvard", "  Halvard "}, Motor{Make: "Halvard"}},
		{"Model", []string{"Sea  Drive 90"}, Motor{Model: "Sea Drive 90"}},
		{"power", []string{"90", "90 hp", "90hp", "90.0", "90 HP", "90 bhp", "+90", "90."}, Motor{Power: 90}},
		{"POWER", []string{"9.9", "9,9", "9.9 hp", "9,9hp"}, Motor{Power: 9.9}},
		{"hp", []string{"about 90", "~90", "ca. 90 hp", "approx 90", "90?", "circa 90hp"}, Motor{Power: 90, PowerAbout: true}},
		{"power", []string{"67 kW", "67kW", "67 kilowatts"}, Motor{Power: math.Round(67/0.745699872*1e4) / 1e4}},
		{"power", []string{"100 PS", "100cv", "100 ch"}, Motor{Power: 98.632}},
		{"year", []string{"2003", "2003.0", "+2003"}, Motor{Year: 2003}},
		{"model year", []string{"about 2003", "~2003", "ca 2003", "2003?", "c. 2003"}, Motor{Year: 2003, YearAbout: true}},
		{"stroke", []string{"two", "2", "TWO", "two-stroke", "2-stroke", "2 Stroke", "2T", "2-cycle", "dos tiempos"}, Motor{Stroke: TwoStroke}},
		{"stroke", []string{"four", "4", "Four Stroke", "4T", "4-takt"}, Motor{Stroke: FourStroke}},
		{"state", []string{"parts", "Parts only", "for parts"}, Motor{State: PartsOnly}},
		{"state", []string{"dead", "does not run", "doesn't run", "non-running"}, Motor{State: Dead}},
		{"state", []string{"runs", "RUNNING", "works"}, Motor{State: Runs}},
		{"state", []string{"serviced", "tuned-up"}, Motor{State: Serviced}},
		{"state", []string{"rebuilt", "overhauled", "Re-built"}, Motor{State: Rebuilt}},
		{"fuel", []string{"carburettor", "carburetor", "carb", "Carbs"}, Motor{Fuel: Carburettor}},
		{"fuel", []string{"injected", "EFI", "fuel injection", "inyección"}, Motor{Fuel: Injected}},
		{"fuel", []string{"direct", "DI", "direct-injection"}, Motor{Fuel: Direct}},
		{"shaft", []string{"20", "20 in", `20"`, "20″", "long", "L", "508 mm", "51 cm", "20.0", "20 inches"}, Motor{Shaft: 20}},
		{"shaft", []string{"15", "short", "S"}, Motor{Shaft: 15}},
		{"shaft length", []string{"25", "XL", "extra-long", "extra long"}, Motor{Shaft: 25}},
		{"start", []string{"pull", "rope", "manual"}, Motor{Start: Pull}},
		{"start", []string{"electric", "E", "key"}, Motor{Start: Electric}},
		{"lift", []string{"manual", "by hand"}, Motor{Lift: ManualLift}},
		{"lift", []string{"power", "PTT", "power trim & tilt", "hydraulic"}, Motor{Lift: PowerLift}},
		{"lift", []string{"assist", "gas-assist"}, Motor{Lift: AssistLift}},
		{"steering", []string{"tiller"}, Motor{Steering: Tiller}},
		{"steering", []string{"remote", "wheel"}, Motor{Steering: Remote}},
		{"water", []string{"salt", "Salt water", "sea"}, Motor{Water: Salt}},
		{"water", []string{"fresh", "freshwater", "lake"}, Motor{Water: Fresh}},
		{"water", []string{"mixed", "both", "brackish"}, Motor{Water: Mixed}},
		{"hours", []string{"120", "120 h", "120 hours", "120.0"}, Motor{Hours: 120, HoursKnown: true}},
		{"hours", []string{"0", "0h"}, Motor{HoursKnown: true}},
		{"hours", []string{"1,200", "1200 hrs"}, Motor{Hours: 1200, HoursKnown: true}},
		{"looks", []string{"4", "4/5", "4 of 5", "4.0"}, Motor{Looks: 4}},
		{"condition", []string{"5"}, Motor{Looks: 5}},
		{"oil", []string{"none", "premix", "never had"}, Motor{Oil: NoInjection}},
		{"oil", []string{"working", "works"}, Motor{Oil: InjectionWorks}},
		{"oil", []string{"removed", "disconnected"}, Motor{Oil: InjectionRemoved}},
		{"cylinders", []string{"3", "3 cyl"}, Motor{Cylinders: 3}},
		{"compression", []string{"120 118 95", "120/118/95", "120;118;95", "120, 118, 95", "120,118,95", "120 118 95 psi"}, Motor{Compression: []float64{120, 118, 95}}},
		{"compression", []string{"8,2 8,1 6,5 bar", "8.2/8.1/6.5 bar"}, Motor{Compression: []float64{118.93, 117.48, 94.27}}},
		{"turns", []string{"yes", "Y", "1", "x", "sí", "turns"}, Motor{Turns: Yes}},
		{"turns", []string{"no", "seized", "stuck", "0", "false"}, Motor{Turns: No}},
		{"lower unit", []string{"yes", "complete"}, Motor{LowerUnit: Yes}},
		{"lower_unit", []string{"no", "missing"}, Motor{LowerUnit: No}},
		{"parts-supplied", []string{"no", "orphan"}, Motor{PartsSupplied: No}},
		{"plate", []string{"no", "missing"}, Motor{Plate: No}},
		{"Shown Running", []string{"yes"}, Motor{ShownRunning: Yes}},
		{"prop", []string{"included"}, Motor{Propeller: Yes}},
		{"warranty", []string{"30", "30 days"}, Motor{WarrantyDays: 30}},
		{"warranty", []string{"3 months", "90"}, Motor{WarrantyDays: 90}},
		{"about-year", []string{"yes", "1", "TRUE"}, Motor{YearAbout: true}},
		{"about-power", []string{"yes"}, Motor{PowerAbout: true}},
		{"old-rating", []string{"yes"}, Motor{OldRating: true}},
		{"bracket number", []string{"H90-1234"}, Motor{BracketNumber: "H90-1234"}},
	} {
		for _, text := range c.texts {
			var m Motor
			if err := m.Set(c.field, text); err != nil {
				t.Errorf("%s %q: %v", c.field, text, err)
				continue
			}
			if diff := cmp.Diff(c.want, m); diff != "" {
				t.Errorf("%s %q: -want +got\n%s", c.field, text, diff)
			}
		}
	}
}

func TestSetRefusesNonsense(t *testing.T) {
	for field, texts := range map[string][]string{
		"power":       {"ninety", "0", "-5", "1001", "1e3", "0x5A", "NaN", "Inf", "90 furlongs", "90 90", "9.9.9", "90%", "hp", "1 000 000 hp", "5000 kW", "99999999999999999999999999", "90,", ",5"},
		"year":        {"03", "1899", "2101", "next year", "2003.5", "2003-2005", "2003 hp", "20033", "-2003"},
		"stroke":      {"three", "3", "22", "diesel"},
		"state":       {"mint", "ok", "rebuilding it", "5"},
		"fuel":        {"petrol", "diesel"},
		"shaft":       {"9", "41", "508", "2 m", "wide", "20%"},
		"start":       {"slow"},
		"lift":        {"5"},
		"steering":    {"left"},
		"water":       {"wet"},
		"hours":       {"-1", "many", "1e9", "200000", "10 km"},
		"looks":       {"0", "6", "3.5", "good", "3/4", "-1"},
		"condition":   {"7"},
		"oil":         {"olive"},
		"cylinders":   {"0", "13", "2.5", "V4"},
		"compression": {"high", "120 x 95", "120 -5", "2000", "1 2 3 4 5 6 7 8 9 10 11 12 13", "/", "psi", "about 120"},
		"turns":       {"maybe", "2"},
		"warranty":    {"-1", "a while", "5000", "1.5"},
		"make":        {strings.Repeat("x", 300), "a\x00b", "bad\xff"},
		"about-year":  {"roughly"},
	} {
		for _, text := range texts {
			before := Motor{Make: "Corvane", Power: 40, Year: 1999, Looks: 2, Compression: []float64{1, 2}}
			m := before
			err := m.Set(field, text)
			var refused *FieldError
			if !errors.As(err, &refused) {
				t.Errorf("%s %q: got %v", field, text, err)
				continue
			}
			name, ok := findField(field)
			if !ok || refused.Field != name.name {
				t.Errorf("%s %q: the error names %q", field, text, refused.Field)
			}
			if !strings.HasPrefix(err.Error(), refused.Field+": ") || strings.ContainsAny(err.Error(), "\n\r\x00") || strings.Contains(err.Error(), "{{") {
				t.Errorf("%s %q: not one sentence: %q", field, text, err)
			}
			if diff := cmp.Diff(before, m); diff != "" {
				t.Errorf("%s %q: refused, and yet changed\n%s", field, text, diff)
			}
		}
	}
}

func TestSetForgets(t *testing.T) {
	full := newWorld(3, 1200).motor()
	full.PowerAbout, full.YearAbout, full.OldRating = true, true, true
	full.Model, full.BracketNumber, full.PowerheadNumber, full.WarrantyDays = "Drive", "b1", "p1", 30
	for _, blank := range []string{"", "  ", "?"} {
		m := full
		for _, f := range Fields() {
			if err := m.Set(f.Name, blank); err != nil {
				t.Errorf("%s: %v", f.Name, err)
			}
		}
		if diff := cmp.Diff(Motor{}, m); diff != "" {
			t.Errorf("%q: left over\n%s", blank, diff)
		}
	}
	for _, word := range []string{"unknown", "not known", "n/a", "-", "—"} {
		m := full
		if err := m.Set("water", word); err != nil || m.Water != "" {
			t.Errorf("water %q: %q, %v", word, m.Water, err)
		}
	}
}

func TestSetInKilowatts(t *testing.T) {
	for text, want := range map[string]float64{"67": 89.8485, "67 kW": 89.8485, "90 hp": 90} {
		var m Motor
		if err := m.SetIn("power", text, true); err != nil {
			t.Fatal(err)
		}
		near(t, text, m.Power, want, 1e-9)
	}
	var m Motor
	if err := m.SetIn("year", "2003", true); err != nil || m.Year != 2003 {
		t.Errorf("year: %v, %v", m.Year, err)
	}
}

// A plain number clears the mark of a guess, and about-power sets it again.
func TestSetAbout(t *testing.T) {
	var m Motor
	for _, step := range []struct {
		field, text string
		want        bool
	}{{"power", "about 90", true}, {"power", "90", false}, {"about-power", "yes", true}, {"about-power", "no", false}} {
		if err := m.Set(step.field, step.text); err != nil {
			t.Fatal(err)
		}
		if m.PowerAbout != step.want {
			t.Errorf("%s %s: about is %v", step.field, step.text, m.PowerAbout)
		}
	}
}

func TestUnknownField(t *testing.T) {
	var m Motor
	err := m.Set("colour", "red")
	var refused *FieldError
	if !errors.As(err, &refused) || refused.Field != "colour" {
		t.Errorf("got %v", err)
	}
	if m.Text("colour") != "" || FieldLabel("colour").String() != "colour" {
		t.Error("an unknown field has text or label")
	}
}

// What Text writes, Set reads back.
func TestTextAndSetAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := newWorld(rapid.Uint64().Draw(t, "seed"), 1200)
		m := w.told(w.motor(), 0.3)
		m.Power = rapid.Float64Range(LeastPower, MostPower).Draw(t, "power")
		m.PowerAbout, m.YearAbout = rapid.Bool().Draw(t, "power about"), rapid.Bool().Draw(t, "year about")
		m.WarrantyDays = rapid.IntRange(0, 400).Draw(t, "warranty")
		m.Oil = rapid.SampledFrom(append([]Oil{""}, Oils...)).Draw(t, "oil")
		var back Motor
		for _, f := range Fields() {
			if err := back.Set(f.Name, m.Text(f.Name)); err != nil {
				t.Fatal(err)
			}
		}
		if diff := cmp.Diff(m, back); diff != "" {
			t.Fatal(diff)
		}
	})
}

// Every fact of Motor but how it is known can be set, and every field says what it is.
func TestFieldsCoverTheMotor(t *testing.T) {
	names := map[string]bool{}
	for _, f := range Fields() {
		if names[f.Name] || f.Label.Empty() || f.Meaning.Empty() {
			t.Errorf("field %q: twice, or without words", f.Name)
		}
		names[f.Name] = true
		for _, word := range f.Choices {
			var m Motor
			if err := m.Set(f.Name, word); err != nil {
				t.Errorf("%s refuses its own choice %q: %v", f.Name, word, err)
			}
		}
	}
	for _, name := range strings.Fields(`make model power year stroke fuel shaft start lift steering water hours looks condition
		state oil cylinders compression turns submerged lower-unit welded parts-supplied plate shown-running controls
		propeller tank helm warranty about-year about-power`) {
		if _, ok := findField(name); !ok {
			t.Errorf("no field %q", name)
		}
	}
	facts := reflect.TypeFor[Motor]().NumField() - len([]string{"HoursKnown", "HowKnown"})
	if len(names) != facts {
		t.Errorf("%d fields for %d facts", len(names), facts)
	}
}

func FuzzSet(f *testing.F) {
	for i, text := range []string{"90", "about 67 kW", "~2003", "2-stroke", "120/118/95 psi", "508 mm", "9,9", "1.250,5", "4/5", "\xff", "1e309", "-0", "sí"} {
		f.Add(Fields()[i].Name, text, i%2 == 0)
	}
	f.Fuzz(func(t *testing.T, name, text string, kW bool) {
		var m Motor
		err := m.SetIn(name, text, kW)
		if err != nil {
			var refused *FieldError
			if !errors.As(err, &refused) {
				t.Fatalf("%v is no FieldError", err)
			}
			if utf8.RuneCountInString(err.Error()) > 400 || strings.ContainsAny(err.Error(), "\r\n\x00") {
				t.Fatalf("not one short sentence: %q", err)
			}
			if diff := cmp.Diff(Motor{}, m); diff != "" {
				t.Fatalf("refused, and yet changed\n%s", diff)
			}
			return
		}
		if err := m.Check(); err != nil {
			t.Fatalf("%s %q was taken and then refused: %v", name, text, err)
		}
		var back Motor
		if err := back.Set(name, m.Text(name)); err != nil {
			t.Fatalf("%s %q reads as %q, which is refused: %v", name, text, m.Text(name), err)
		}
		if diff := cmp.Diff(m, back); diff != "" {
			t.Fatalf("%s %q: written and read again\n%s", name, text, diff)
		}
	})
}
