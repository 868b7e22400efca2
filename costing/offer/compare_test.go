package offer_test

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
)

func compare(t interface {
	Helper()
	Fatal(...any)
}, q offer.Question) offer.Answer {
	t.Helper()
	a, err := offer.Compare(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func three(low, likely, high float64) costing.ThreePoint {
	return costing.ThreePoint{Low: low, Likely: likely, High: high}
}

// driveway is a motor with a powerhead in doubt and four ways out, as a shop would meet it.
func driveway() offer.Question {
	gasket := offer.Work{Name: "head gasket", Hours: three(2, 4, 9), Parts: three(5000, 10500, 16000)}
	swap := offer.Work{Name: "powerhead swap", Hours: three(8, 13, 22), Parts: three(80000, 265000, 450000)}
	service := offer.Work{Name: "annual service", Hours: three(1.5, 2.5, 4), Parts: three(6000, 12000, 18000)}
	return offer.Question{
		Doubts: []offer.Doubt{
			{Key: "powerhead", Cases: []offer.Case{
				{Key: "sound", Chance: 4},
				{Key: "gasket", Chance: 4, Work: []offer.Work{gasket}, Deep: true},
				{Key: "finished", Chance: 2, Work: []offer.Work{swap}, Deep: true, Spoils: []string{"powerhead"}},
			}},
			{Key: "lower-unit", Cases: []offer.Case{{Key: "sound", Chance: 8}, {Key: "seal", Chance: 2,
				Work: []offer.Work{{Name: "reseal", Hours: three(2, 4, 7), Parts: three(6000, 11000, 16000)}}}}},
		},
		Ways: []offer.Way{
			{Exit: offer.AsItStands, Resale: lognormal{80000, 0.3}},
			{Exit: offer.Tidy, Resale: lognormal{190000, 0.3}, Unmended: lognormal{95000, 0.3}, Reach: offer.MendsLight, Work: []offer.Work{service},
				Comeback: offer.Comeback{Chance: 0.08, Cost: 9000}},
			{Exit: offer.Rebuild, Resale: lognormal{250000, 0.25}, Reach: offer.MendsAll, Work: []offer.Work{service},
				Comeback: offer.Comeback{Chance: 0.12, Cost: 15000}},
			{Exit: offer.Break, Work: []offer.Work{{Name: "strip", Hours: three(4, 6, 10)}}, Pieces: []offer.Part{
				{Name: "powerhead", Price: three(20000, 40000, 70000), Chance: 0.6},
				{Name: "lower unit", Price: three(20000, 35000, 60000), Chance: 0.8},
				{Name: "cowl", Price: three(5000, 9000, 15000), Chance: 0.5},
			}},
		},
		Settings: settings(), Trip: 30,
	}
}

// With nothing uncertain but the case, a way out is school arithmetic. Five in ten of 2,000.00 less
// 300.00 of work in one case and nothing in the other: 1,850.00 on average, 1,700.00 at the worst.
func TestMixtureOfTwoCases(t *testing.T) {
	a := compare(t, offer.Question{
		Doubts: []offer.Doubt{{Key: "powerhead", Cases: []offer.Case{{Key: "sound", Chance: 5},
			{Key: "gasket", Chance: 5, Work: []offer.Work{{Name: "gasket", Hours: costing.ThreePoint{Likely: 4}, Parts: costing.ThreePoint{Likely: 30000}}}}}}},
		Ways:     []offer.Way{{Exit: offer.Rebuild, Resale: flat(200000), Reach: offer.MendsAll}, {Exit: offer.AsItStands, Resale: flat(50000)}},
		Settings: settings(func(s *costing.Settings) { s.Profit, s.PerHour, s.Risk = 0, 0, 0.49 }),
	})
	w := a.BestWay()
	if w.Exit != offer.Rebuild || w.Top != 170000 || w.Binds != offer.ByRisk {
		t.Errorf("best %s, top %d by %s", w.Exit, w.Top, w.Binds)
	}
	at := w.At(0)
	if at.BeforeOwnTime != 185000 || at.Hours != 2*costing.Hour || at.Low != 170000 || at.High != 200000 {
		t.Errorf("%+v", at)
	}
	if w.Sells(0.1) != 200000 || a.Ways[1].Top != 50000 {
		t.Errorf("sells at %d; as it stands bears %d", w.Sells(0.1), a.Ways[1].Top)
	}
}

// A service that a rebuild does anyhow is not paid twice.
func TestAJobIsDoneOnce(t *testing.T) {
	service := offer.Work{Name: "service", Parts: costing.ThreePoint{Likely: 10000}}
	a := compare(t, offer.Question{
		Doubts:   []offer.Doubt{{Key: "lower-unit", Cases: []offer.Case{{Key: "dirty", Chance: 1, Work: []offer.Work{service}}}}},
		Ways:     []offer.Way{{Exit: offer.Rebuild, Resale: flat(100000), Reach: offer.MendsAll, Work: []offer.Work{service}}},
		Settings: settings(),
	})
	if got := a.Ways[0].Costs; got != 10000 {
		t.Errorf("work of %d, want one service of 10000", got)
	}
}

// What goes deep is sold unmended after a tidy and service: 3 in 10 of 400.00 and 7 in 10 of 1,000.00.
func TestTidyLeavesWhatGoesDeep(t *testing.T) {
	a := compare(t, offer.Question{
		Doubts: []offer.Doubt{{Key: "powerhead", Cases: []offer.Case{{Key: "sound", Chance: 7}, {Key: "finished", Chance: 3, Deep: true,
			Work: []offer.Work{{Name: "swap", Parts: costing.ThreePoint{Likely: 300000}}}}}}},
		Ways:     []offer.Way{{Exit: offer.Tidy, Resale: flat(100000), Unmended: flat(40000), Reach: offer.MendsLight}},
		Settings: settings(),
	})
	if w := a.Ways[0]; w.Offer.Resale != 82000 || w.Costs != 0 {
		t.Errorf("brings %d for %d of work", w.Offer.Resale, w.Costs)
	}
}

// Parts sell by their chance, each by itself, and not where a case spoils them; a donor's parts carry no fee.
// Mean 0.5 x 0.8 x 300.00 + 0.8 x 200.00 = 280.00; spoiling and selling are independent.
func TestBreakingForParts(t *testing.T) {
	pieces := []offer.Part{{Name: "powerhead", Price: costing.ThreePoint{Likely: 30000}, Chance: 0.8}, {Name: "lower unit", Price: costing.ThreePoint{Likely: 20000}, Chance: 0.8}}
	q := offer.Question{
		Doubts:   []offer.Doubt{{Key: "powerhead", Cases: []offer.Case{{Key: "sound", Chance: 5}, {Key: "finished", Chance: 5, Spoils: []string{"powerhead"}}}}},
		Ways:     []offer.Way{{Exit: offer.Break, Pieces: pieces}, {Exit: offer.Donor, Pieces: pieces, Free: true}},
		Settings: settings(func(s *costing.Settings) { s.FeeRate = 0.1 }),
	}
	a := compare(t, q)
	if got := float64(a.Ways[0].Offer.Resale); math.Abs(got-28000) > 150 {
		t.Errorf("parts bring %v on average, want about 28000", got)
	}
	if a.Ways[0].Fees == 0 || a.Ways[1].Fees != 0 {
		t.Errorf("fees %d and %d", a.Ways[0].Fees, a.Ways[1].Fees)
	}
	// Neither sells in 0.6 x 0.2 = 12 of a hundred outcomes.
	if loss := a.Ways[1].At(1).Loss; math.Abs(loss-0.12) > 0.005 {
		t.Errorf("nothing sells %v of the time, want about 0.12", loss)
	}
}

// A comeback's cost is taken off as often as its chance says.
func TestComebacksAreTakenOff(t *testing.T) {
	a := compare(t, offer.Question{Ways: []offer.Way{{Exit: offer.Rebuild, Resale: flat(100000), Comeback: offer.Comeback{Chance: 0.25, Cost: 20000}}}, Settings: settings()})
	if w := a.Ways[0]; w.At(0).BeforeOwnTime != 95000 || w.At(80001).Loss != 0.25 {
		t.Errorf("%+v", w.At(80001))
	}
}

// The same question gives the same cents, and the order of the ways changes none of them.
func TestSameQuestionSameCents(t *testing.T) {
	one := compare(t, driveway())
	q := driveway()
	slices.Reverse(q.Ways)
	two := compare(t, q)
	for i, w := range one.Ways {
		v := two.Ways[len(two.Ways)-1-i]
		if w.Exit != v.Exit || w.Top != v.Top || w.Costs != v.Costs || w.Offer.Resale != v.Offer.Resale || w.Offer.Hours != v.Offer.Hours {
			t.Errorf("%s: %d and %s: %d", w.Exit, w.Top, v.Exit, v.Top)
		}
	}
	if one.BestWay().Exit != two.BestWay().Exit {
		t.Error("the best way out depends on the order")
	}
}

// Log-normal quantiles of the draws against R's qlnorm: testdata/reference/make.R, part 6.
func TestDrawsAgainstRsLogNormal(t *testing.T) {
	for _, r := range reference(t, "lognormal.csv") {
		median, sigma, p, want := r[0], r[1], r[2], r[3]
		a := compare(t, offer.Question{Ways: []offer.Way{{Exit: offer.AsItStands, Resale: lognormal{money.Amount(median * 100), sigma}}}, Settings: settings()})
		got := float64(a.Ways[0].Sells(p)) / 100
		if math.Abs(got/want-1) > 0.002*math.Max(1, sigma/0.1) {
			t.Errorf("median %v, sigma %v: quantile %v is %v, R says %v", median, sigma, p, got, want)
		}
	}
}

// Mean and variance of a three-point guess against R's integral of the triangle's density, and the three
// standard deviations of PERT's beta, (low + 4 likely + high) / 6 and ((high - low) / 6)^2 (D. G. Malcolm,
// J. H. Roseboom, C. E. Clark and W. Fazar, Operations Research 7, 1959; from memory), which a triangle is
// wider than.
func TestThreePointsAgainstR(t *testing.T) {
	for _, r := range reference(t, "triangle.csv") {
		guess, mean, variance := three(r[0], r[1], r[2]), r[3], r[4]
		if math.Abs(guess.Mean()/mean-1) > 1e-9 || math.Abs(guess.Variance()/variance-1) > 1e-9 {
			t.Errorf("%v: mean %v, variance %v; R says %v, %v", guess, guess.Mean(), guess.Variance(), mean, variance)
		}
		if pert := math.Pow((r[2]-r[0])/6, 2); guess.Variance() <= pert {
			t.Errorf("%v: a variance of %v is not above PERT's %v", guess, guess.Variance(), pert)
		}
		a := compare(t, offer.Question{Ways: []offer.Way{{Exit: offer.Rebuild, Resale: flat(10_000_000),
			Work: []offer.Work{{Name: "work", Parts: guess.Times(1000), Hours: guess}}}}, Settings: settings()})
		if got := float64(a.Ways[0].Costs) / 1000; math.Abs(got/mean-1) > 1e-4 {
			t.Errorf("%v: the draws have a mean of %v, R %v", guess, got, mean)
		}
		if got := a.Ways[0].Offer.Hours.Float(); math.Abs(got-mean) > 1.0/60 {
			t.Errorf("%v: %v hours, R %v", guess, got, mean)
		}
	}
}

func reference(t *testing.T, name string) [][]float64 {
	t.Helper()
	file, err := os.Open("../../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) < 3 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	var out [][]float64
	for _, r := range rows[1:] {
		var v []float64
		for _, text := range r {
			x, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			v = append(v, x)
		}
		out = append(out, v)
	}
	return out
}

// The top price of the rebuild against ten million outcomes of the same motor, made here from the words of
// the package and not by it: cases in the exact numbers of their chances, all else at random. The line of risk
// falls between the motors that are finished and those that are not, where outcomes are few: a tenth of a per
// cent below the top the limit holds, a tenth above it does not. See [TestTopPriceBar].
func TestTopPriceAgainstTenMillionOutcomes(t *testing.T) {
	q := driveway()
	w := compare(t, q).Ways[2]
	random := rand.New(rand.NewPCG(1, 2))
	triangle := func(g costing.ThreePoint) float64 { return g.Quantile(random.Float64()) }
	const n = 10_000_000
	low, high := math.Exp(-0.25*2.5758), math.Exp(0.25*2.5758)
	var sum, hours float64
	var below, above int
	risk := float64(limit(t, w.Offer, offer.ByRisk))
	for i := range n {
		price := 250000 * min(max(math.Exp(0.25*random.NormFloat64()), low), high)
		u := random.Float64() // service: parts and hours go together
		cost, time := three(6000, 12000, 18000).Quantile(u), three(1.5, 2.5, 4).Quantile(u)
		switch r := i % 10; {
		case r < 4:
		case r < 8:
			cost, time = cost+triangle(three(5000, 10500, 16000)), time+triangle(three(2, 4, 9))
		default:
			cost, time = cost+triangle(three(80000, 265000, 450000)), time+triangle(three(8, 13, 22))
		}
		if i/10%10 < 2 {
			cost, time = cost+triangle(three(6000, 11000, 16000)), time+triangle(three(2, 4, 7))
		}
		if i/100%100 < 12 {
			cost += 15000
		}
		net := price - cost - 30*40
		sum, hours = sum+net, hours+time
		if net < risk*0.9990 {
			below++
		}
		if net < risk*1.0010 {
			above++
		}
	}
	if may := q.Settings.Risk * n; float64(below) > may || float64(above) < may {
		t.Errorf("by risk %v: %d and %d of %d lose a tenth of a per cent below and above, the line is %v", risk, below, above, n, may)
	}
	for l, want := range map[offer.Limit]float64{offer.ByProfit: sum/n - float64(q.Settings.Profit), offer.ByHour: (sum - hours*float64(q.Settings.PerHour)) / n} {
		if got := float64(limit(t, w.Offer, l)); math.Abs(got/want-1) > 0.001 {
			t.Errorf("by %s %v, ten million outcomes give %v", l, got, want)
		}
	}
}

func limit(t *testing.T, o offer.Offer, l offer.Limit) money.Amount {
	t.Helper()
	for _, each := range o.Limits {
		if each.Limit == l {
			return each.Price
		}
	}
	t.Fatalf("no limit by %s", l)
	return 0
}

// The top price of every way out against a walk over a fine grid of prices.
func TestTopOfEachWayAgainstAGrid(t *testing.T) {
	q := driveway()
	q.Buying = offer.Buying{Known: 2500, FeeRate: 0.1, TaxRate: 0.07}
	q.Settings.CostOfMoney, q.Settings.SpaceADay = 0.08, 50
	for i := range q.Ways {
		q.Ways[i].CashDays = 40 * (i + 1)
	}
	for _, w := range slices.Concat(compare(t, driveway()).Ways, compare(t, q).Ways) {
		if w.TooThin {
			continue
		}
		const step = 100
		var got money.Amount
		for price := money.Amount(0); price < 400_000; price += step {
			if len(w.At(price).Misses) > 0 {
				break
			}
			got = price
		}
		if w.Top < got || w.Top >= got+step {
			t.Errorf("%s: top %d, the grid stops at %d", w.Exit, w.Top, got)
		}
	}
}

// Strata of the decks have nothing to do with each other: the variance of a sum is the sum of variances.
func TestDoubtsAreDealtIndependently(t *testing.T) {
	work := func(name string, cost float64) offer.Work {
		return offer.Work{Name: name, Parts: costing.ThreePoint{Likely: cost}}
	}
	a := compare(t, offer.Question{
		Doubts: []offer.Doubt{
			{Key: "a", Cases: []offer.Case{{Key: "no", Chance: 1}, {Key: "yes", Chance: 1, Work: []offer.Work{work("a", 10000)}}}},
			{Key: "b", Cases: []offer.Case{{Key: "no", Chance: 3}, {Key: "yes", Chance: 1, Work: []offer.Work{work("b", 20000)}}}},
		},
		Ways: []offer.Way{{Exit: offer.Rebuild, Resale: flat(100000), Reach: offer.MendsAll}}, Settings: settings(),
	})
	// Both in 1/8 of outcomes, b alone in 1/8, a alone in 3/8.
	w := a.Ways[0]
	for _, c := range []struct {
		price money.Amount
		want  float64
	}{{70001, 0.125}, {80001, 0.25}, {90001, 0.625}} {
		if got := w.At(c.price).Loss; math.Abs(got-c.want) > 0.006 {
			t.Errorf("net under %d in %v, want %v", c.price, got, c.want)
		}
	}
}

func TestQuestionsThatCannotBeWorked(t *testing.T) {
	for name, change := range map[string]func(*offer.Question){
		"way out":   func(q *offer.Question) { q.Ways = nil },
		"resale":    func(q *offer.Question) { q.Ways[0].Resale = nil },
		"powerhead": func(q *offer.Question) { q.Doubts[0].Cases[0].Chance = math.NaN() },
		"chance":    func(q *offer.Question) { q.Ways[3].Pieces[0].Chance = 2 },
		"order":     func(q *offer.Question) { q.Ways[1].Work[0].Hours = three(5, 4, 9) },
		"selling":   func(q *offer.Question) { q.Ways[1].Selling = -1 },
		"comebacks": func(q *offer.Question) { q.Ways[1].Comeback.Chance = -1 },
		"trip":      func(q *offer.Question) { q.Trip = math.NaN() },
		"buying":    func(q *offer.Question) { q.Buying.Known = -1 },
		"has a chance": func(q *offer.Question) {
			q.Doubts[1].Cases[0].Chance, q.Doubts[1].Cases[1].Chance = 0, 0
		},
	} {
		q := driveway()
		change(&q)
		if _, err := offer.Compare(q); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("want an error naming %q, got %v", name, err)
		}
	}
}

// A worse chance of the dear case never raises a top price.
func TestWorseChancesNeverRaiseTheTop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := driveway()
		q.Draws = 2000
		before := compare(t, q).Ways[2].Top
		q = driveway()
		q.Draws = 2000
		more := rapid.Float64Range(0, 10).Draw(t, "more")
		q.Doubts[0].Cases[2].Chance += more
		// Dealing the cases anew moves single outcomes about: a hundredth is allowed for that.
		if after := compare(t, q).Ways[2].Top; float64(after) > 1.01*float64(before)+1000 {
			t.Fatalf("top rose from %d to %d", before, after)
		}
	})
}

