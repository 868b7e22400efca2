package valuation

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"golang.org/x/text/language"
	"pgregory.net/rapid"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

var (
	usd   = money.Must("USD")
	today = day.Of(2026, 7, 1)
)

func market(t testing.TB, sales []Sale, o Options) *Market {
	t.Helper()
	if o.Currency.Code() == "" {
		o.Currency = usd
	}
	m, err := NewMarket(sales, o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func worth(t testing.TB, m *Market, mo Motor) Band {
	t.Helper()
	b, err := m.Worth(mo, today)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// anchorMotor is the plain motor of the anchor question with nothing left open.
func anchorMotor() Motor {
	return Motor{Make: "Nobody", Power: 50, Year: 2011, Stroke: TwoStroke, State: Runs, Cylinders: 3, Fuel: Carburettor, Shaft: 20,
		Start: Electric, Lift: ManualLift, Steering: Remote, Water: Fresh, Hours: usualHours, HoursKnown: true, Looks: 3,
		Compression: []float64{120, 118, 119}, Turns: Yes, Oil: NoInjection, Submerged: No, LowerUnit: Yes, Welded: No,
		PartsSupplied: Yes, Plate: Yes, ShownRunning: Yes, Controls: No, Propeller: Yes, Tank: No, Helm: No}
}

func keys(all []say.Sentence) []string {
	var out []string
	for _, s := range all {
		out = append(out, s.Key)
	}
	return out
}

// The anchor is where every column but the season is 0, so that the answer to the anchor question is the
// level itself.
func TestAnchorIsTheOrigin(t *testing.T) {
	m := market(t, nil, Options{Anchor: 123_456})
	row, _ := m.row(anchorMotor(), today)
	for j, c := range trade {
		if v := row[j+1]; c.field != soldField && math.Abs(v) > 2e-4 { // the age counts whole days
			t.Errorf("%s is %v", c.key, v)
		}
	}
	on := day.Of(2026, 4, 15).Time().AddDate(0, 3, 0) // a quarter turn from the peak of spring
	b, err := m.Worth(anchorMotor(), day.FromTime(on))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "median", float64(b.Median()), 123_456, 0.01)
}

func TestNoSales(t *testing.T) {
	m := market(t, nil, Options{Anchor: 120_000})
	b := worth(t, m, Motor{Power: 90, Year: 2003, Stroke: TwoStroke, State: Runs})
	if m.Sales() != 0 || b.OwnSales() != 0 || !b.Outside() || !slices.Contains(keys(b.Warnings()), "band.prior") {
		t.Errorf("%d sales, outside %v, %v", b.OwnSales(), b.Outside(), say.Strings(b.Warnings()))
	}
	if slices.Contains(keys(b.Warnings()), "band.anchor") {
		t.Error("warned of an anchor that was answered")
	}
	low, high := b.Interval(0.8)
	if ratio := float64(high) / float64(low); ratio < 2.5 || ratio > 8 {
		t.Errorf("a band of the prior alone from %v to %v", low, high)
	}
	unasked := worth(t, market(t, nil, Options{}), Motor{Power: 90, Year: 2003, Stroke: TwoStroke, State: Runs})
	if !slices.Contains(keys(unasked.Warnings()), "band.anchor") {
		t.Errorf("not warned of the anchor: %v", say.Strings(unasked.Warnings()))
	}
	wideLow, wideHigh := unasked.Interval(0.8)
	if float64(wideHigh)/float64(wideLow) <= float64(high)/float64(low) {
		t.Error("not answering the anchor question does not widen the band")
	}
	if len(m.Comparables(Motor{Power: 90, Year: 2003, Stroke: TwoStroke}, today, 5)) != 0 {
		t.Error("comparables of nothing")
	}
	if _, err := m.Worth(Motor{Power: 90, Year: 2003, Stroke: TwoStroke}, 0); refusedField(t, err) != "on" {
		t.Errorf("without any day: %v", err)
	}
}

func TestWorthNamesTheField(t *testing.T) {
	m := market(t, newWorld(1, 1200).sales(20, 0.3), Options{})
	good := Motor{Power: 90, Year: 2003, Stroke: TwoStroke, State: Runs}
	for field, spoil := range map[string]func(*Motor){
		"power":  func(m *Motor) { m.Power = 0 },
		"year":   func(m *Motor) { m.Year = 0 },
		"stroke": func(m *Motor) { m.Stroke = "" },
		"state":  func(m *Motor) { m.State = "mint" },
		"shaft":  func(m *Motor) { m.Shaft = 508 },
		"hours":  func(m *Motor) { m.Hours, m.HoursKnown = math.NaN(), true },
	} {
		mo := good
		spoil(&mo)
		if _, err := m.Worth(mo, today); refusedField(t, err) != field {
			t.Errorf("%s: %v", field, err)
		}
		if got := m.Comparables(mo, today, 3); got != nil {
			t.Errorf("%s: %d comparables", field, len(got))
		}
	}
	future := good
	future.Year = 2028
	if _, err := m.Worth(future, today); refusedField(t, err) != "year" {
		t.Errorf("a motor of 2028 sold in 2026: %v", err)
	}
}

// The state may be left open: the band is then wider, and says so.
func TestWorthWithoutState(t *testing.T) {
	m := market(t, newWorld(1, 1200).sales(30, 0.3), Options{Anchor: 120_000})
	mo := Motor{Power: 90, Year: 2003, Stroke: TwoStroke, State: Runs}
	known := worth(t, m, mo)
	mo.State = ""
	open := worth(t, m, mo)
	a, b := known.price.Quantile(0.9)-known.price.Quantile(0.1), open.price.Quantile(0.9)-open.price.Quantile(0.1)
	if b <= a || !slices.Contains(keys(open.Warnings()), "band.state") || open.Narrower() != "state" {
		t.Errorf("width %v without the state and %v with it; narrower %q; %v", b, a, open.Narrower(), say.Strings(open.Warnings()))
	}
}

func TestOptionsThatCannotBe(t *testing.T) {
	for name, o := range map[string]Options{
		"no currency":       {},
		"half-life below 0": {Currency: usd, HalfLife: -1},
		"half-life NaN":     {Currency: usd, HalfLife: math.NaN()},
		"anchor below 0":    {Currency: usd, Anchor: -1},
	} {
		if _, err := NewMarket(nil, o); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

// Every length of history from none is answered, whatever its make-up.
func TestFewAndUniformSales(t *testing.T) {
	same := Sale{Motor: Motor{Make: "Halvard", Power: 50, Year: 2011, Stroke: TwoStroke, State: Runs}, Sold: today, Price: 100_000}
	for _, n := range []int{1, 2, 3, 40} {
		sales := make([]Sale, n)
		for i := range sales {
			sales[i] = same
		}
		m := market(t, sales, Options{Anchor: 120_000})
		b := worth(t, m, same.Motor)
		low, high := b.Interval(0.8)
		if b.Outside() || !(0 < low && low < 100_000 && 100_000 < high) || b.OwnSales() != n {
			t.Errorf("%d alike: %v to %v, outside %v, own %d", n, low, high, b.Outside(), b.OwnSales())
		}
		if few := slices.Contains(keys(b.Warnings()), "band.few"); few != (n < fewSales) {
			t.Errorf("%d alike: few is %v", n, few)
		}
	}
}

func TestWhatIsLearnedFrom(t *testing.T) {
	good := Sale{ID: "good", Motor: Motor{Power: 50, Year: 2011, Stroke: TwoStroke, State: Runs}, Sold: today, Price: 100_000}
	bad := func(id string, spoil func(*Sale)) Sale {
		s := good
		s.ID = id
		spoil(&s)
		return s
	}
	m := market(t, []Sale{
		bad("left out", func(s *Sale) { s.LeftOut = true }),
		bad("price", func(s *Sale) { s.Price = 0 }),
		bad("day", func(s *Sale) { s.Sold = 0 }),
		bad("power", func(s *Sale) { s.Motor.Power = 0 }),
		bad("year", func(s *Sale) { s.Motor.Year = 0 }),
		bad("future", func(s *Sale) { s.Motor.Year = 2030 }),
		bad("word", func(s *Sale) { s.Motor.Water = "wet" }),
		bad("no stroke", func(s *Sale) { s.Motor.Stroke = "" }),
		bad("no state", func(s *Sale) { s.Motor.State = "" }),
		good,
	}, Options{})
	var unused []string
	for _, u := range m.Unused() {
		unused = append(unused, u.Sale.ID)
		if u.Why.String() == "" {
			t.Errorf("%s: no reason", u.Sale.ID)
		}
	}
	if m.Sales() != 3 || !slices.Equal(unused, []string{"price", "day", "power", "year", "future", "word"}) {
		t.Errorf("learned from %d, not from %v", m.Sales(), unused)
	}
	if m.noise[0] <= m.noise[2] {
		t.Error("a sale of unknown stroke weighs as much as one known")
	}
}

// Prices, anchor included, multiplied by c multiply the band by c, to the minor unit's rounding.
func TestScalingPricesScalesTheBand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := newWorld(rapid.Uint64().Draw(t, "seed"), 1200)
		sales := w.sales(rapid.IntRange(0, 30).Draw(t, "n"), 0.4)
		c := money.Amount(rapid.IntRange(2, 200).Draw(t, "c"))
		mo := w.told(w.motor(), 0.4)
		before, err := NewMarket(sales, Options{Currency: usd, Anchor: 120_000, AsOf: w.today})
		if err != nil {
			t.Fatal(err)
		}
		scaled := slices.Clone(sales)
		for i := range scaled {
			scaled[i].Price *= c
		}
		after, err := NewMarket(scaled, Options{Currency: usd, Anchor: 120_000 * c, AsOf: w.today})
		if err != nil {
			t.Fatal(err)
		}
		a, err := before.Worth(mo, w.today)
		if err != nil {
			t.Fatal(err)
		}
		b, err := after.Worth(mo, w.today)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range []float64{0.05, 0.5, 0.9} {
			if x, y := float64(a.Quantile(p)*c), float64(b.Quantile(p)); math.Abs(x-y) > float64(c)+1e-6*y {
				t.Fatalf("quantile %v: %v times %d is %v", p, a.Quantile(p), c, b.Quantile(p))
			}
		}
	})
}

// The order in which sales are given does not matter.
func TestOrderOfSalesDoesNotMatter(t *testing.T) {
	w := newWorld(4, 1200)
	sales := w.sales(40, 0.4)
	mo := w.motor()
	a := worth(t, market(t, sales, Options{}), mo)
	slices.Reverse(sales)
	b := worth(t, market(t, sales, Options{}), mo)
	for _, p := range []float64{0.05, 0.5, 0.9} {
		near(t, "quantile", float64(a.Quantile(p)), float64(b.Quantile(p)), 1e-6)
	}
}

// Forgetting a fact never makes the market surer of what it does not know: the variance about the
// expectation grows or stays.
func TestForgettingNeverLowersTheNoise(t *testing.T) {
	m := market(t, newWorld(1, 1200).sales(30, 0.3), Options{})
	rapid.Check(t, func(t *rapid.T) {
		w := newWorld(rapid.Uint64().Draw(t, "seed"), 1200)
		mo := w.told(w.motor(), 0.3)
		_, before := m.row(mo, today)
		f := rapid.SampledFrom(fields).Draw(t, "field")
		if slices.Contains([]string{"power", "year", "steering", "state", "cylinders"}, f.name) {
			return // what these say changes what is typical of the rest
		}
		f.clear(&mo)
		if _, after := m.row(mo, today); after < before-1e-12 {
			t.Fatalf("forgetting %s lowered the noise from %v to %v", f.name, before, after)
		}
	})
}

// Any motor that Check takes is valued, from any history, without NaN or Inf.
func TestAnyLegalMotorIsValued(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		w := newWorld(seed, 1200)
		sales := w.sales(rapid.SampledFrom([]int{0, 1, 2, 5, 25}).Draw(t, "n"), rapid.Float64Range(0, 1).Draw(t, "forget"))
		for i := range sales {
			if rapid.IntRange(0, 9).Draw(t, "mistyped") == 0 {
				sales[i].Price *= 1000
			}
		}
		mo := legalMotor(t)
		on := day.Of(rapid.IntRange(max(mo.Year-1, 1900), 2150).Draw(t, "on"), 3, 1)
		m, err := NewMarket(sales, Options{Currency: usd, Anchor: money.Amount(rapid.Int64Range(0, 1e9).Draw(t, "anchor")),
			HalfLife: rapid.SampledFrom([]float64{0, 0.01, 4, 1e6, math.Inf(1)}).Draw(t, "half-life")})
		if err != nil {
			t.Fatal(err)
		}
		b, err := m.Worth(mo, on)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range []float64{0.001, 0.1, 0.5, 0.9, 0.999} {
			if v := b.price.Quantile(p); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("quantile %v is %v", p, v)
			}
		}
		if low, high := b.Interval(0.95); low < 0 || high < low || b.Mean() < low || b.Mean() < 0 {
			t.Fatalf("%v to %v, mean %v", low, high, b.Mean())
		}
		for _, c := range m.Comparables(mo, on, 3) {
			if math.IsNaN(c.Distance) || math.IsInf(c.Distance, 0) || c.AdjustedPrice < 0 {
				t.Fatalf("comparable %v at %v", c.AdjustedPrice, c.Distance)
			}
		}
		for _, e := range m.Effects() {
			if !(e.Low > 0 && e.Low <= e.Mid && e.Mid <= e.High) || math.IsInf(e.High, 0) {
				t.Fatalf("%s: %v %v %v", e.Key, e.Low, e.Mid, e.High)
			}
		}
		for _, r := range m.Track().Rows {
			if !(r.PIT >= 0 && r.PIT <= 1) || r.Low > r.Mid || r.Mid > r.High {
				t.Fatalf("track %+v", r)
			}
		}
	})
}

