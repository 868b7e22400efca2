package offer_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
)

func motorOf(t *testing.T, name string, w offer.Way, asks money.Amount) offer.Member {
	t.Helper()
	o := compare(t, offer.Question{Ways: []offer.Way{w}, Settings: settings()}).Ways[0].Offer
	return offer.Member{Name: name, Motor: &o, Asks: asks}
}

// Nothing uncertain: motors of 2,000.00 and 1,000.00, a trailer kept that is worth 300.00 to the owner, one
// trip of 12.00, a line of 250.00 for each motor: 3,288.00 less 500.00.
func TestALotByHand(t *testing.T) {
	l := offer.Lot{Settings: settings(func(s *costing.Settings) { s.PerHour = 0 }), Trip: 30, Asks: 330000, Members: []offer.Member{
		motorOf(t, "big", offer.Way{Exit: offer.AsItStands, Resale: flat(200000)}, 0),
		motorOf(t, "small", offer.Way{Exit: offer.AsItStands, Resale: flat(100000)}, 0),
		{Name: "trailer", Thing: costing.BundleThing{Kept: true, OwnWorth: 30000}},
	}}
	a, err := offer.Together(l)
	if err != nil {
		t.Fatal(err)
	}
	if a.All.Offer.Top != 278800 || a.All.Offer.Binds != offer.ByProfit || a.All.Price != 330000 {
		t.Errorf("all: top %d by %s, asked %d", a.All.Offer.Top, a.All.Offer.Binds, a.All.Price)
	}
	if got := a.Without[0].Offer.Top; got != 100000+30000-1200-25000 {
		t.Errorf("without the big one: top %d", got)
	}
	if got := a.Without[2].Offer.Top; got != 300000-1200-50000 {
		t.Errorf("without the trailer: top %d", got)
	}
	if !slices.Equal(a.Carries, []money.Amount{200000, 100000, 30000}) {
		t.Errorf("they carry %v", a.Carries)
	}
	if len(a.Best.Members) != 3 {
		t.Errorf("a seller who does not split is offered %v", a.Best.Members)
	}
	if a.Without[0].Price != 0 {
		t.Errorf("some of it is asked %d for", a.Without[0].Price)
	}
	// By itself the small one is asked too dear: the best is to leave it.
	l.Splits, l.Members[0].Asks, l.Members[1].Asks, l.Members[2].Asks = true, 120000, 180000, 20000
	a, err = offer.Together(l)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(a.Best.Members, []int{0, 2}) || a.Best.Price != 140000 {
		t.Errorf("best %v for %d", a.Best.Members, a.Best.Price)
	}
}

// Each motor has luck of its own: the lot's risk is that of random sums, and less than that of one motor three
// times as large.
func TestALotSpreadsTheRisk(t *testing.T) {
	one := offer.Way{Exit: offer.AsItStands, Resale: lognormal{200000, 0.4}}
	l := offer.Lot{Settings: settings(func(s *costing.Settings) { s.Profit, s.PerHour, s.Risk = 0, 0, 0.1 })}
	for range 3 {
		l.Members = append(l.Members, motorOf(t, "motor", one, 0))
	}
	a, err := offer.Together(l)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(7, 8))
	sums := make([]float64, 1_000_000)
	low, high := math.Exp(-0.4*2.5758), math.Exp(0.4*2.5758)
	for i := range sums {
		for range 3 {
			sums[i] += 200000 * min(max(math.Exp(0.4*random.NormFloat64()), low), high)
		}
	}
	slices.Sort(sums)
	if got, want := float64(limit(t, a.All.Offer, offer.ByRisk)), sums[len(sums)/10]; math.Abs(got/want-1) > 0.003 {
		t.Errorf("by risk %.0f, random sums say %.0f", got, want)
	}
	if single := 3 * 200000 * math.Exp(-0.4*1.2816); float64(a.All.Offer.Top) <= single {
		t.Errorf("top %d is no more than three of one motor's, %.0f", a.All.Offer.Top, single)
	}
}

// A thing that sells six times in ten brings that on average.
func TestAThingOfALotSellsByItsChance(t *testing.T) {
	l := offer.Lot{Settings: settings(func(s *costing.Settings) { s.Profit, s.Risk = 0, 1 }), Members: []offer.Member{
		{Name: "boat", Thing: costing.BundleThing{Worth: three(60000, 100000, 140000), Chance: 0.6}}}}
	a, err := offer.Together(l)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(a.All.Offer.Top); math.Abs(got-60000) > 60 {
		t.Errorf("top %v, want 60000", got)
	}
	l.Members[0].Thing.Chance = 2
	if _, err := offer.Together(l); err == nil {
		t.Error("a chance of two was taken")
	}
	if _, err := offer.Together(offer.Lot{Settings: settings()}); err == nil {
		t.Error("an empty lot was worked out")
	}
}

func BenchmarkALotOfTen(b *testing.B) {
	l := offer.Lot{Settings: settings(), Splits: true, Asks: 900000}
	a, err := offer.Compare(driveway())
	if err != nil {
		b.Fatal(err)
	}
	for range offer.MaxMembers {
		o := a.BestWay().Offer
		l.Members = append(l.Members, offer.Member{Name: "motor", Motor: &o})
	}
	for b.Loop() {
		if _, err := offer.Together(l); err != nil {
			b.Fatal(err)
		}
	}
}
