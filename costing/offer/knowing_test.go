package offer_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
)

// The oil wildcatter of H. Raiffa, Decision Analysis: Introductory Lectures on Choices under Uncertainty,
// 1968, chapter 2 (from memory; the arithmetic is worked here). A hole is dry, wet or soaking with chances
// 0.5, 0.3 and 0.2; drilling costs 70,000 and brings nothing, 120,000 or 270,000; not drilling brings
// nothing. A seismic sounding finds no structure, an open one or a closed one:
//
//	           dry  wet  soaking
//	none       0.6  0.3  0.1
//	open       0.3  0.4  0.4
//	closed     0.1  0.3  0.5
//
// Drilling brings 20,000 on average. Perfect knowledge is worth 0.3 x 50,000 + 0.2 x 200,000 - 20,000 =
// 35,000. With the sounding one drills unless it finds no structure, of which drilling would lose
// 0.3 x 70,000 - 0.09 x 50,000 - 0.02 x 200,000 = 12,500: that is what the sounding is worth.
func TestKnowingOfTheOilWildcatter(t *testing.T) {
	bring := func(name string, amount float64) []offer.Work {
		return []offer.Work{{Name: name, Parts: costing.ThreePoint{Likely: amount}}}
	}
	a := compare(t, offer.Question{ // what it brings less than the best is work
		Doubts: []offer.Doubt{{Key: "hole", Cases: []offer.Case{
			{Key: "dry", Chance: 5, Work: bring("dry", 270_000)}, {Key: "wet", Chance: 3, Work: bring("wet", 150_000)}, {Key: "soaking", Chance: 2}}}},
		Ways: []offer.Way{{Exit: offer.Rebuild, Resale: flat(270_000), Reach: offer.MendsAll}}, Settings: settings(),
	})
	if got := a.Ways[0].At(70_000).BeforeOwnTime; got != 20_000 {
		t.Fatalf("drilling brings %d", got)
	}
	if got := a.Knowing(70_000, offer.Perfect(0, 3)); got != 35_000 {
		t.Errorf("perfect knowledge is worth %d, want 35000", got)
	}
	if got := a.Knowing(70_000, offer.Signal{Likely: [][]float64{{0.6, 0.3, 0.1}, {0.3, 0.4, 0.3}, {0.1, 0.4, 0.5}}}); got != 12_500 {
		t.Errorf("the sounding is worth %d, want 12500", got)
	}
	if _, buy := a.Choice(70_000); !buy {
		t.Error("it would not drill")
	}
	if _, buy := a.Choice(95_000); buy {
		t.Error("it would drill at a loss")
	}
}

// small is a motor of a few outcomes only, all of which can be written down.
func small(t *rapid.T) (q offer.Question, signal offer.Signal) {
	cases := rapid.IntRange(2, 4).Draw(t, "cases")
	d := offer.Doubt{Key: "powerhead"}
	left := 10
	for c := range cases {
		n := left
		if c < cases-1 {
			n = rapid.IntRange(0, left).Draw(t, "tenths")
		}
		left -= n
		d.Cases = append(d.Cases, offer.Case{Key: string(rune('a' + c)), Chance: float64(n), Deep: rapid.Bool().Draw(t, "deep"),
			Work: []offer.Work{{Name: string(rune('a' + c)), Parts: costing.ThreePoint{Likely: float64(rapid.IntRange(0, 2000).Draw(t, "cost"))},
				Hours: costing.ThreePoint{Likely: float64(rapid.IntRange(0, 10).Draw(t, "hours"))}}}})
		row := make([]float64, 3)
		rest := 1.0
		for r := range 2 {
			row[r] = rapid.Float64Range(0, rest).Draw(t, "likely")
			rest -= row[r]
		}
		row[2] = rest
		signal.Likely = append(signal.Likely, row)
	}
	q = offer.Question{Doubts: []offer.Doubt{d}, Settings: settings(func(s *costing.Settings) { s.OwnRate = 60 }), Draws: 1000,
		Ways: []offer.Way{
			{Exit: offer.AsItStands, Resale: flat(rapid.IntRange(0, 1500).Draw(t, "dead"))},
			{Exit: offer.Rebuild, Resale: flat(rapid.IntRange(0, 4000).Draw(t, "rebuilt")), Reach: offer.MendsAll},
		}}
	return q, signal
}

