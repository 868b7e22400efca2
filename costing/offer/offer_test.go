package offer_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// lognormal stands for a band: a median and the standard deviation of the log.
type lognormal struct {
	median money.Amount
	sigma  float64
}

func (l lognormal) Draws(n int) []money.Amount {
	out := make([]money.Amount, n)
	for i := range out {
		z := distuv.UnitNormal.Quantile((float64(i) + 0.5) / float64(n))
		out[i] = l.median.Times(math.Exp(l.sigma * z))
	}
	return out
}

// flat stands for a resale price known to the minor unit.
type flat money.Amount

func (f flat) Draws(n int) []money.Amount { return slices.Repeat([]money.Amount{money.Amount(f)}, n) }

func settings(change ...func(*costing.Settings)) costing.Settings {
	s := costing.DefaultSettings()
	for _, c := range change {
		c(&s)
	}
	return s
}

// Input is one way out by a plan of a shop's own.
type Input struct {
	Band     offer.Resale
	Plan     costing.Plan
	Settings costing.Settings
	Buying   offer.Buying
	CashDays int
	Spent    money.Amount
}

func (in Input) question() offer.Question {
	return offer.Question{Settings: in.Settings, Trip: in.Plan.Trip, Buying: in.Buying, Spent: in.Spent, Draws: 2000,
		Ways: []offer.Way{{Exit: offer.Tidy, Resale: in.Band, Selling: in.Plan.Selling, CashDays: in.CashDays,
			Work: []offer.Work{{Name: "as planned", Hours: in.Plan.Hours, Parts: in.Plan.Parts}}}}}
}

func appraise(t interface {
	Helper()
	Fatal(...any)
}, in Input) offer.Offer {
	t.Helper()
	return compare(t, in.question()).Ways[0].Offer
}

// With the resale price known and one guess for each cost, the top price under each limit is school
// arithmetic: 2,490.00 x 0.9 - 300.00 - 50.00 - 30 mi x 0.40 = 1,879.00 net; less 250.00 profit is
// 1,629.00; a chance of loss is none until the price passes the net; 20 h at 30.00 leave 1,279.00.
func TestTopPriceOfAMotorWithNothingUncertain(t *testing.T) {
	s := settings(func(s *costing.Settings) { s.FeeRate, s.PerHour = 0.1, 3000 })
	o := appraise(t, Input{
		Band:     flat(249000),
		Plan:     costing.Plan{Parts: costing.ThreePoint{Likely: 30000}, Hours: costing.ThreePoint{Likely: 20}, Selling: 5000, Trip: 30},
		Settings: s,
	})
	want := []offer.LimitPrice{{Limit: offer.ByProfit, Price: 162900}, {Limit: offer.ByRisk, Price: 187900}, {Limit: offer.ByHour, Price: 127900}}
	if diff := cmp.Diff(want, o.Limits); diff != "" {
		t.Errorf("limits -want +got\n%s", diff)
	}
	if o.Top != 127900 || o.Binds != offer.ByHour || o.TooThin {
		t.Errorf("top %d by %s, too thin %v", o.Top, o.Binds, o.TooThin)
	}
	if o.Resale != 249000 || o.Fees != 24900 || o.Costs != 36200 || o.Hours != 20*costing.Hour {
		t.Errorf("resale %d, fees %d, costs %d, hours %s", o.Resale, o.Fees, o.Costs, o.Hours)
	}
	at := o.At(140000)
	perHour, ok := at.PerHour()
	if at.BeforeOwnTime != 47900 || at.AfterOwnTime != -2100 || at.Low != 47900 || at.High != 47900 || at.Loss != 0 ||
		perHour != 2395 || !ok {
		t.Errorf("at 1,400: %+v, per hour %d %v", at, perHour, ok)
	}
	if diff := cmp.Diff([]offer.Limit{offer.ByHour}, at.Misses); diff != "" {
		t.Errorf("misses at 1,400 -want +got\n%s", diff)
	}
}

// A profit of exactly nothing is no loss.
func TestComingOutEvenIsNoLoss(t *testing.T) {
	o := appraise(t, Input{Band: flat(100000), Settings: settings()})
	if got := o.At(100000).Loss; got != 0 {
		t.Errorf("chance of a loss when paying what it brings: %v", got)
	}
	if got := o.At(100001).Loss; got != 1 {
		t.Errorf("chance of a loss a cent above: %v", got)
	}
}

