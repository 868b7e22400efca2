package valuation

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// anyMotor is a legal motor with any of its facts forgotten, from the smallest to the largest and oldest.
func anyMotor(t *rapid.T, w *world) Motor {
	mo := w.motor()
	if rapid.Bool().Draw(t, "extreme") {
		mo.Power = rapid.Float64Range(LeastPower, MostPower).Draw(t, "power")
		mo.Year = rapid.IntRange(FirstYear, 2026).Draw(t, "year")
		mo.WarrantyDays = rapid.IntRange(0, MostWarranty).Draw(t, "warranty")
	}
	if rapid.Bool().Draw(t, "one reading") {
		mo.Compression = mo.Compression[:1]
	}
	mo.PowerAbout, mo.YearAbout, mo.OldRating = rapid.Bool().Draw(t, "power about"), rapid.Bool().Draw(t, "year about"), rapid.Bool().Draw(t, "old rating")
	mo = w.told(mo, rapid.Float64Range(0, 1).Draw(t, "forget"))
	if rapid.Bool().Draw(t, "no state") {
		mo.State = ""
	}
	return mo
}

func anyMarket(t *rapid.T) (*Market, *world) {
	w := newWorld(rapid.Uint64().Draw(t, "seed"), 1200)
	sales := w.sales(rapid.IntRange(0, 30).Draw(t, "n"), rapid.Float64Range(0, 1).Draw(t, "forget sales"))
	currency := money.Must(rapid.SampledFrom([]string{"USD", "JPY", "KWD"}).Draw(t, "currency"))
	m, err := NewMarket(sales, Options{Currency: currency, Anchor: 120_000, AsOf: w.today})
	if err != nil {
		t.Fatal(err)
	}
	return m, w
}

// The lines add up from the anchor to the middle of the band to the minor unit, and in whole units to it
// rounded; a fact that is not known has no line and is named when it widens the band.
func TestWhyAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, w := anyMarket(t)
		mo, on := anyMotor(t, w), w.today+day.Day(rapid.IntRange(-900, 900).Draw(t, "days"))
		band, err := m.Worth(mo, on)
		if err != nil {
			t.Skip("not a motor to be valued")
		}
		why, err := m.Why(mo, on)
		if err != nil {
			t.Fatal(err)
		}
		if why.Price != band.Median() {
			t.Fatalf("leads to %v, the band's middle is %v", why.Price, band.Median())
		}
		for _, c := range []struct {
			name string
			Why
			unit money.Amount
		}{{"exact", why, 1}, {"whole", why.Whole(), m.options.Currency.PerUnit()}} {
			sum, factor := c.Start, 1.0
			for _, p := range c.Pushes {
				sum += p.Money
				factor *= p.Factor
				if math.Abs(float64(p.Money)-p.exact) >= 2*float64(c.unit) || p.Money%c.unit != 0 {
					t.Fatalf("%s: %s pushes %v, rounded to %v", c.name, p.Field, p.exact, p.Money)
				}
			}
			if sum != c.Price || math.Abs(float64(c.Price-band.Median())) > float64(c.unit)/2 {
				t.Fatalf("%s: lines add up to %v, not %v", c.name, sum, c.Price)
			}
			if got := float64(why.Start) * factor; math.Abs(got-float64(why.Price)) > 2+1e-3*float64(why.Price) {
				t.Fatalf("factors lead to %v, not %v", got, why.Price)
			}
		}
		for _, p := range why.Pushes {
			if p.Field != UsualField && p.Field != soldField && mo.Text(p.Field) == "" {
				t.Fatalf("%s is not known and pushes %v", p.Field, p.Money)
			}
			if p.Sales == 0 && !p.Prior {
				t.Fatalf("%s rests on no sale and is not called the trade's", p.Field)
			}
		}
		for _, field := range []string{"looks", "hours", "water", "propeller", "plate"} {
			if unknown := mo.Text(field) == ""; unknown != slices.Contains(why.Open, field) {
				t.Fatalf("%s: not known %v, open are %v", field, unknown, why.Open)
			}
		}
		if narrower := band.Narrower(); narrower != "" && why.Open[0] != narrower {
			t.Fatalf("%v are open, and %s would narrow most", why.Open, narrower)
		}
	})
}

