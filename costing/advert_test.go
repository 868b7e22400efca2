package costing_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/say"
)

func english(s say.Sentence) string { return s.String() }

// A motor of which much is known, and the whole of what is posted of it.
func TestAdvert(t *testing.T) {
	r := costing.Record{
		Stage: costing.Listed, Ask: 165000, OwnWords: "Stored indoors.",
		Motor: valuation.Motor{Make: "Halvard", Power: 90, Year: 2003, Stroke: valuation.TwoStroke, State: valuation.Rebuilt, Cylinders: 3, Fuel: valuation.Carburettor, Shaft: 20,
			Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote, Water: valuation.Fresh, Hours: 412, HoursKnown: true, HowKnown: map[string]valuation.How{"hours": valuation.Told},
			Looks: 4, Oil: valuation.InjectionRemoved, ShownRunning: valuation.Yes, Controls: valuation.Yes, Propeller: valuation.Yes, Tank: valuation.No, WarrantyDays: 30,
			BracketNumber: "A-1", PowerheadNumber: "A 2"},
		Jobs: []costing.Job{{Name: "top end", DoneOn: 9}, {Name: "water pump and thermostats", DoneOn: 9}, {Name: "powerhead swap"}},
		Checks: []costing.Check{
			{Trial: costing.Compression, When: costing.Before, Readings: []float64{120, 60, 118}},
			{Trial: costing.Compression, When: costing.After, Readings: []float64{122, 120, 121}, Heat: costing.Warm, Verdict: costing.Pass},
			{Trial: costing.Spark, When: costing.After, Verdict: costing.Pass},
			{Trial: costing.GearOil, When: costing.Before, Verdict: costing.Doubt},
			{Trial: costing.ShiftTilt, When: costing.After, Verdict: costing.Fail}},
		Snags: []costing.Snag{{Kind: costing.Faulty, Text: "trim gauge"}, {Kind: costing.ToDo, Text: "wax the cowl"}, {Kind: costing.Missing, Text: "cowl seal", DoneOn: 9}},
	}
	s := costing.DefaultSettings()
	s.BarredWaters, s.ListingEnd = "Lake Orrin and the upper Tamble.", "To be seen in Harrow Bay."
	want := `Halvard 90, 2003, two-stroke outboard

90 hp, two-stroke, 3 cylinders, carburettor, long shaft (20 in), electric start, power trim and tilt, remote steering. Hours: 412, as the last owner told it. Run in fresh water.

It has been rebuilt. You can see it run before you buy. Light marks, decals readable.

Done here: top end, water pump and thermostats.

Compression 122, 120, 121 psi, warm. Checked and good: spark, compression.

Comes with: controls and harness, propeller. Without: fuel tank. Warranty: 30 days.

The numbers on the bracket and on the powerhead are not the same: the powerhead is from another motor. The oil injection was taken off: mix oil into the fuel. Not right before the work, and not checked since: gear oil. Not right: shift, tilt and steering. Broken: trim gauge. Some waters do not allow older two-strokes; here that is Lake Orrin and the upper Tamble. Ask before you buy.

Price: 1,650 USD.

Stored indoors. To be seen in Harrow Bay.`
	if got := r.Advert(s).Text(english); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	short := r.ShortAdvert(s).Text(english)
	for _, must := range []string{"Halvard 90, 2003, two-stroke outboard\n\nIt has been rebuilt.", "the powerhead is from another motor", "Not right: shift", "Lake Orrin", "Price: 1,650 USD. Warranty: 30 days.", "Harrow Bay"} {
		if !strings.Contains(short, must) {
			t.Errorf("the short one lacks %q:\n%s", must, short)
		}
	}
	if len(short) >= len(want) {
		t.Errorf("the short one is %d long, the long one %d", len(short), len(want))
	}
	s.Pressure, s.PowerUnit, s.Currency = "bar", "kW", "EUR"
	if got := r.Advert(s).Text(english); !strings.Contains(got, "67.1 kW") || !strings.Contains(got, "Compression 8.4, 8.3, 8.3 bar, warm.") || !strings.Contains(got, "1,650 EUR") {
		t.Errorf("in other units:\n%s", got)
	}
}