// The risk limit is the price at which the shop's line in ten of the band's prices would lose. Taken
// from the lognormal's own quantile: 2,000.00 x exp(-0.3 x 0.8416) = 1,553.71.
func TestRiskLimitIsTheQuantileOfTheBand(t *testing.T) {
	o := appraise(t, Input{Band: lognormal{200000, 0.3}, Settings: settings(func(s *costing.Settings) { s.Profit = -1e9; s.Risk = 0.2 })})
	if o.Binds != offer.ByRisk {
		t.Fatalf("binds %s", o.Binds)
	}
	if math.Abs(float64(o.Top)-155371) > 155371*0.001 {
		t.Errorf("top %d, want about 155371", o.Top)
	}
}

func TestReasonNamesTheLimitAndTheLine(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*costing.Settings)
		median money.Amount
		want   string
	}{
		{"risk", func(s *costing.Settings) { s.Profit, s.PerHour = 0, 0 }, 200000,
			"What limits it: the chance of a loss; your line is two in ten."},
		{"profit", func(s *costing.Settings) { s.Profit, s.PerHour = 90000, 0 }, 200000,
			"What limits it: the expected profit; your line is 900 before your own time."},
		{"hour", func(s *costing.Settings) { s.Profit, s.PerHour = 0, 15050 }, 200000,
			"What limits it: the pay for an hour of yours; your line is 150.50."},
		{"thin risk", func(s *costing.Settings) { s.Profit, s.PerHour, s.Risk = 0, 0, 0 }, 22000,
			"Too thin: even for nothing, the chance of a loss is over your line of none in ten."},
		{"thin profit", func(s *costing.Settings) { s.PerHour = 0 }, 20000,
			"Too thin: even for nothing, the expected profit is under your line of 250."},
		{"thin hour", func(s *costing.Settings) { s.Profit, s.PerHour, s.Risk = 0, 15000, 1 }, 40000,
			"Too thin: even for nothing, an hour of yours earns less than your line of 150."},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := appraise(t, Input{
				Band: lognormal{c.median, 0.25}, Settings: settings(c.change),
				Plan: costing.Plan{Parts: costing.ThreePoint{Low: 10000, Likely: 15000, High: 20000}, Hours: costing.ThreePoint{Likely: 6}},
			})
			if got := o.Reason().String(); got != c.want {
				t.Errorf("reason %q, want %q (limits %v)", got, c.want, o.Limits)
			}
			if o.TooThin != strings.HasPrefix(c.name, "thin") {
				t.Errorf("too thin: %v, limits %v", o.TooThin, o.Limits)
			}
			if o.TooThin && o.Top != 0 {
				t.Errorf("too thin, and a top of %d", o.Top)
			}
		})
	}
}

func TestWarnings(t *testing.T) {
	bare := appraise(t, Input{Band: flat(100000), Settings: settings(), Spent: 4250})
	want := []string{
		"No hours of yours are planned, so pay per hour is not known and sets no limit.",
		"42.50 spent on it already is gone whether you buy it or not; it is not in these figures.",
	}
	if diff := cmp.Diff(want, say.Strings(bare.Warnings)); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if _, ok := bare.At(0).PerHour(); ok {
		t.Error("pay per hour is known without hours")
	}
	full := appraise(t, Input{Band: flat(100000), Settings: settings(),
		Plan: costing.Plan{Parts: costing.ThreePoint{Likely: 1}, Hours: costing.ThreePoint{Likely: 1}}})
	if len(full.Warnings) != 0 {
		t.Errorf("warnings about a full plan: %v", full.Warnings)
	}
}

func TestRefusals(t *testing.T) {
	good := Input{Band: flat(100000), Settings: settings()}
	for _, c := range []struct {
		field  string
		change func(*Input)
	}{
		{"resale band", func(in *Input) { in.Band = nil }},
		{"days of cash", func(in *Input) { in.CashDays = -1 }},
		{"buying", func(in *Input) { in.Buying.FeeRate = math.NaN() }},
		{"buying", func(in *Input) { in.Buying.TaxRate = 2 }},
		{"resale band", func(in *Input) { in.Band = short{} }},
		{"fee rate", func(in *Input) { in.Settings.FeeRate = 1 }},
		{"fee rate", func(in *Input) { in.Settings.FeeRate = math.NaN() }},
		{"risk", func(in *Input) { in.Settings.Risk = 1.5 }},
		{"currency", func(in *Input) { in.Settings.Currency = "money" }},
		{"parts", func(in *Input) { in.Plan.Parts = costing.ThreePoint{Low: 5, Likely: 4, High: 9} }},
		{"parts", func(in *Input) { in.Plan.Parts.Likely = 1e20 }},
		{"hours", func(in *Input) { in.Plan.Hours.Likely = math.Inf(1) }},
		{"hours", func(in *Input) { in.Plan.Hours.Likely = 1e6 }},
		{"trip", func(in *Input) { in.Plan.Trip = -1 }},
		{"trip", func(in *Input) { in.Plan.Trip = math.NaN() }},
		{"selling", func(in *Input) { in.Plan.Selling = -1 }},
	} {
		in := good
		c.change(&in)
		_, err := offer.Compare(in.question())
		if err == nil || !strings.Contains(err.Error(), c.field) {
			t.Errorf("want an error naming %q, got %v", c.field, err)
		}
	}
}

