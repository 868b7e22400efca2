package valuation

import (
	"slices"
	"strings"
	"testing"

	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// shopOf is 40 sales from 9.9 to 115 hp, running, serviced or rebuilt, of two makes, at fair prices.
func shopOf(t *testing.T) []Sale {
	prior := market(t, nil, Options{Anchor: 120_000})
	var sales []Sale
	for i := range 40 {
		mo := Motor{Make: []string{"Halvard", "Corvane"}[i/3%2], Power: []float64{9.9, 25, 40, 60, 90, 115}[i%6], Year: 2000 + i*7%17,
			Stroke: Strokes[i/2%2], State: []State{Runs, Rebuilt, Serviced}[i/5%3], Fuel: Carburettor}
		sold := day.Of(2023+i%3, 5, 1+i%28)
		b, err := prior.Worth(mo, sold)
		if err != nil {
			t.Fatal(err)
		}
		sales = append(sales, Sale{Motor: mo, Sold: sold, Price: b.Quantile(0.3 + 0.4*float64(i%7)/6)})
	}
	return sales
}

func TestOutsideExperience(t *testing.T) {
	m := market(t, shopOf(t), Options{Anchor: 120_000})
	usual := Motor{Make: "Halvard", Power: 70, Year: 2008, Stroke: TwoStroke, State: Runs, Fuel: Carburettor}
	for _, c := range []struct {
		name     string
		change   func(*Motor)
		key      string
		sentence string // a part of it
		outside  bool
	}{
		{"like those sold", func(*Motor) {}, "", "", false},
		{"other writing of the make", func(m *Motor) { m.Make = " HALVARD " }, "", "", false},
		{"far more power", func(m *Motor) { m.Power = 250 }, "outside.power-high", "the most powerful motor you have sold is 115 hp; this is 250", true},
		{"a little more power", func(m *Motor) { m.Power = 130 }, "", "", false},
		{"far less power", func(m *Motor) { m.Power = 2.5 }, "outside.power-low", "the least powerful motor you have sold is 9.9 hp; this is 2.5", true},
		{"far older", func(m *Motor) { m.Year = 1975 }, "outside.old", "this is 51", true},
		{"far younger", func(m *Motor) { m.Year = 2026 }, "outside.young", "this is 0", true},
		{"a state never sold", func(m *Motor) { m.State = Dead }, "outside.state", "does not run", true},
		{"a fuel system never sold", func(m *Motor) { m.Fuel = Direct }, "outside.fuel", "direct injection", true},
		{"a make never sold", func(m *Motor) { m.Make = "Tornvik" }, "band.make", "you have sold no Tornvik yet", false},
		{"each fact is usual, but not all at once", func(m *Motor) {
			m.Submerged, m.Welded, m.LowerUnit, m.PartsSupplied, m.Turns, m.Looks = Yes, Yes, No, No, No, 1
			m.Compression = []float64{120, 0}
		}, "outside.together", "none of them had these together", true},
	} {
		mo := usual
		c.change(&mo)
		b, err := m.Worth(mo, day.Of(2026, 6, 1))
		if err != nil {
			t.Fatal(err)
		}
		if b.Outside() != c.outside {
			t.Errorf("%s: outside is %v: %v", c.name, b.Outside(), say.Strings(b.Warnings()))
		}
		switch all := b.Warnings(); {
		case c.key == "" && len(all) > 0:
			t.Errorf("%s: %v", c.name, say.Strings(all))
		case c.key != "" && (!slices.Contains(keys(all), c.key) || !strings.Contains(strings.Join(say.Strings(all), "; "), c.sentence)):
			t.Errorf("%s: want %q, got %v", c.name, c.sentence, say.Strings(all))
		}
	}
}

func TestAStrokeNeverSold(t *testing.T) {
	sales := slices.DeleteFunc(shopOf(t), func(s Sale) bool { return s.Motor.Stroke == FourStroke })
	b := worth(t, market(t, sales, Options{Anchor: 120_000}), Motor{Power: 60, Year: 2008, Stroke: FourStroke, State: Runs})
	if !b.Outside() || !slices.Contains(say.Strings(b.Warnings()), "you have sold no four-stroke yet") {
		t.Errorf("outside %v: %v", b.Outside(), say.Strings(b.Warnings()))
	}
}

// Where no sale says its state, a motor's state is not called new.
func TestStatesNobodyWroteDown(t *testing.T) {
	sales := shopOf(t)
	for i := range sales {
		sales[i].Motor.State = ""
	}
	b := worth(t, market(t, sales, Options{Anchor: 120_000}), Motor{Power: 60, Year: 2008, Stroke: TwoStroke, State: Runs})
	if b.Outside() {
		t.Errorf("%v", say.Strings(b.Warnings()))
	}
}

func TestOldSalesAreCalledOld(t *testing.T) {
	m := market(t, shopOf(t), Options{Anchor: 120_000})
	b, err := m.Worth(Motor{Power: 60, Year: 2008, Stroke: TwoStroke, State: Runs}, day.Of(2029, 6, 1))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(keys(b.Warnings()), "band.stale") {
		t.Errorf("%v", say.Strings(b.Warnings()))
	}
}

// Further beyond the own sales the band is wider.
func TestBandWidensWithDistance(t *testing.T) {
	m := market(t, shopOf(t), Options{Anchor: 120_000})
	last := 0.0
	for _, hp := range []float64{60, 150, 300, 600, 1000} {
		b := worth(t, m, Motor{Make: "Halvard", Power: hp, Year: 2008, Stroke: TwoStroke, State: Runs, Fuel: Carburettor, Shaft: 20, Start: Electric, Lift: PowerLift, Controls: Yes, Propeller: Yes, Tank: No, Helm: No, Oil: NoInjection})
		width := b.price.Quantile(0.9) - b.price.Quantile(0.1)
		if width <= last {
			t.Errorf("%v hp: width %v after %v", hp, width, last)
		}
		last = width
	}
}

// The field named as narrowing most does narrow, and nothing is named when all is known.
func TestNarrower(t *testing.T) {
	m := market(t, shopOf(t), Options{Anchor: 120_000})
	known := anchorMotor()
	known.Make = "Halvard"
	if got := worth(t, m, known).Narrower(); got != "" {
		t.Errorf("all is known, and yet %q", got)
	}
	open := Motor{Make: "Halvard", Power: 50, Year: 2011, Stroke: TwoStroke, State: Runs}
	field := worth(t, m, open).Narrower()
	if field == "" {
		t.Fatal("nothing would narrow a band of four facts")
	}
	_, before := m.row(open, today)
	if err := open.Set(field, known.Text(field)); err != nil {
		t.Fatal(err)
	}
	if _, after := m.row(open, today); after >= before {
		t.Errorf("%s: noise %v after %v", field, after, before)
	}
}
