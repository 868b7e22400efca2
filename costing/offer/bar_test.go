package offer_test

import (
	"flag"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

var (
	questions = flag.Int("questions", 8, "how many made-up motors TestTopPriceBar asks about")
	against   = flag.Int("against", 500_000, "outcomes that TestTopPriceBar holds ours against")
)

// madeUp is a motor as a shop might meet it, by its number.
func madeUp(seed int) offer.Question {
	r := rand.New(rand.NewPCG(uint64(seed), 20_000))
	in := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	guess := func(low, high float64) costing.ThreePoint {
		v := []float64{in(low, high), in(low, high), in(low, high)}
		slices.Sort(v)
		return three(v[0], v[1], v[2])
	}
	tenths := func(n int) []float64 {
		out := make([]float64, n)
		for range 10 {
			out[r.IntN(n)]++
		}
		return out
	}
	running := in(60_000, 900_000)
	work := func(name string, most float64) offer.Work {
		return offer.Work{Name: name, Hours: guess(0.5, 4+16*most), Parts: guess(0.01*running, most*running)}
	}
	q := offer.Question{Trip: in(0, 120), Settings: settings(func(s *costing.Settings) {
		s.Profit, s.PerHour = money.Amount(in(0, 0.1)*running), money.Amount(in(0, 3000))
		s.Risk = []float64{0.05, 0.1, 0.2, 0.2, 0.25, 0.3, 0.4}[r.IntN(7)]
		s.FeeRate = []float64{0, 0, 0.05, 0.13}[r.IntN(4)]
		s.CostOfMoney = []float64{0, 0.06}[r.IntN(2)]
	}), Buying: offer.Buying{FeeRate: []float64{0, 0.1}[r.IntN(2)], TaxRate: []float64{0, 0.07}[r.IntN(2)]}}
	power := tenths(5)
	q.Doubts = append(q.Doubts, offer.Doubt{Key: "powerhead", Cases: []offer.Case{
		{Key: "sound", Chance: power[0]},
		{Key: "ignition", Chance: power[1], Work: []offer.Work{work("ignition", 0.08)}},
		{Key: "gasket", Chance: power[2], Work: []offer.Work{work("gasket", 0.1)}, Deep: true},
		{Key: "top-end", Chance: power[3], Work: []offer.Work{work("top end", 0.3)}, Deep: true},
		{Key: "finished", Chance: power[4], Work: []offer.Work{work("swap", 0.9)}, Deep: true, Spoils: []string{"powerhead"}},
	}})
	lower := tenths(3)
	q.Doubts = append(q.Doubts, offer.Doubt{Key: "lower-unit", Cases: []offer.Case{
		{Key: "sound", Chance: lower[0]},
		{Key: "seals", Chance: lower[1], Work: []offer.Work{work("reseal", 0.05)}},
		{Key: "gears", Chance: lower[2], Work: []offer.Work{work("gears", 0.4)}, Deep: true, Spoils: []string{"lower unit"}},
	}})
	spread := in(0.12, 0.5)
	band := func(share float64) offer.Resale { return lognormal{money.Amount(share * running), spread} }
	back := offer.Comeback{Chance: in(0.01, 0.2), Cost: money.Amount(in(0.02, 0.12) * running)}
	service := []offer.Work{work("service", 0.06)}
	q.Ways = []offer.Way{
		{Exit: offer.AsItStands, Resale: band(0.35)},
		{Exit: offer.Tidy, Resale: band(1.1), Unmended: band(0.4), Reach: offer.MendsLight, Work: service, Comeback: back, CashDays: 60},
		{Exit: offer.Rebuild, Resale: band(1.5), Reach: offer.MendsAll, Work: service, Comeback: back, CashDays: 90},
		{Exit: offer.Break, Work: []offer.Work{work("strip", 0.02)}, CashDays: 120},
	}
	for _, name := range []string{"powerhead", "lower unit", "bracket", "cowl", "trim", "electrics", "fuel", "starter", "controls", "propeller"} {
		likely := in(0.02, 0.3) * running
		q.Ways[3].Pieces = append(q.Ways[3].Pieces, offer.Part{Name: name, Chance: in(0.3, 0.9), Price: three(0.6*likely, likely, 1.5*likely)})
	}
	return q
}

// What ours are off against a hundred and more times as many outcomes, over many motors and ways out:
// limit by limit, also where the line of risk falls between two cases. Printed with -v; -questions 60
// -against 10000000 is what the bar of a tenth of a per cent was measured with.
func TestTopPriceBar(t *testing.T) {
	off := map[offer.Limit][]float64{}
	var tops []float64
	for seed := range *questions {
		q := madeUp(seed)
		ours := compare(t, q)
		q.Draws = *against
		for i := range q.Ways {
			one := q
			one.Ways = q.Ways[i : i+1]
			theirs := compare(t, one).Ways[0]
			if theirs.Top < 5000 { // under fifty whole units a cent of rounding tells
				continue
			}
			for _, l := range theirs.Limits {
				want := float64(l.Price)
				off[l.Limit] = append(off[l.Limit], math.Abs(float64(limit(t, ours.Ways[i].Offer, l.Limit))/want-1))
			}
			d := math.Abs(float64(ours.Ways[i].Top)/float64(theirs.Top) - 1)
			if tops = append(tops, d); d > 0.001 {
				t.Logf("motor %d, %s: %d, of %d outcomes %d by %s", seed, theirs.Exit, ours.Ways[i].Top, *against, theirs.Top, theirs.Binds)
			}
		}
	}
	say := func(name string, d []float64) {
		slices.Sort(d)
		within := 0
		for _, x := range d {
			if x <= 0.001 {
				within++
			}
		}
		t.Logf("%-9s %4d: within a tenth of a per cent %5.1f %%, half within %.4f %%, nine in ten %.4f %%, worst %.4f %%",
			name, len(d), 100*float64(within)/float64(len(d)), 100*d[len(d)/2], 100*d[len(d)*9/10], 100*d[len(d)-1])
	}
	for _, l := range []offer.Limit{offer.ByProfit, offer.ByRisk, offer.ByHour} {
		say(string(l), off[l])
	}
	say("top price", tops)
	if worst := tops[len(tops)-1]; worst > 0.001 {
		t.Errorf("of %d top prices the worst is off by %.5f", len(tops), worst)
	}
}

// A keystroke with the whole of it: a market fitted to five hundred sales, a changed fact, and four ways out
// over twenty thousand outcomes.
func BenchmarkAChangedFactOnFiveHundredSales(b *testing.B) {
	market := marketOf(b, 500)
	q := driveway()
	m := valuation.Motor{Power: 90, Year: 2003, Stroke: valuation.TwoStroke, State: valuation.Rebuilt}
	on := day.Of(2026, 6, 1)
	for b.Loop() {
		m.Hours++
		for i := range q.Ways {
			if q.Ways[i].Resale == nil {
				continue
			}
			m.State = []valuation.State{valuation.Dead, valuation.Serviced, valuation.Rebuilt}[i]
			band, err := market.Worth(m, on)
			if err != nil {
				b.Fatal(err)
			}
			q.Ways[i].Resale = band
			if q.Ways[i].Unmended != nil {
				q.Ways[i].Unmended = q.Ways[0].Resale
			}
		}
		if _, err := offer.Compare(q); err != nil {
			b.Fatal(err)
		}
	}
}

// A keystroke on the price asked or a target: the bands stay as they are.
func BenchmarkAChangedPriceOnFiveHundredSales(b *testing.B) {
	market := marketOf(b, 500)
	q := driveway()
	for i, state := range []valuation.State{valuation.Dead, valuation.Serviced, valuation.Rebuilt} {
		band, err := market.Worth(valuation.Motor{Power: 90, Year: 2003, Stroke: valuation.TwoStroke, State: state}, day.Of(2026, 6, 1))
		if err != nil {
			b.Fatal(err)
		}
		q.Ways[i].Resale = ready(band)
	}
	q.Ways[1].Unmended = q.Ways[0].Resale
	for b.Loop() {
		q.Asking++
		if _, err := offer.Compare(q); err != nil {
			b.Fatal(err)
		}
	}
}

// marketOf is a market fitted to that many made-up sales.
func marketOf(b *testing.B, n int) *valuation.Market {
	b.Helper()
	r := rand.New(rand.NewPCG(9, 10))
	var sales []valuation.Sale
	for i := range n {
		m := valuation.Motor{Power: 5 + 145*r.Float64(), Year: 1985 + r.IntN(38), Stroke: valuation.TwoStroke, State: valuation.States[r.IntN(len(valuation.States))]}
		if r.IntN(2) == 0 {
			m.Stroke = valuation.FourStroke
		}
		price := 25 * m.Power * math.Exp(0.03*float64(m.Year-2000)+0.3*r.NormFloat64())
		sales = append(sales, valuation.Sale{ID: strconv.Itoa(i), Motor: m, Sold: day.Of(2022+i%4, 3, 1+i%28), Price: money.Amount(100 * price)})
	}
	market, err := valuation.NewMarket(sales, valuation.Options{Currency: money.Must("USD"), Anchor: 120000, HalfLife: 4, AsOf: day.Of(2026, 6, 1)})
	if err != nil {
		b.Fatal(err)
	}
	return market
}
