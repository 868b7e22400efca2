package valuation

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// The table is whole: every column has its words, its belief, and a field that a person can fill in.
func TestTradePriorIsReadable(t *testing.T) {
	rows := market(t, nil, Options{Anchor: 150_000}).Prior()
	if len(rows) != len(trade)+3 || rows[0].Column != "anchor" || rows[len(rows)-1].Column != "make" {
		t.Fatalf("%d rows", len(rows))
	}
	near(t, "anchor", math.Exp(rows[0].Mean), 1500, 1e-12)
	if rows[0].Spread != anchorSpread || !strings.Contains(rows[0].Reason.String(), "1,500.00") {
		t.Errorf("anchor: %v, %s", rows[0].Spread, rows[0].Reason)
	}
	seen := map[string]bool{}
	for _, r := range rows {
		if seen[r.Column] || !(r.Spread > 0) || r.Name.Empty() || r.Reason.Empty() || r.Basis.Empty() {
			t.Errorf("%s: twice, or not whole", r.Column)
		}
		seen[r.Column] = true
	}
	for _, c := range trade {
		if _, ok := findField(c.field); !ok && c.field != soldField {
			t.Errorf("%s comes from %q, which nobody can fill in", c.key, c.field)
		}
		if c.step == 0 {
			t.Errorf("%s has no step", c.key)
		}
	}
	for key := range guessed {
		if !seen[key] {
			t.Errorf("guessed %q is no column", key)
		}
	}
	unasked := market(t, nil, Options{}).Prior()[0]
	if unasked.Spread != unaskedSpread || !strings.Contains(unasked.Reason.String(), "not answered") {
		t.Errorf("anchor not answered: %v, %s", unasked.Spread, unasked.Reason)
	}
}

// What each fact does under the prior alone, one fact changed at a time.
func TestEachFactPushesItsWay(t *testing.T) {
	m := market(t, nil, Options{Anchor: 120_000})
	median := func(change func(*Motor)) float64 {
		mo := anchorMotor()
		change(&mo)
		return worth(t, m, mo).price.Quantile(0.5)
	}
	plain := median(func(*Motor) {})
	for _, c := range []struct {
		name   string
		change func(*Motor)
		push   float64
	}{
		{"twice the power", func(m *Motor) { m.Power = 100 }, 0.60 * math.Ln2},
		{"ten years older", func(m *Motor) { m.Year -= 10 }, -0.60 + 0.06*(2.5*2.5-1.5*1.5)},
		{"four-stroke", func(m *Motor) { m.Stroke = FourStroke }, 0.30},
		{"four-stroke, injected", func(m *Motor) { m.Stroke, m.Fuel = FourStroke, Injected }, 0.42},
		{"four-stroke, direct", func(m *Motor) { m.Stroke, m.Fuel = FourStroke, Direct }, 0.42},
		{"two-stroke, direct", func(m *Motor) { m.Fuel = Direct }, 0.05},
		{"parts", func(m *Motor) { m.State = PartsOnly }, -1.35},
		{"dead", func(m *Motor) { m.State = Dead }, -0.85},
		{"serviced", func(m *Motor) { m.State = Serviced }, 0.12},
		{"rebuilt", func(m *Motor) { m.State = Rebuilt }, 0.27},
		{"looks 5", func(m *Motor) { m.Looks = 5 }, 0.24},
		{"looks 1", func(m *Motor) { m.Looks = 1 }, -0.24},
		{"salt", func(m *Motor) { m.Water = Salt }, -0.15},
		{"mixed", func(m *Motor) { m.Water = Mixed }, -0.075},
		{"short shaft on 50 hp", func(m *Motor) { m.Shaft = 15 }, -0.12},
		{"extra-long shaft on 50 hp", func(m *Motor) { m.Shaft = 25 }, -0.12},
		{"pull start", func(m *Motor) { m.Start = Pull }, -0.12},
		{"power trim", func(m *Motor) { m.Lift = PowerLift }, 0.18},
		{"assisted tilt", func(m *Motor) { m.Lift = AssistLift }, 0},
		{"controls", func(m *Motor) { m.Controls = Yes }, 0.10},
		{"no propeller", func(m *Motor) { m.Propeller = No }, -0.04},
		{"tank", func(m *Motor) { m.Tank = Yes }, 0.02},
		{"helm", func(m *Motor) { m.Helm = Yes }, 0.03},
		{"650 hours", func(m *Motor) { m.Hours = 650 }, -0.08 * math.Ln2},
		{"hours not known", func(m *Motor) { m.HoursKnown = false }, -0.03},
		{"a cylinder at 80 %", func(m *Motor) { m.Compression = []float64{100, 80, 100} }, -0.20},
		{"a cylinder at 95 %", func(m *Motor) { m.Compression = []float64{100, 95, 100} }, 0},
		{"a dead cylinder", func(m *Motor) { m.Compression = []float64{100, 0, 100} }, -0.60},
		{"no compression at all", func(m *Motor) { m.Compression = []float64{0, 0, 0} }, -0.60},
		{"seized", func(m *Motor) { m.Turns = No }, -0.35},
		{"oil injection works", func(m *Motor) { m.Oil = InjectionWorks }, 0},
		{"oil injection removed", func(m *Motor) { m.Oil = InjectionRemoved }, -0.04},
		{"orphan", func(m *Motor) { m.PartsSupplied = No }, -0.20},
		{"submerged", func(m *Motor) { m.Submerged = Yes }, -0.30},
		{"lower unit incomplete", func(m *Motor) { m.LowerUnit = No }, -0.40},
		{"welded", func(m *Motor) { m.Welded = Yes }, -0.12},
		{"plate missing", func(m *Motor) { m.Plate = No }, -0.10},
		{"not shown running", func(m *Motor) { m.ShownRunning = No }, -0.06},
		{"90 days of warranty", func(m *Motor) { m.WarrantyDays = 90 }, 0.04},
		{"rated at the powerhead", func(m *Motor) { m.OldRating = true }, -0.06},
		{"power about", func(m *Motor) { m.PowerAbout = true }, 0},
		{"year about", func(m *Motor) { m.YearAbout = true }, 0},
	} {
		if got := median(c.change) - plain; math.Abs(got-c.push) > 5e-4 { // the age counts whole days
			t.Errorf("%s: %+.4f, want %+.4f", c.name, got, c.push)
		}
	}
}