// enumerated is the worth of a check by the plain tree: every result, every case, every choice.
func enumerated(q offer.Question, price money.Amount, s offer.Signal) float64 {
	cases := q.Doubts[0].Cases
	profit := func(way, c int) float64 {
		p := float64(q.Ways[way].Resale.(flat)) - float64(price)
		if q.Ways[way].Reach == offer.MendsAll {
			w := cases[c].Work[0]
			p -= w.Parts.Likely + w.Hours.Likely*60
		}
		return p
	}
	best := func(weight func(c int) float64) float64 {
		most := 0.0
		for way := range q.Ways {
			sum := 0.0
			for c := range cases {
				sum += weight(c) * profit(way, c)
			}
			most = math.Max(most, sum)
		}
		return most
	}
	now := best(func(c int) float64 { return cases[c].Chance / 10 })
	then := 0.0
	for r := range s.Likely[0] {
		then += best(func(c int) float64 { return cases[c].Chance / 10 * s.Likely[c][r] })
	}
	return then - now
}

func TestKnowingIsTheTreeWrittenOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, signal := small(t)
		price := money.Amount(rapid.IntRange(0, 4000).Draw(t, "price"))
		got := compare(t, q).Knowing(price, signal)
		if want := enumerated(q, price, signal); math.Abs(float64(got)-want) > 0.5000001 {
			t.Fatalf("worth %d, the tree says %v", got, want)
		}
	})
}

// Never below nothing, never more than knowing for certain, and nothing from a check that tells nothing.
func TestKnowingHasBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := driveway()
		q.Draws = 500
		a := compare(t, q)
		price := money.Amount(rapid.IntRange(0, 300_000).Draw(t, "price"))
		s := offer.Signal{}
		rows := rapid.SliceOfN(rapid.Float64Range(0, 1), 3, 3).Draw(t, "pass")
		for _, pass := range rows {
			s.Likely = append(s.Likely, []float64{pass, (1 - pass) / 2, (1 - pass) / 2})
		}
		worth, perfect := a.Knowing(price, s), a.Knowing(price, offer.Perfect(0, 3))
		if worth < 0 || worth > perfect+1 {
			t.Fatalf("worth %d, perfect knowledge %d", worth, perfect)
		}
		nothing := offer.Signal{Likely: slices.Repeat([][]float64{s.Likely[0]}, 3)}
		if got := a.Knowing(price, nothing); got != 0 {
			t.Fatalf("a check that tells nothing is worth %d", got)
		}
	})
}

// Where the same choice is best under every case, no check is worth anything.
func TestKnowingIsNothingWhereNoResultChangesTheChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, signal := small(t)
		price := money.Amount(rapid.IntRange(0, 4000).Draw(t, "price"))
		same := -2
		for c := range q.Doubts[0].Cases {
			if q.Doubts[0].Cases[c].Chance == 0 {
				continue
			}
			one := q
			one.Doubts = []offer.Doubt{{Key: "powerhead", Cases: []offer.Case{q.Doubts[0].Cases[c]}}}
			choice, buy := compare(t, one).Choice(price)
			if !buy {
				choice = -1
			}
			if same != -2 && same != choice {
				return // knowing may change it
			}
			same = choice
		}
		if got := compare(t, q).Knowing(price, signal); got != 0 {
			t.Fatalf("worth %d, and the choice is %d in every case", got, same)
		}
	})
}

// Dirichlet: prior counts 4, 4 and 2 and outcomes 1, 3 and 0 of the shop's own give 5, 7 and 2 of 14.
func TestLearn(t *testing.T) {
	got := offer.Learn([]float64{4, 4, 2}, []int{1, 3, 0})
	for i, want := range []float64{5.0 / 14, 7.0 / 14, 2.0 / 14} {
		if math.Abs(got.Each[i]-want) > 1e-12 {
			t.Errorf("case %d: %v, want %v", i, got.Each[i], want)
		}
	}
	if got.Own != 4 {
		t.Errorf("it rests on %d", got.Own)
	}
	if got := offer.Learn([]float64{0, 0}, nil); got.Each[0] != 0.5 || got.Own != 0 {
		t.Errorf("without anything: %+v", got)
	}
}