// In whatever order the facts come, each has the same money.
func TestWhyDoesNotDependOnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, w := anyMarket(t)
		mo := anyMotor(t, w)
		byField := func() string {
			why, err := m.Why(mo, w.today)
			if err != nil {
				t.Skip("not a motor to be valued")
			}
			lines := []string{fmt.Sprint(why.Start, why.Price)}
			for _, p := range append(why.Pushes, why.Whole().Pushes...) {
				lines = append(lines, fmt.Sprint(p.Field, p.Money, p.Prior, p.Sales))
			}
			slices.Sort(lines)
			return fmt.Sprint(lines)
		}
		before := byField()
		facts := rapid.Permutation(m.facts()).Draw(t, "facts")
		m.facts = func() []pull { return facts }
		if after := byField(); after != before {
			t.Fatalf("in another order\n%s\nnot\n%s", after, before)
		}
	})
}

// Two facts that pull against each other share by the logarithmic mean of the prices: with the trade
// prior alone, from 1,000 by exp(-0.15) for salt water and exp(0.18) for power trim.
func TestWhyByHand(t *testing.T) {
	m := market(t, nil, Options{Anchor: 100_000, AsOf: today})
	mo := anchorMotor()
	mo.Make, mo.Water, mo.Lift = "", Salt, PowerLift
	why, err := m.Why(mo, today)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]Push{}
	for _, p := range why.Pushes {
		got[p.Field] = p
	}
	season := math.Exp(0.06 * springOf(subject{Motor: mo, on: today, now: today}).value)
	mean := 100_000 * season * (math.Exp(0.03) - 1) / 0.03
	near(t, "start", float64(why.Start), 100_000*season, 1e-4)
	near(t, "salt", float64(got["water"].Money), -0.15*mean, 2e-3)
	near(t, "trim", float64(got["lift"].Money), 0.18*mean, 2e-3)
	if !got["lift"].Prior || got["lift"].Sales != 0 || !why.StartPrior {
		t.Errorf("without a sale it rests on %+v", got["lift"])
	}
	if p := got[UsualField]; p.Money != 0 || len(why.Open) != 0 {
		t.Errorf("with all told, %v is called usual and %v open", p.Money, why.Open)
	}
}

// What was not said is one line of its own: a large motor usually has power trim.
func TestWhyTellsTheUsual(t *testing.T) {
	m := market(t, nil, Options{Anchor: 100_000, AsOf: today})
	why, err := m.Why(Motor{Power: 115, Year: 2011, Stroke: TwoStroke, State: Runs}, today)
	if err != nil {
		t.Fatal(err)
	}
	last := why.Pushes[len(why.Pushes)-1]
	if last.Field != UsualField || last.Money <= 0 {
		t.Errorf("the last line is %s with %v", last.Field, last.Money)
	}
	if _, err := m.Why(Motor{Year: 2011, Stroke: TwoStroke, State: Runs}, today); err == nil {
		t.Error("without a power it has an answer")
	}
}

// A fact that many own sales show is theirs, with their number.
func TestWhyTellsWhatSalesShow(t *testing.T) {
	w := newWorld(3, 1200)
	sales := w.sales(200, 0)
	m := market(t, sales, Options{Anchor: 120_000, AsOf: w.today})
	mo := anchorMotor()
	mo.Lift, mo.Power, mo.Controls = PowerLift, 90, Yes
	why, err := m.Why(mo, w.today)
	if err != nil {
		t.Fatal(err)
	}
	with := 0
	for _, s := range sales {
		if s.Motor.Lift == PowerLift {
			with++
		}
	}
	for _, p := range why.Pushes {
		if p.Field == "lift" && (p.Sales != with || p.Prior) {
			t.Errorf("%d sales had it, it says %d, the trade's %v", with, p.Sales, p.Prior)
		}
	}
}

// Of two lines that have the same claim to the last minor unit the same one gets it, whichever comes first.
func TestWhyBreaksTiesAlike(t *testing.T) {
	a, b := Push{Field: "looks", exact: 0.5}, Push{Field: "water", exact: 0.5}
	for _, pushes := range [][]Push{{a, b}, {b, a}} {
		w := Why{Start: 10, Price: 11, Pushes: pushes}
		w.round(1)
		for _, p := range w.Pushes {
			if want := map[string]money.Amount{"looks": 1, "water": 0}[p.Field]; p.Money != want {
				t.Errorf("%s before %s: %s gets %v, want %v", pushes[0].Field, pushes[1].Field, p.Field, p.Money, want)
			}
		}
	}
}
