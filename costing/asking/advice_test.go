package asking_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

var spring = day.Of(2026, time.April, 15)

func untaught(t fataler) *asking.Learned {
	t.Helper()
	l, err := asking.Learn(nil, asking.Winter)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// motor has cost 967.50 so far and is to take 35.00 more to sell.
func motor() costing.Record {
	return costing.Record{
		Stage: costing.Listed, BoughtOn: day.Of(2026, 3, 1), Plan: costing.Plan{Selling: 5000},
		Lines: []costing.Line{
			{Kind: costing.Purchase, Total: 60000},
			{Kind: costing.PartNew, Total: 32050},
			{Kind: costing.Listing, Total: 1500},
		},
		Sessions: []costing.Session{{Time: 10 * costing.Hour, Rate: 2000}, {Time: 2 * costing.Hour}},
	}
}

func question(l *asking.Learned) asking.Question {
	return asking.Question{Resale: resale{250000, 0.2}, Power: 50, Record: motor(), Learned: l, Today: spring}
}

// fataler is a test or a property.
type fataler interface {
	Helper()
	Fatal(...any)
}

func advise(t fataler, q asking.Question, s costing.Settings) asking.Advice {
	t.Helper()
	a, err := asking.Advise(q, s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// 600.00 + 320.50 + 15.00 spent and 35.00 of the 50.00 for selling to come are 970.50; at a fee of 5 % a
// price of 1,021.58 leaves 1,021.58 - 51.08 = 970.50. Ten own hours at 20.00 and two at the shop's 25.00
// make it 1,220.50, and 1,284.74 leaves 1,284.74 - 64.24.
func TestBreakEven(t *testing.T) {
	s := costing.DefaultSettings()
	s.FeeRate = 0.05
	a := advise(t, question(untaught(t)), s)
	if a.BreakEven != 102158 || a.PaidForTime != 128474 || !a.Priced {
		t.Errorf("%d, %d, %v", a.BreakEven, a.PaidForTime, a.Priced)
	}
}

func TestWarnings(t *testing.T) {
	for _, c := range []struct {
		name   string
		middle money.Amount
		fee    float64
		want   []string
	}{
		{"all above", 250000, 0, []string{}},
		{"ask below", 50000, 0, []string{"asking.below"}},
		{"walk-away below", 95000, 0, []string{"asking.walk-below"}},
		{"no price", 250000, 1, []string{"asking.no-break-even"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := costing.DefaultSettings()
			s.FeeRate = c.fee
			q := question(untaught(t))
			q.Resale = resale{c.middle, 0.15}
			a := advise(t, q, s)
			keys := []string{}
			for _, w := range a.Warnings {
				keys = append(keys, w.Key)
			}
			if diff := cmp.Diff(c.want, keys); diff != "" {
				t.Errorf("-want +got\n%s%s", diff, say.Strings(a.Warnings))
			}
			if a.Priced != (c.fee < 1) {
				t.Errorf("priced %v", a.Priced)
			}
		})
	}
}

func priced(t fataler, q asking.Question, s costing.Settings) asking.Advice {
	t.Helper()
	a, err := asking.Price(q, s)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// What a practitioner would say of a motor worth about 2,500: ask somewhat more, let it go for a little less
// than it should bring, and lower the ask by and by.
func TestAdviceIsInTheTradesRange(t *testing.T) {
	a := advise(t, question(untaught(t)), costing.DefaultSettings())
	between := func(what string, v, low, high money.Amount) {
		if v < low || v > high {
			t.Errorf("%s is %d, not from %d to %d", what, v, low, high)
		}
	}
	between("the ask", a.Ask, 255000, 305000)
	between("the expected price", a.Follow.Price, 225000, 260000)
	between("the walk-away price", a.WalkAway, a.Follow.Price.Times(0.85), a.Follow.Price.Times(0.995))
	if a.Follow.Mid < 14 || a.Follow.Mid > 70 {
		t.Errorf("gone in %d days", a.Follow.Mid)
	}
	if a.Follow.Low > 12 || a.Follow.High < 90 {
		t.Errorf("with no history days are from %d to %d, which is not wide", a.Follow.Low, a.Follow.High)
	}
	if len(a.Plan) < 2 || a.Plan[0].Ask != a.Ask || a.Plan[0].On != spring {
		t.Fatalf("the plan is %v", a.Plan)
	}
	for i := 1; i < len(a.Plan); i++ {
		if a.Plan[i].Ask >= a.Plan[i-1].Ask || a.Plan[i].On <= a.Plan[i-1].On {
			t.Errorf("step %d goes from %v to %v", i, a.Plan[i-1], a.Plan[i])
		}
	}
	if a.Listings != 0 || !a.Holding.Usual {
		t.Errorf("%d listings, usual cost of money %v", a.Listings, a.Holding.Usual)
	}
}

// Asked at its estimate a motor brings a little less than the middle of its band on the average: nobody pays
// more than the ask, and some haggle.
func TestAskAtTheEstimateAgreesWithTheBand(t *testing.T) {
	for _, spread := range []float64{0.08, 0.15, 0.25} {
		q := question(untaught(t))
		q.Resale = resale{250000, spread}
		q.Asks = []asking.Asked{{On: spring, Ask: 250000}}
		a := advise(t, q, costing.DefaultSettings())
		if part := float64(a.Present.Price) / 250000; part < 0.9 || part > 1 {
			t.Errorf("spread %v: asked at its estimate it brings %.3f of it", spread, part)
		}
	}
}

// The longer a motor has stood unsold at an ask, the less it is likely to be worth, and the sooner the ask
// is too high.
func TestStandingUnsoldTeaches(t *testing.T) {
	walk, ask := money.Amount(1_000_000), money.Amount(1_000_000)
	for _, days := range []day.Day{0, 30, 90, 200} {
		q := question(untaught(t))
		q.Asks = []asking.Asked{{On: spring - days, Ask: 270000}}
		a := advise(t, q, costing.DefaultSettings())
		if a.WalkAway > walk+walk.Times(0.01) || a.Ask > ask+ask.Times(0.02) {
			t.Errorf("after %d days ask %d and walk away under %d, before %d and %d", days, a.Ask, a.WalkAway, ask, walk)
		}
		walk, ask = a.WalkAway, a.Ask
	}
	if ask > 255000 {
		t.Errorf("after 200 days at 2,700 it says to ask %d", ask)
	}
}

// An offer that was not taken shows that somebody would pay that much: it never lowers what the motor is
// taken to be worth.
func TestOffersTeach(t *testing.T) {
	base := question(untaught(t))
	base.Asks = []asking.Asked{{On: spring - 60, Ask: 270000}}
	with := base
	with.Bids = []asking.Bid{{On: spring - 5, Amount: 255000}}
	low := base
	low.Bids = []asking.Bid{{On: spring - 5, Amount: 90000}}
	s := costing.DefaultSettings()
	none, high, far := advise(t, base, s), advise(t, with, s), advise(t, low, s)
	if high.WalkAway <= none.WalkAway {
		t.Errorf("an offer near the ask leaves the walk-away price at %d, from %d", high.WalkAway, none.WalkAway)
	}
	if math.Abs(float64(far.WalkAway-none.WalkAway)) > 0.01*float64(none.WalkAway) {
		t.Errorf("a silly offer moves the walk-away price from %d to %d", none.WalkAway, far.WalkAway)
	}
}

func TestDecide(t *testing.T) {
	a := advise(t, question(untaught(t)), costing.DefaultSettings())
	if d := a.Decide(a.WalkAway + 2000); !d.Take || d.Reserve != 0 || d.From != spring || d.Net < d.Waiting {
		t.Errorf("above the walk-away price: %+v", d)
	}
	d := a.Decide(a.WalkAway - 20000)
	if d.Take || d.Reserve < 1 || d.From != spring+day.Day(d.Reserve) || d.Net >= d.Waiting || d.More < 0.5 {
		t.Errorf("200 under the walk-away price: %+v", d)
	}
	if deeper := a.Decide(a.WalkAway - 60000); deeper.Reserve <= d.Reserve || deeper.More < d.More {
		t.Errorf("600 under it: %+v, 200 under it: %+v", deeper, d)
	}
	if d := a.Decide(a.Ask * 2); !d.Take || d.More > 0.05 {
		t.Errorf("twice the ask: %+v", d)
	}
}

func TestADayThatIsNotAheadIsRefused(t *testing.T) {
	q := question(untaught(t))
	for _, by := range []day.Day{spring, spring - 1} {
		q.By = by
		if _, err := asking.Advise(q, costing.DefaultSettings()); err == nil {
			t.Errorf("gone by %s was taken on %s", by, spring)
		}
	}
}

// slack is what rounding an ask to a figure that people ask may move a value by.
const slack = 0.003

func drawn(t *rapid.T, l *asking.Learned) (asking.Question, costing.Settings) {
	q := question(l)
	q.Resale = resale{money.Amount(rapid.Int64Range(20_000, 2_000_000).Draw(t, "worth")), rapid.Float64Range(0.05, 0.6).Draw(t, "spread")}
	q.Power = rapid.SampledFrom([]float64{0, 2.5, 15, 50, 250}).Draw(t, "power")
	q.Today = spring + day.Day(rapid.IntRange(0, 364).Draw(t, "today"))
	if rapid.Bool().Draw(t, "listed") {
		ask := q.Resale.Median().Times(rapid.Float64Range(0.5, 2).Draw(t, "asked"))
		q.Asks = []asking.Asked{{On: q.Today - day.Day(rapid.IntRange(0, 900).Draw(t, "stood")), Ask: ask}}
	}
	s := costing.DefaultSettings()
	s.FeeRate = rapid.SampledFrom([]float64{0, 0.05, 0.12}).Draw(t, "fee")
	s.SpaceADay = money.Amount(rapid.Int64Range(0, 500).Draw(t, "space"))
	s.CostOfMoney = rapid.Float64Range(0, 0.3).Draw(t, "cost of money")
	return q, s
}

// Whatever is asked about: figures are figures, the walk-away price leaves no more than the best expected
// net and is not below nothing, and no ask is below it.
func TestAnswersHold(t *testing.T) {
	l := untaught(t)
	rapid.Check(t, func(t *rapid.T) {
		q, s := drawn(t, l)
		if rapid.Bool().Draw(t, "by a day") {
			q.By = q.Today + day.Day(rapid.IntRange(1, 500).Draw(t, "days"))
		}
		a := advise(t, q, s)
		left := float64(a.WalkAway)*(1-s.FeeRate) - 3500
		if left > float64(max(a.Best.Net, a.Spot))+2 || a.WalkAway < 0 {
			t.Fatalf("walk away under %d, which leaves %.0f; the best net is %d", a.WalkAway, left, a.Best.Net)
		}
		if a.Ask < a.WalkAway || a.Ask <= 0 {
			t.Fatalf("ask %d, walk away under %d", a.Ask, a.WalkAway)
		}
		if len(a.Curve) != 200 || !slices.IsSortedFunc(a.Curve, func(a, b asking.Point) int { return int(a.Ask - b.Ask) }) {
			t.Fatalf("a curve of %d points", len(a.Curve))
		}
		for _, p := range a.Curve {
			if math.IsNaN(p.Days) || math.IsNaN(p.Mid) || math.IsNaN(p.Chance) || p.Chance < -1e-9 || p.Chance > 1+1e-9 || p.Net < 0 {
				t.Fatalf("a point of %+v", p)
			}
			// With a day to be gone by the ask is the least for any later day, which may not be the highest point.
			if q.By == 0 && float64(p.Net) > float64(a.Best.Net)*(1+slack)+200 {
				t.Fatalf("the curve nets %d at %d, the best ask %d nets %d", p.Net, p.Ask, a.Ask, a.Best.Net)
			}
		}
		if o := a.Follow; o.Low > o.Mid || o.Mid > o.High || o.Chance < 0 || o.Chance > 1+1e-9 || math.IsNaN(o.Days) {
			t.Fatalf("%+v", o)
		}
		d := a.Decide(a.WalkAway)
		if d.More < -1e-9 || d.More > 1+1e-9 || math.IsNaN(d.More) {
			t.Fatalf("%+v", d)
		}
	})
}

// Holding that costs more never raises the walk-away price, and takes from the net.
func TestDearHoldingLowersTheWalkAwayPrice(t *testing.T) {
	l := untaught(t)
	rapid.Check(t, func(t *rapid.T) {
		q, s := drawn(t, l)
		dear := s
		dear.SpaceADay += money.Amount(rapid.Int64Range(1, 2000).Draw(t, "more space"))
		cheap, costly := priced(t, q, s), priced(t, q, dear)
		if costly.WalkAway > cheap.WalkAway+cheap.WalkAway.Times(slack) || costly.Best.Net > cheap.Best.Net+cheap.Best.Net.Times(slack) {
			t.Fatalf("at %d a day walk away under %d (net %d), at %d under %d (net %d)",
				cheap.Holding.Total, cheap.WalkAway, cheap.Best.Net, costly.Holding.Total, costly.WalkAway, costly.Best.Net)
		}
	})
}

func TestFeesLowerTheNet(t *testing.T) {
	l := untaught(t)
	rapid.Check(t, func(t *rapid.T) {
		q, s := drawn(t, l)
		more := s
		more.FeeRate += rapid.Float64Range(0.01, 0.3).Draw(t, "more fee")
		a, b := priced(t, q, s), priced(t, q, more)
		if b.Best.Net >= a.Best.Net && a.Best.Net > 0 {
			t.Fatalf("at a fee of %.2f it nets %d, at %.2f %d", s.FeeRate, a.Best.Net, more.FeeRate, b.Best.Net)
		}
	})
}

// A nearer day to be gone by never raises the ask, and the walk-away price falls as that day nears.
func TestANearerDayLowersAskAndWalkAway(t *testing.T) {
	l := untaught(t)
	rapid.Check(t, func(t *rapid.T) {
		q, s := drawn(t, l)
		near := rapid.IntRange(1, 200).Draw(t, "near")
		far := near + rapid.IntRange(1, 165).Draw(t, "farther")
		q.By = q.Today + day.Day(near)
		a := priced(t, q, s)
		q.By = q.Today + day.Day(far)
		b := priced(t, q, s)
		q.By = 0
		c := priced(t, q, s)
		if a.Ask > b.Ask || b.Ask > c.Ask {
			t.Fatalf("gone within %d days ask %d, within %d %d, without a day %d", near, a.Ask, far, b.Ask, c.Ask)
		}
		if a.WalkAway > b.WalkAway+b.WalkAway.Times(slack) || b.WalkAway > c.WalkAway+c.WalkAway.Times(slack) {
			t.Fatalf("gone within %d days walk away under %d, within %d under %d, without a day under %d", near, a.WalkAway, far, b.WalkAway, c.WalkAway)
		}
	})
}

// An offer of a band's middle does not make a motor of which hardly anything is known worth far more than the
// ask: who would pay far more seldom offers so little.
func TestAnOfferDoesNotRunAwayWithAWideBand(t *testing.T) {
	q := question(untaught(t))
	q.Resale = resale{230000, 0.95}
	q.Asks = []asking.Asked{{On: spring - 20, Ask: 280000}}
	before := advise(t, q, costing.DefaultSettings())
	q.Bids = []asking.Bid{{On: spring - 10, Amount: 200000}}
	after := advise(t, q, costing.DefaultSettings())
	if after.WalkAway <= before.WalkAway || after.WalkAway > 280000 {
		t.Errorf("an offer of 2,000 at an ask of 2,800 takes the walk-away price from %d to %d", before.WalkAway, after.WalkAway)
	}
}

// However wide the band, the ask is one that the curve reaches.
func TestTheAskLiesOnTheCurve(t *testing.T) {
	for _, spread := range []float64{0.05, 0.3, 0.95} {
		for _, middle := range []money.Amount{8000, 231900, 3000000} {
			q := question(untaught(t))
			q.Resale = resale{middle, spread}
			a := advise(t, q, costing.DefaultSettings())
			if first, last := a.Curve[0].Ask, a.Curve[len(a.Curve)-1].Ask; a.Ask < first || a.Ask > last {
				t.Errorf("middle %d, spread %v: the ask of %d is not from %d to %d", middle, spread, a.Ask, first, last)
			}
		}
	}
}
