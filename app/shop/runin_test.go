package shop

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
)

// A 90 hp two-stroke burns 9 gal in an hour flat out (common practice, power/10); at 50:1 with double the
// oil that takes 9/25 gal, 1.44 qt.
func TestFirstRunBooksFuelAndOil(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 10000}))
	before := record(t, s, id)
	in := RunIn{MotorID: id, Hours: 2, Load: costing.MixedRun, Ratio: "50:1", FuelPrice: 400, OilPrice: 1000}
	n, err := s.NeedsOfRun(in)
	ok(t, err)
	if n.Fuel != 9 || n.Unit != "gal" || n.Oil != 1.44 || n.OilUnit != "qt" || n.FuelCost != 3600 || n.OilCost != 1440 || n.Missing != nil {
		t.Errorf("needs %+v", n)
	}
	if want := "46.1 fl oz (1363 mL) of oil go into it, which is 25:1."; n.OilWords.String() != want {
		t.Errorf("says %q, want %q", n.OilWords, want)
	}
	if !strings.Contains(n.Costs.String(), "9 gal of fuel for") || !strings.Contains(n.Costs.String(), "50.40 in all") {
		t.Errorf("says %q", n.Costs)
	}
	ok(t, s.BookRunIn(in))
	after := record(t, s, id)
	lines := after.Lines[len(before.Lines):]
	slices.SortFunc(lines, func(a, b costing.Line) int { return cmp.Compare(a.Text, b.Text) }) // fuel, then oil
	if len(lines) != 2 || lines[0].Total != 3600 || lines[1].Total != 1440 || lines[0].Kind != costing.Kit || lines[0].ShelfID != "" || lines[1].Unit != "qt" {
		t.Fatalf("booked %+v", lines)
	}
	if got := after.Sheet(0, 0).Of(costing.Consumables) - before.Sheet(0, 0).Of(costing.Consumables); got != 5040 {
		t.Errorf("the motor was charged %d", got)
	}
	if _, done, err := s.Undo(); err != nil || !done || len(record(t, s, id).Lines) != len(before.Lines) {
		t.Errorf("one undo leaves %d lines, %v", len(record(t, s, id).Lines), err)
	}
}

func TestFirstRunDrawsFromTheShelf(t *testing.T) { onEachStore(t, firstRunDrawsFromTheShelf) }

func firstRunDrawsFromTheShelf(t *testing.T, fresh func() *Shop) {
	s := fresh()
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 10000}))
	oil, err := s.AddGood(NewGood{Name: "two-stroke oil", Unit: "qt", Quantity: 4, Paid: 4000})
	ok(t, err)
	fuel, err := s.AddGood(NewGood{Name: "petrol", Unit: "gal", Quantity: 10, Paid: 4000})
	ok(t, err)
	left := func(good string) float64 {
		v, err := s.GoodOf(good)
		ok(t, err)
		return v.Stock.Quantity
	}
	in := RunIn{MotorID: id, Hours: 2, Load: costing.MixedRun, Ratio: "50:1", FuelPrice: 400, OilID: oil}
	ok(t, s.BookRunIn(in))
	if math.Abs(left(oil)-2.56) > 1e-9 || left(fuel) != 10 {
		t.Errorf("oil from the shelf leaves %v qt and %v gal", left(oil), left(fuel))
	}
	if _, done, err := s.Undo(); err != nil || !done || left(oil) != 4 {
		t.Errorf("one undo leaves %v qt, %v", left(oil), err)
	}
	in.FuelID, in.Rich = fuel, 1
	ok(t, s.BookRunIn(in))
	if math.Abs(left(oil)-3.28) > 1e-9 || left(fuel) != 1 {
		t.Errorf("both from the shelf leave %v qt and %v gal", left(oil), left(fuel))
	}
	ok(t, s.Change(id, "stroke", func(r *costing.Record) { r.Motor.Stroke = valuation.FourStroke }))
	in = RunIn{MotorID: id, Hours: 1, Load: costing.FullRun, FuelPrice: 400}
	n, err := s.NeedsOfRun(in)
	ok(t, err)
	if n.Mixes || n.Oil != 0 || !n.OilWords.Empty() || n.Fuel != 7.38 { // 0.50 x 90 / 6.1
		t.Errorf("a four-stroke needs %+v", n)
	}
	had := len(record(t, s, id).Lines)
	ok(t, s.BookRunIn(in))
	if lines := record(t, s, id).Lines; len(lines) != had+1 || lines[had].Total != 2952 {
		t.Errorf("a four-stroke is booked %+v", lines[had:])
	}
}