// What a buyer must know, a fact each, in the long one and in the short one; and nothing of it where the
// fact is not so.
func TestAnAdvertTellsWhatABuyerMustKnow(t *testing.T) {
	s := costing.DefaultSettings()
	s.BarredWaters = "Lake Orrin"
	sound := func() costing.Record {
		return costing.Record{Motor: valuation.Motor{Power: 40, Stroke: valuation.FourStroke, State: valuation.Runs, HoursKnown: true, Hours: 80}}
	}
	for _, c := range []struct {
		says string
		make func(*costing.Record)
	}{
		{"the powerhead is from another motor", func(r *costing.Record) { r.Motor.BracketNumber, r.Motor.PowerheadNumber = "1", "2" }},
		{"The serial plate is missing.", func(r *costing.Record) { r.Motor.Plate = valuation.No }},
		{"welded or sleeved", func(r *costing.Record) { r.Motor.Welded = valuation.Yes }},
		{"It was under water once.", func(r *costing.Record) { r.Motor.Submerged = valuation.Yes }},
		{"oil injection was taken off", func(r *costing.Record) { r.Motor.Oil = valuation.InjectionRemoved }},
		{"lower unit is missing", func(r *costing.Record) { r.Motor.LowerUnit = valuation.No }},
		{"no longer made", func(r *costing.Record) { r.Motor.PartsSupplied = valuation.No }},
		{"hours it has run is not known", func(r *costing.Record) { r.Motor.HoursKnown = false }},
		{"It is seized", func(r *costing.Record) { r.Motor.State, r.Motor.Turns = valuation.Dead, valuation.No }},
		{"It does not run.", func(r *costing.Record) { r.Motor.State = valuation.Dead }},
		{"For parts only.", func(r *costing.Record) { r.Motor.State = valuation.PartsOnly }},
		{"I cannot show it running.", func(r *costing.Record) { r.Motor.ShownRunning = valuation.No }},
		{"Lake Orrin", func(r *costing.Record) { r.Motor.Stroke = valuation.TwoStroke }},
		{"Not right: spark.", func(r *costing.Record) {
			r.Checks = []costing.Check{{Trial: costing.Spark, When: costing.Before, Verdict: costing.Fail}}
		}},
		{"In doubt: spark.", func(r *costing.Record) {
			r.Checks = []costing.Check{{Trial: costing.Spark, When: costing.After, Verdict: costing.Doubt}}
		}},
		{"Missing: cowl seal.", func(r *costing.Record) { r.Snags = []costing.Snag{{Kind: costing.Missing, Text: "cowl seal"}} }},
	} {
		clean, r := sound(), sound()
		c.make(&r)
		for _, text := range []string{r.Advert(s).Text(english), r.ShortAdvert(s).Text(english)} {
			if !strings.Contains(text, c.says) {
				t.Errorf("%q is not in\n%s", c.says, text)
			}
		}
		if text := clean.Advert(s).Text(english); strings.Contains(text, c.says) {
			t.Errorf("%q is said of a motor of which it is not so:\n%s", c.says, text)
		}
	}
	direct := sound()
	direct.Motor.Stroke, direct.Motor.Fuel = valuation.TwoStroke, valuation.Direct
	if text := direct.Advert(s).Text(english); strings.Contains(text, "Lake Orrin") {
		t.Errorf("direct injection is told to be barred:\n%s", text)
	}
	if text := (costing.Record{}).Advert(costing.Settings{}).Text(english); text != "Outboard\n\nHow many hours it has run is not known." {
		t.Errorf("of a motor nothing is known of it says\n%s", text)
	}
}

// Whatever is written down, an advertisement tells no cost and no day of buying, and leaves no hole open.
// A job with a comma in its name stays one job, whatever stands beside it.
func TestAnAdvertKeepsANameWithACommaTogether(t *testing.T) {
	for _, c := range []struct {
		jobs []string
		want string
	}{
		{[]string{"head gasket, two-stroke"}, "Done here: head gasket, two-stroke."},
		{[]string{"head gasket, two-stroke", "water pump"}, "Done here: head gasket, two-stroke; water pump."},
		{[]string{"water pump", "coils", "head gasket, two-stroke"}, "Done here: water pump; coils; head gasket, two-stroke."},
		{[]string{"water pump", "coils"}, "Done here: water pump, coils."},
	} {
		var r costing.Record
		for _, name := range c.jobs {
			r.Jobs = append(r.Jobs, costing.Job{Name: name, DoneOn: 9})
		}
		if got := r.Advert(costing.DefaultSettings()).Text(english); !strings.Contains(got, c.want+"\n") {
			t.Errorf("%q lacks %q", got, c.want)
		}
	}
}

func TestAnAdvertTellsNoCosts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := costing.Record{Stage: costing.Listed, Ask: 123400, SellerAsks: 777_77, Seller: "sellerxyz", Note: "notexyz",
			Lines: []costing.Line{{Kind: costing.Purchase, Text: "linexyz", Total: 777_77}}, Plan: costing.Plan{Selling: 777_77}}
		r.Motor = valuation.Motor{Make: "Corvane", Power: rapid.Float64Range(0, 300).Draw(t, "power"), Year: rapid.IntRange(0, 2020).Draw(t, "year"),
			Stroke: rapid.SampledFrom(append(valuation.Strokes, "")).Draw(t, "stroke"), State: rapid.SampledFrom(append(valuation.States, "")).Draw(t, "state"),
			Shaft: rapid.SampledFrom([]int{0, 15, 17, 25}).Draw(t, "shaft"), Looks: rapid.IntRange(0, 5).Draw(t, "looks"),
			Controls: rapid.SampledFrom([]valuation.Answer{"", valuation.Yes, valuation.No}).Draw(t, "controls"), HoursKnown: rapid.Bool().Draw(t, "known"), Hours: 12}
		for _, text := range []string{r.Advert(costing.DefaultSettings()).Text(english), r.ShortAdvert(costing.DefaultSettings()).Text(english)} {
			for _, no := range []string{"777", "xyz", "{{", "<no value>", "..", " ,", "  ", "not known,"} {
				if strings.Contains(text, no) {
					t.Fatalf("%q stands in\n%s", no, text)
				}
			}
		}
	})
}