// Bayes: of a thousand motors 300 are bad; 80 of a hundred bad ones fail and 10 of a hundred good ones do.
// Of those that fail 240 of 310 are bad.
func TestAfterAResult(t *testing.T) {
	got := offer.After([]float64{0.7, 0.3}, []float64{0.1, 0.8})
	if math.Abs(got[1]-240.0/310) > 1e-12 || math.Abs(got[0]+got[1]-1) > 1e-12 {
		t.Errorf("%v", got)
	}
	if got := offer.After([]float64{1, 0}, []float64{0, 1}); got[0] != 1 {
		t.Errorf("after a result that cannot be: %v", got)
	}
}

// What a check tells and the mixture after it agree: the worth of a check is the average over its results
// of the best choice with the chances that each leaves.
func TestKnowingAgreesWithBayes(t *testing.T) {
	q := driveway()
	a := compare(t, q)
	s := offer.Signal{Likely: [][]float64{{0.9, 0.1}, {0.3, 0.7}, {0.1, 0.9}}}
	const price = 90_000
	best := func(chances []float64) float64 {
		c := q
		c.Doubts = slices.Clone(q.Doubts)
		c.Doubts[0].Cases = slices.Clone(q.Doubts[0].Cases)
		for i := range chances {
			c.Doubts[0].Cases[i].Chance = chances[i]
		}
		most := 0.0
		for _, w := range compare(t, c).Ways {
			most = math.Max(most, float64(w.At(price).AfterOwnTime))
		}
		return most
	}
	prior := []float64{0.4, 0.4, 0.2}
	then := 0.0
	for r := range 2 {
		chance := 0.0
		likely := []float64{s.Likely[0][r], s.Likely[1][r], s.Likely[2][r]}
		for i := range prior {
			chance += prior[i] * likely[i]
		}
		then += chance * best(offer.After(prior, likely))
	}
	if got, want := float64(a.Knowing(price, s)), then-best(prior); math.Abs(got-want) > 100 {
		t.Errorf("worth %v, by chances after each result %v", got, want)
	}
}

// The dear case and the price move the top most; every range holds the top itself.
func TestHinges(t *testing.T) {
	q := driveway()
	a := compare(t, q)
	hinges, err := offer.Hinges(q, 2)
	if err != nil {
		t.Fatal(err)
	}
	if len(hinges) < 4 || hinges[0].Input != "powerhead" || hinges[0].From != "finished" || hinges[0].To != "sound" {
		t.Fatalf("%+v", hinges)
	}
	for i, h := range hinges {
		if i > 0 && h.High-h.Low > hinges[i-1].High-hinges[i-1].Low {
			t.Errorf("%s moves more than %s before it", h.Input, hinges[i-1].Input)
		}
	}
	if a.Ways[2].Top < hinges[0].Low || a.Ways[2].Top > hinges[0].High {
		t.Errorf("top %d not within %+v", a.Ways[2].Top, hinges[0])
	}
}

func TestComebacks(t *testing.T) {
	none := offer.Comebacks(nil, "rebuilt", 30, 200_000)
	if none.Own != 0 || none.Cost != 12_000 || math.Abs(none.Chance-(1-math.Exp(-0.12))) > 1e-12 {
		t.Errorf("%+v", none)
	}
	if short := offer.Comebacks(nil, "rebuilt", 0, 200_000); short.Chance >= none.Chance {
		t.Errorf("without warranty %v, with %v", short.Chance, none.Chance)
	}
	past := []offer.PastSale{{State: "rebuilt", WarrantyDays: 30, After: 30_000}, {State: "rebuilt", WarrantyDays: 30}, {State: "dead"}}
	// Rate (0.96 + 1) / (8 + 2); cost (120.00 + 300.00) / 2.
	if got := offer.Comebacks(past, "rebuilt", 30, 200_000); got.Own != 2 || got.Cost != 21_000 || math.Abs(got.Chance-(1-math.Exp(-0.196))) > 1e-12 {
		t.Errorf("%+v", got)
	}
}
