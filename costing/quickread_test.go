package costing_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

var quickDay = day.Of(2026, 5, 20)

func quickShop() costing.QuickShop {
	return costing.QuickShop{
		Currency: money.Must("USD"), Today: quickDay,
		Goods: []costing.Good{{ID: "2", Name: "two-stroke oil", Unit: "qt"}, {ID: "4", Name: "four-stroke oil", Unit: "qt"},
			{ID: "g", Name: "gear oil", Unit: "qt"}, {ID: "p", Name: "spark plugs", Unit: "each"}, {ID: "h", Name: "fuel hose", Unit: "ft"}},
		Jobs:   []costing.Job{{ID: "c", Name: "carburettors, a set"}, {ID: "w", Name: "water pump and thermostats"}},
		Donors: []costing.Thing{{ID: "d", Name: "Tornvik 115, 1999"}, {ID: "e", Name: "Halvard 50, 1990"}},
	}
}

func TestReadQuick(t *testing.T) {
	for text, want := range map[string]string{
		"2 x impeller 14.50 harbour supply": "new part: impeller, 2 at 14.50, 29.00, from harbour supply",
		"impeller 14.50 yesterday":          "new part: impeller, 14.50, on 2026-05-19",
		"impeller 14.50 12 may":             "new part: impeller, 14.50, on 2026-05-12",
		"12 may impeller 14.50":             "new part: impeller, 14.50, on 2026-05-12",
		"impeller 14.50 on may 12":          "new part: impeller, 14.50, on 2026-05-12",
		"impeller 14.50 30 june":            "new part: impeller, 14.50, on 2025-06-30",
		"impeller 14.50 2026-01-02":         "new part: impeller, 14.50, on 2026-01-02",
		"outside welding 120 Bay Weld":      "outside work: welding, 120.00, from Bay Weld",
		"core 40 Northquay":                 "core charge, 40.00, from Northquay",
		"starter 128 core 40":               "new part: starter, 128.00, and a core charge of 40.00",
		"starter 128.00 Northquay core 40":  "new part: starter, 128.00, and a core charge of 40.00, from Northquay",
		"core plug 4.20":                    "new part: core plug, 4.20",
		"gear oil 12 floz":                  "12 fl oz of gear oil from the shelf",
		"12 fl oz gear oil":                 "12 fl oz of gear oil from the shelf",
		"gear oil 350ml yesterday":          "350 mL of gear oil from the shelf, on 2026-05-19",
		"draw plugs 4":                      "4 of spark plugs from the shelf",
		"hose 3 ft":                         "3 ft of fuel hose from the shelf",
		"gear oil 12 floz 9.50":             "new part: gear oil 12 floz, 9.50",
		"oil 12 floz":                       "12 fl oz of two-stroke oil from the shelf | 12 fl oz of four-stroke oil from the shelf | 12 fl oz of gear oil from the shelf",
		"gear oil 2":                        "new part: gear oil, 2.00 | 2 qt of gear oil from the shelf",
		"gear oil 1.5":                      "new part: gear oil, 1.50 | 1.5 qt of gear oil from the shelf",
		"gear oil 2.00":                     "new part: gear oil, 2.00",
		"gear oil $2":                       "new part: gear oil, 2.00",
		"1.5h carbs":                        "1.5 h of your own time on carbs, for the job carburettors, a set",
		"carbs 1:30":                        "1.5 h of your own time on carbs, for the job carburettors, a set",
		"45 min pump own":                   "45 min of your own time on pump, for the job water pump and thermostats",
		"90min sanding yesterday":           "1.5 h of your own time on sanding, on 2026-05-19",
		"2 h":                               "2 h of your own time",
		"2 h paid 18 second pair of hands":  "2 h paid at 18.00 an hour: second pair of hands",
		"1h30 own a":                        "1.5 h of your own time on a, for the job carburettors, a set | 1.5 h of your own time on a, for the job water pump and thermostats",
		"donor lower unit 160 tornvik":      "lower unit off Tornvik 115, 1999, worth 160.00",
		"donor lower unit 160 off halvard":  "lower unit off Halvard 50, 1990, worth 160.00",
		"donor lower unit 160":              "lower unit off Tornvik 115, 1999, worth 160.00 | lower unit off Halvard 50, 1990, worth 160.00",
		"two-stroke oil 50:1 9.50":          "new part: two-stroke oil 50:1, 9.50",
	} {
		readings, err := costing.ReadQuick(text, quickShop())
		var got []string
		for _, r := range readings {
			got = append(got, r.Words.String())
		}
		if err != nil || strings.Join(got, " | ") != want {
			t.Errorf("%q\n got %q, %v\nwant %q", text, strings.Join(got, " | "), err, want)
		}
	}
}

func TestReadQuickRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                               "nothing is written",
		"impeller":                       "no amount",
		"sealant 12 floz":                "nothing on the shelf that is measured so",
		"plugs 3 floz":                   "nothing on the shelf that is measured so",
		"12 floz":                        "does not say of what",
		"2 h paid helper":                "say what is paid",
		"2 h pump 14.50":                 "own time has the shop's rate",
		"2 h pump 3 h":                   "two times",
		"donor cowl 40 corvane":          "no motor in the shop is called",
		"impeller -14":                   "below nothing",
		"draw oil":                       "say how much",
		"impeller 14.50 2026-05-21":      "has not come yet",
		"impeller 14.50 1 jan 2027":      "has not come yet",
		strings.Repeat("a", 400) + " 14": "too long",
	} {
		if got, err := costing.ReadQuick(text, quickShop()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v, want %q", text, got, err, want)
		}
	}
}

// The job chosen beside the line is carried by whatever is read, but for a task that names another.
func TestReadQuickCarriesTheJob(t *testing.T) {
	in := quickShop()
	in.JobID = "w"
	for text, want := range map[string]string{"impeller 14.50": "w", "gear oil 12 floz": "w", "2 h sanding": "w", "2 h carbs": "c"} {
		readings, err := costing.ReadQuick(text, in)
		if err != nil || len(readings) != 1 {
			t.Fatalf("%q: %v, %v", text, readings, err)
		}
		r, got := readings[0], ""
		switch {
		case r.Session != nil:
			got = r.Session.JobID
		case r.Draw != nil:
			got = r.Draw.JobID
		default:
			got = r.Line.JobID
		}
		if got != want {
			t.Errorf("%q is for the job %q, want %q", text, got, want)
		}
	}
}

// Whatever is typed, what is read can be saved: an amount, a time or a quantity of more than nothing, a
// day that has come, and words to show.
func FuzzReadQuick(f *testing.F) {
	for _, s := range []string{"2 x impeller 14.50 harbour supply", "oil 12 floz", "1.5h carbs", "2 h paid 18 x", "donor a 1", "core 40", "29 feb a 1", "draw plugs 1/2", "a 1 core 2 core 3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { quickHolds(t, text) })
}

func TestReadQuickProperties(t *testing.T) {
	words := []string{"2", "x", "impeller", "14.50", "oil", "12", "floz", "1.5h", "carbs", "yesterday", "12", "may", "own", "paid", "18", "donor",
		"tornvik", "off", "core", "40", "draw", "plugs", "1/2", "gal", "@", "=", "6", "$3", "each", "outside", "fee", "90", "min", "50:1", "-3", "é", "2026-05-01"}
	rapid.Check(t, func(t *rapid.T) {
		quickHolds(t, strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 0, 9).Draw(t, "words"), " "))
	})
}

func quickHolds(t interface {
	Helper()
	Fatalf(string, ...any)
}, text string) {
	t.Helper()
	readings, err := costing.ReadQuick(text, quickShop())
	if (err == nil) == (len(readings) == 0) {
		t.Fatalf("%q: %d readings, %v", text, len(readings), err)
	}
	if err != nil && !utf8.ValidString(err.Error()) {
		t.Fatalf("%q: the error is no text: %q", text, err)
	}
	for _, r := range readings {
		on := r.Line.On
		switch {
		case r.Session != nil:
			on = r.Session.On
			if r.Session.Time <= 0 || r.Session.Paid != (r.Session.Rate > 0) {
				t.Fatalf("%q: %+v", text, *r.Session)
			}
		case r.Draw != nil:
			on = r.Draw.On
			if !(r.Draw.Quantity > 0) || r.Draw.GoodID == "" {
				t.Fatalf("%q: %+v", text, *r.Draw)
			}
		default:
			if r.Line.Total < 0 || !(r.Line.Quantity > 0) || r.Line.Kind == "" || r.Core != nil && r.Core.Total <= 0 {
				t.Fatalf("%q: %+v %+v", text, r.Line, r.Core)
			}
		}
		if on <= 0 || on > quickDay || r.Words.String() == "" {
			t.Fatalf("%q: on %s, %q", text, on, r.Words)
		}
	}
}