// legalMotor is any motor that Check takes and that has the three facts a band cannot do without.
func legalMotor(t *rapid.T) Motor {
	answer := func(name string) Answer {
		return rapid.SampledFrom([]Answer{"", Yes, No}).Draw(t, name)
	}
	m := Motor{
		Make:  rapid.SampledFrom([]string{"", "Make A", "make  a", "Tornvik"}).Draw(t, "make"),
		Power: rapid.OneOf(rapid.Float64Range(LeastPower, MostPower), rapid.SampledFrom([]float64{LeastPower, MostPower, 50})).Draw(t, "power"),
		Year:  rapid.IntRange(FirstYear, LastYear).Draw(t, "year"), Stroke: rapid.SampledFrom(Strokes).Draw(t, "stroke"),
		PowerAbout: rapid.Bool().Draw(t, "pa"), YearAbout: rapid.Bool().Draw(t, "ya"), OldRating: rapid.Bool().Draw(t, "or"),
		State: rapid.SampledFrom(append([]State{""}, States...)).Draw(t, "state"), Fuel: rapid.SampledFrom(append([]Fuel{""}, Fuels...)).Draw(t, "fuel"),
		Cylinders: rapid.IntRange(0, MostCylinders).Draw(t, "cyl"), Shaft: rapid.SampledFrom([]int{0, 10, 15, 20, 25, 30, 40}).Draw(t, "shaft"),
		Start: rapid.SampledFrom(append([]Start{""}, Starts...)).Draw(t, "start"), Lift: rapid.SampledFrom(append([]Lift{""}, Lifts...)).Draw(t, "lift"),
		Steering: rapid.SampledFrom(append([]Steering{""}, Steerings...)).Draw(t, "steer"), Water: rapid.SampledFrom(append([]Water{""}, Waters...)).Draw(t, "water"),
		Hours: rapid.Float64Range(0, MostHours).Draw(t, "hours"), HoursKnown: rapid.Bool().Draw(t, "hk"), Looks: rapid.IntRange(0, 5).Draw(t, "looks"),
		Compression: rapid.SliceOfN(rapid.Float64Range(0, MostCompression), 0, 4).Draw(t, "comp"), Oil: rapid.SampledFrom(append([]Oil{""}, Oils...)).Draw(t, "oil"),
		Turns: answer("turns"), Submerged: answer("sub"), LowerUnit: answer("lower"), Welded: answer("weld"), PartsSupplied: answer("supplied"),
		Plate: answer("plate"), ShownRunning: answer("shown"), Controls: answer("controls"), Propeller: answer("prop"), Tank: answer("tank"), Helm: answer("helm"),
		WarrantyDays: rapid.IntRange(0, MostWarranty).Draw(t, "warranty"),
	}
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	return m
}