// A small portable of a certain age has lost less of its price than a large motor.
func TestSmallPortablesHoldValue(t *testing.T) {
	m := market(t, nil, Options{Anchor: 120_000})
	lost := func(hp float64) float64 {
		mo := anchorMotor()
		mo.Power, mo.Year = hp, 2021
		young := worth(t, m, mo).price.Quantile(0.5)
		mo.Year = 1996
		return young - worth(t, m, mo).price.Quantile(0.5)
	}
	if small, large := lost(6), lost(150); small >= large {
		t.Errorf("6 hp loses %v, 150 hp %v", small, large)
	}
}

// Beyond fifty years age no longer counts, and the curve never turns up before.
func TestOldMotorsStopFalling(t *testing.T) {
	m := market(t, nil, Options{Anchor: 120_000})
	last := math.Inf(1)
	for year := 2026; year >= 1930; year -= 4 {
		mo := anchorMotor()
		mo.Year = year
		now := worth(t, m, mo).price.Quantile(0.5)
		if now > last+1e-12 {
			t.Errorf("a motor of %d is worth more than one four years younger", year)
		}
		last = now
	}
}

// More own sales leave less of an effect to the prior.
func TestEffects(t *testing.T) {
	prior := market(t, nil, Options{Anchor: 120_000}).Effects()
	for _, e := range prior {
		if !e.Prior || e.Sales != 0 || !(e.Low < e.Mid && e.Mid < e.High) {
			t.Errorf("without sales: %+v", e)
		}
	}
	w := newWorld(11, 1200)
	m := market(t, w.sales(200, 0.1), Options{Anchor: 120_000, AsOf: w.today})
	byKey := map[string]Effect{}
	for _, e := range m.Effects() {
		byKey[e.Key] = e
	}
	if len(byKey) != len(trade)-1+5 {
		t.Errorf("%d effects", len(byKey))
	}
	for _, key := range []string{"power", "age", "four-stroke", "above-dead", "looks", "make:make a"} {
		e, ok := byKey[key]
		if !ok || e.Prior || e.Sales < 20 || !(e.Low < e.Mid && e.Mid < e.High) {
			t.Errorf("with 200 sales: %+v", e)
		}
	}
	if e := byKey["direct"]; !e.Prior { // nobody sold one
		t.Errorf("direct injection: %+v", e)
	}
	i := slices.IndexFunc(trade, func(c column) bool { return c.key == "above-dead" })
	if truth := math.Exp(w.push[i]); byKey["above-dead"].Low > truth*1.1 || byKey["above-dead"].High < truth/1.1 {
		t.Errorf("running instead of not: %+v, truth %v", byKey["above-dead"], truth)
	}
	if got := byKey["make:make a"].Name.String(); got != "Make A instead of the average make" {
		t.Errorf("%q", got)
	}
}