type short struct{}

func (short) Draws(int) []money.Amount { return []money.Amount{1} }

// anInput is any motor a shop might look at.
func anInput(t *rapid.T) Input {
	three := func(name string, most float64) costing.ThreePoint {
		v := rapid.SliceOfN(rapid.Float64Range(0, most), 3, 3).Draw(t, name)
		slices.Sort(v)
		return costing.ThreePoint{Low: v[0], Likely: v[1], High: v[2]}
	}
	return Input{
		Band: lognormal{money.Amount(rapid.Int64Range(1000, 2_000_000).Draw(t, "median")), rapid.Float64Range(0, 1.2).Draw(t, "sigma")},
		Plan: costing.Plan{
			Parts: three("parts", 300_000), Hours: three("hours", 60),
			Selling: money.Amount(rapid.Int64Range(0, 20_000).Draw(t, "selling")),
			Trip:    rapid.Float64Range(0, 500).Draw(t, "trip"),
		},
		Settings: settings(func(s *costing.Settings) {
			s.Profit = money.Amount(rapid.Int64Range(0, 200_000).Draw(t, "profit"))
			s.PerHour = money.Amount(rapid.Int64Range(0, 10_000).Draw(t, "perHour"))
			s.Risk = rapid.Float64Range(0, 1).Draw(t, "risk")
			s.FeeRate = rapid.Float64Range(0, 0.5).Draw(t, "fee")
			s.CostOfMoney = rapid.Float64Range(0, 0.5).Draw(t, "cost of money")
			s.SpaceADay = money.Amount(rapid.Int64Range(0, 300).Draw(t, "space"))
		}),
		Buying: offer.Buying{Known: money.Amount(rapid.Int64Range(0, 20_000).Draw(t, "known")),
			FeeRate: rapid.Float64Range(0, 0.3).Draw(t, "buyer's fee"), TaxRate: rapid.Float64Range(0, 0.3).Draw(t, "tax")},
		CashDays: rapid.IntRange(0, 400).Draw(t, "days"),
	}
}

// At the top price every limit holds, and at one minor unit more one does not.
func TestTopPriceIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := appraise(t, anInput(t))
		if o.TooThin {
			if misses := o.At(0).Misses; len(misses) == 0 || !slices.Contains(misses, o.Binds) {
				t.Fatalf("too thin, but for nothing it misses %v and %s binds", misses, o.Binds)
			}
			return
		}
		if misses := o.At(o.Top).Misses; len(misses) != 0 {
			t.Fatalf("at the top price %d it misses %v", o.Top, misses)
		}
		if misses := o.At(o.Top + 1).Misses; !slices.Contains(misses, o.Binds) {
			t.Fatalf("a unit above the top price %d it misses %v, and %s is said to bind", o.Top, misses, o.Binds)
		}
	})
}

// The same top price by walking down, a minor unit at a time, over outcomes made here from the words of
// the package comment rather than by it.
func TestTopPriceAgainstASearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := settings(func(s *costing.Settings) {
			s.Profit = money.Amount(rapid.Int64Range(0, 120).Draw(t, "profit"))
			s.PerHour = money.Amount(rapid.Int64Range(0, 60).Draw(t, "perHour"))
			s.Risk = float64(rapid.IntRange(0, 20).Draw(t, "risk")) / 20
			s.FeeRate = float64(rapid.IntRange(0, 10).Draw(t, "fee")) / 50
		})
		band := lognormal{money.Amount(rapid.Int64Range(100, 500).Draw(t, "median")), rapid.Float64Range(0, 0.5).Draw(t, "sigma")}
		parts := money.Amount(rapid.Int64Range(0, 120).Draw(t, "parts"))
		hours := float64(rapid.IntRange(0, 12).Draw(t, "quarters")) / 4
		o := appraise(t, Input{Band: band, Settings: s,
			Plan: costing.Plan{Parts: costing.ThreePoint{Likely: float64(parts)}, Hours: costing.ThreePoint{Likely: hours}}})

		prices := band.Draws(2000)
		low, high := prices[9]+(prices[10]-prices[9])/2, prices[1989]+(prices[1990]-prices[1989])/2 // where 0.5 % end
		net := make([]money.Amount, len(prices))
		for i, p := range prices {
			p = min(max(p, low), high)
			net[i] = p - p.Times(s.FeeRate) - parts
		}
		fits := func(pay money.Amount) bool {
			var sum float64
			lost := 0
			for _, n := range net {
				sum += float64(n - pay)
				if n < pay {
					lost++
				}
			}
			return sum >= 2000*float64(s.Profit) && float64(lost) <= s.Risk*2000+1e-6 && sum >= 2000*hours*float64(s.PerHour)
		}
		want := money.Amount(-1)
		for pay := money.Amount(900); pay >= 0; pay-- {
			if fits(pay) {
				want = pay
				break
			}
		}
		if (want < 0) != o.TooThin || max(want, 0) != o.Top {
			t.Fatalf("top %d (too thin %v), a search finds %d", o.Top, o.TooThin, want)
		}
	})
}