// A sale fades by half each half-life, never to nothing.
func TestEvidenceFades(t *testing.T) {
	m := market(t, nil, Options{HalfLife: 2, AsOf: today})
	for years, want := range map[int]float64{0: 1, 2: 0.5, 4: 0.25} {
		near(t, fmt.Sprint(years), m.evidence(day.Of(2026-years, 7, 1)), want, 1e-3)
	}
	if got := m.evidence(day.Of(1926, 7, 1)); got != leastEvidence {
		t.Errorf("a hundred years on: %v", got)
	}
	if got := m.evidence(today + 400); got != 1 {
		t.Errorf("a sale after the day: %v", got)
	}
	forever := market(t, nil, Options{HalfLife: math.Inf(1), AsOf: today})
	if got := forever.evidence(day.Of(1926, 7, 1)); got != 1 {
		t.Errorf("that never fades: %v", got)
	}
}

// In a currency far from the dollar and without an anchor, a dozen sales must carry the level.
func TestCurrencyFarFromTheDollar(t *testing.T) {
	yen, err := money.New("JPY", language.English)
	if err != nil {
		t.Fatal(err)
	}
	w := newWorld(2, 1200)
	sales := w.sales(15, 0.4)
	for i := range sales {
		sales[i].Price = sales[i].Price * 150 / 100 // 150 yen a dollar, no minor unit
	}
	m := market(t, sales, Options{Currency: yen, AsOf: w.today})
	inside := 0
	for _, r := range m.Track().Rows {
		if r.Inside {
			inside++
		}
	}
	if inside < 9 {
		t.Errorf("%d of 15 bands held", inside)
	}
	none := worth(t, market(t, nil, Options{Currency: yen}), Motor{Power: 50, Year: 2011, Stroke: TwoStroke, State: Runs})
	if !slices.Contains(keys(none.Warnings()), "band.anchor-foreign") {
		t.Errorf("not warned: %v", say.Strings(none.Warnings()))
	}
}