func TestFirstRunRefuses(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 10000}))
	oil, err := s.AddGood(NewGood{Name: "two-stroke oil", Unit: "qt", Quantity: 4, Paid: 4000})
	ok(t, err)
	had := len(record(t, s, id).Lines)
	good := RunIn{MotorID: id, Hours: 1, Load: 1, Ratio: "50:1", FuelPrice: 400, OilPrice: 900}
	for want, change := range map[string]func(*RunIn){
		"hours of the run: ":        func(in *RunIn) { in.Hours = 0 },
		"hours of the run: so":      func(in *RunIn) { in.Hours = 1e-9 },
		"estimate break-in fuel: ":  func(in *RunIn) { in.Load = 2 },
		"ratio: write it":           func(in *RunIn) { in.Ratio = "" },
		"ratio: \"much\"":           func(in *RunIn) { in.Ratio = "much" },
		"price of fuel: ":           func(in *RunIn) { in.FuelPrice = 0 },
		"price of oil: ":            func(in *RunIn) { in.OilPrice = 0 },
		"fuel: it cannot":           func(in *RunIn) { in.FuelID, in.OilID = oil, oil },
		"fuel for the first run: ":  func(in *RunIn) { in.FuelPrice = costing.MostPaid },
		"oil for the first run: ":   func(in *RunIn) { in.OilPrice = -1 },
		"estimate break-in oil: it": func(in *RunIn) { in.Rich = 9 },
	} {
		in := good
		change(&in)
		if err := s.BookRunIn(in); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("want an error about %s, got %v", want, err)
		}
	}
	other := prospect(t, s)
	in := good
	in.MotorID = other
	if s.BookRunIn(in) == nil {
		t.Error("booked on a motor that was not bought")
	}
	if n := len(record(t, s, id).Lines); n != had {
		t.Errorf("refused runs left %d lines", n-had)
	}
}

// What is told before the button is what is booked, to the cent.
func TestFirstRunBooksWhatItTold(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 10000}))
	rapid.Check(t, func(t *rapid.T) {
		in := RunIn{MotorID: id, Hours: rapid.Float64Range(0.1, 20).Draw(t, "hours"), Load: rapid.SampledFrom([]float64{costing.EasyRun, costing.MixedRun, costing.FullRun}).Draw(t, "load"),
			Ratio: rapid.SampledFrom([]string{"50:1", "100:1", "24"}).Draw(t, "ratio"), FuelPrice: 399, OilPrice: 1201}
		n, err := s.NeedsOfRun(in)
		if err != nil {
			t.Fatal(err)
		}
		had := spentOn(s, id)
		if err := s.BookRunIn(in); err != nil {
			t.Fatal(err)
		}
		if got := spentOn(s, id) - had; got != int(n.FuelCost+n.OilCost) {
			t.Fatalf("told %d, booked %d", n.FuelCost+n.OilCost, got)
		}
		if _, _, err := s.Undo(); err != nil {
			t.Fatal(err)
		}
	})
}

func spentOn(s *Shop, id string) int {
	r, err := s.Record(id)
	if err != nil {
		return -1
	}
	return int(r.Sheet(0, 0).Total)
}