// What ten parts of a broken motor bring together against two million plain random outcomes: every tenth
// quantile within two tenths of a per cent, the mean within a tenth.
func TestPartsTogetherAgainstRandomOutcomes(t *testing.T) {
	q := madeUp(3)
	q.Doubts, q.Ways = nil, q.Ways[3:]
	w := compare(t, q).Ways[0]
	random := rand.New(rand.NewPCG(5, 6))
	const n = 2_000_000
	all := make([]float64, n)
	sum := 0.0
	for i := range all {
		for _, p := range q.Ways[0].Pieces {
			if random.Float64() < p.Chance {
				all[i] += p.Price.Quantile(random.Float64())
			}
		}
		sum += all[i]
	}
	slices.Sort(all)
	for p := 1; p < 10; p++ {
		got, want := float64(w.Sells(float64(p)/10)), all[p*n/10]
		if math.Abs(got/want-1) > 0.002 {
			t.Errorf("%d in ten bring under %.0f, of random outcomes %.0f", p, got, want)
		}
	}
	if got, want := float64(w.Offer.Resale), sum/n; math.Abs(got/want-1) > 0.001 {
		t.Errorf("the mean is %.0f, of random outcomes %.0f", got, want)
	}
}

// Holding and rates on the price by hand. Ninety days at 8 % a year hold 1.9726 %: 2,000.00 of sale less a
// trip of 12.00, which holds 0.24, and ninety days of a place at 0.50 are 1,942.76; a price of 1,000.00 takes
// 100.00 of fee, 70.00 of tax and holds 23.08.
func TestHoldingAndRatesByHand(t *testing.T) {
	w := compare(t, offer.Question{Trip: 30, Buying: offer.Buying{FeeRate: 0.1, TaxRate: 0.07},
		Ways:     []offer.Way{{Exit: offer.AsItStands, Resale: flat(200000), CashDays: 90}},
		Settings: settings(func(s *costing.Settings) { s.CostOfMoney, s.SpaceADay = 0.08, 50 })}).Ways[0]
	x := w.At(100000)
	if x.Fee != 10000 || x.Tax != 7000 || x.Holding != 24+4500+2308 || x.BeforeOwnTime != 194276-100000-10000-7000-2308 {
		t.Errorf("%+v", x)
	}
	if w.Costs != 1200 || w.Holding != 4524 {
		t.Errorf("costs %d, holding %d", w.Costs, w.Holding)
	}
}

// A share of trips to other motors is a cost of every way out.
func TestTripsToOtherMotorsAreCarried(t *testing.T) {
	q := offer.Question{Ways: []offer.Way{{Exit: offer.AsItStands, Resale: flat(200000)}}, Settings: settings()}
	before := compare(t, q).Ways[0]
	q.Looks = 1234
	if after := compare(t, q).Ways[0]; after.Costs != before.Costs+1234 || after.Top != before.Top-1234 {
		t.Errorf("top from %d to %d, costs from %d to %d", before.Top, after.Top, before.Costs, after.Costs)
	}
}

func BenchmarkFourExits(b *testing.B) {
	q := driveway()
	for i := range q.Ways {
		q.Ways[i].Resale, q.Ways[i].Unmended = ready(q.Ways[i].Resale), ready(q.Ways[i].Unmended)
	}
	for b.Loop() {
		if _, err := offer.Compare(q); err != nil {
			b.Fatal(err)
		}
	}
}

// drawn is a band whose prices are worked out once.
type drawn []money.Amount

func (d drawn) Draws(int) []money.Amount { return d }

func ready(r offer.Resale) offer.Resale {
	if r == nil {
		return nil
	}
	return drawn(r.Draws(offer.Outcomes))
}