// Wanting more never makes a motor worth more.
func TestRaisingATargetNeverRaisesTheTop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anInput(t)
		before := appraise(t, in)
		more := money.Amount(rapid.Int64Range(0, 50_000).Draw(t, "more"))
		switch rapid.IntRange(0, 2).Draw(t, "which") {
		case 0:
			in.Settings.Profit += more
		case 1:
			in.Settings.PerHour += more
		default:
			in.Settings.Risk *= rapid.Float64Range(0, 1).Draw(t, "less risk")
		}
		if after := appraise(t, in); after.Top > before.Top {
			t.Fatalf("top rose from %d to %d", before.Top, after.Top)
		}
	})
}

// Along a curve profit falls and the chance of a loss rises; the band lies about its own expectation.
func TestCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := appraise(t, anInput(t))
		points := o.Curve(0, 300_000, 31)
		if len(points) != 31 || points[0].Price != 0 || points[30].Price != 300_000 {
			t.Fatalf("%d points from %d to %d", len(points), points[0].Price, points[len(points)-1].Price)
		}
		for i, p := range points {
			if p.Low > p.High {
				t.Fatalf("at %d: low %d over high %d", p.Price, p.Low, p.High)
			}
			if i == 0 {
				continue
			}
			b := points[i-1]
			if p.BeforeOwnTime > b.BeforeOwnTime || p.Loss < b.Loss || p.Low > b.Low {
				t.Fatalf("from %+v to %+v", b, p)
			}
			paid := p.Price + p.Fee + p.Tax + p.Holding - b.Price - b.Fee - b.Tax - b.Holding
			if d := b.BeforeOwnTime - p.BeforeOwnTime - paid; d < -1 || d > 1 {
				t.Fatalf("paying %d more took %d of the profit", paid, b.BeforeOwnTime-p.BeforeOwnTime)
			}
		}
	})
	o := appraise(t, Input{Band: flat(1000), Settings: settings()})
	if got := len(o.Curve(0, 10, 1)); got != 2 {
		t.Errorf("a curve of one point has %d", got)
	}
}

// The shuffle deals parts evenly: the spread of net is that of independent resale and parts.
// Var(net) = Var(resale) + Var(parts); of a triangle (a2+b2+c2-ab-ac-bc)/18.
func TestPartsAreDealtIndependently(t *testing.T) {
	plan := costing.Plan{Parts: costing.ThreePoint{Low: 10_000, Likely: 40_000, High: 160_000}}
	band := lognormal{300_000, 0.1}
	o := appraise(t, Input{Band: band, Plan: plan, Settings: settings()})
	a, c, b := 10_000.0, 40_000.0, 160_000.0
	triangle := (a*a + b*b + c*c - a*b - a*c - b*c) / 18
	resale := distuv.LogNormal{Mu: math.Log(300_000), Sigma: 0.1}.Variance()
	want := math.Sqrt(triangle + resale)
	// One in ten below and above: for so round a sum, 2 x 1.2816 standard deviations apart, within 5 %.
	at := o.At(0)
	got := float64(at.High-at.Low) / (2 * 1.2816)
	if math.Abs(got/want-1) > 0.05 {
		t.Errorf("standard deviation of net about %.0f, want %.0f", got, want)
	}
	if math.Abs(float64(o.Costs)*3/(a+b+c)-1) > 0.002 {
		t.Errorf("mean parts %d, want %.0f", o.Costs, (a+b+c)/3)
	}
}

func TestAZeroOfferAnswersQuietly(t *testing.T) {
	var o offer.Offer
	if got := o.At(100); got.Price != 100 || got.Loss != 0 {
		t.Errorf("%+v", got)
	}
}

func BenchmarkAppraise(b *testing.B) {
	in := Input{
		Band: lognormal{249000, 0.3}, Settings: settings(),
		Plan: costing.Plan{Parts: costing.ThreePoint{Low: 20000, Likely: 35000, High: 90000}, Hours: costing.ThreePoint{Low: 12, Likely: 18, High: 30}},
	}
	for b.Loop() {
		if _, err := offer.Compare(in.question()); err != nil {
			b.Fatal(err)
		}
	}
}
