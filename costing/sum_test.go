package costing_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
)

func guess(t *rapid.T, label string) costing.ThreePoint {
	low := rapid.Float64Range(0, 500).Draw(t, label+" low")
	likely := low + rapid.Float64Range(0, 500).Draw(t, label+" to likely")
	return costing.ThreePoint{Low: low, Likely: likely, High: likely + rapid.Float64Range(0.001, 500).Draw(t, label+" to high")}
}

// The variance of a triangular distribution, from gonum's.
func TestVarianceOfAGuess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := guess(t, "guess")
		d := distuv.NewTriangle(g.Low, g.High, g.Likely, nil)
		if !near(g.Variance(), d.Variance(), 1e-9) || !near(g.Mean(), d.Mean(), 1e-12) {
			t.Fatalf("%+v has mean %v and variance %v, gonum says %v and %v", g, g.Mean(), g.Variance(), d.Mean(), d.Variance())
		}
	})
}

func near(a, b, rel float64) bool { return math.Abs(a-b) <= rel*(1+math.Abs(b)) }

func TestSumsKeepMeanAndVariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []costing.ThreePoint
		var mean, variance, low, high float64
		for i := range rapid.IntRange(1, 6).Draw(t, "parts") {
			g := guess(t, string(rune('a'+i)))
			parts = append(parts, g)
			mean, variance, low, high = mean+g.Mean(), variance+g.Variance(), low+g.Low, high+g.High
		}
		sum := costing.SumOf(parts...)
		if !near(sum.Mean(), mean, 1e-9) || !near(sum.Variance(), variance, 1e-6) {
			t.Fatalf("%v add up to %v: mean %v, variance %v, want %v and %v", parts, sum, sum.Mean(), sum.Variance(), mean, variance)
		}
		if err := sum.Check(); err != nil || sum.Low < low-1e-9*(1+low) || sum.High > high*(1+1e-9) {
			t.Fatalf("%v add up to %v, outside %v to %v, %v", parts, sum, low, high, err)
		}
		if one := costing.SumOf(parts[0]); one != parts[0] {
			t.Fatalf("%v alone came back as %v", parts[0], one)
		}
	})
}

// What the sum says against drawing each job by itself: the middle and the eight times in ten agree to a
// few parts in a hundred, where adding lows to lows would be far too wide.
func TestSumAgainstDrawing(t *testing.T) {
	parts := []costing.ThreePoint{{Low: 1, Likely: 2, High: 5}, {Low: 3, Likely: 5, High: 9}, {Low: 2, Likely: 4, High: 9}, {Low: 1.5, Likely: 3, High: 8}}
	r := rand.New(rand.NewPCG(1, 2))
	drawn := make([]float64, 100_000)
	for i := range drawn {
		for _, p := range parts {
			drawn[i] += p.Quantile(r.Float64())
		}
	}
	sum := costing.SumOf(parts...)
	below := func(x float64) float64 {
		n := 0
		for _, v := range drawn {
			if v <= x {
				n++
			}
		}
		return float64(n) / float64(len(drawn))
	}
	if m := stat.Mean(drawn, nil); !near(sum.Mean(), m, 0.01) {
		t.Errorf("the mean is %v, drawn it is %v", sum.Mean(), m)
	}
	for _, p := range []float64{0.1, 0.5, 0.9} {
		if got := below(sum.Quantile(p)); math.Abs(got-p) > 0.04 {
			t.Errorf("the sum's %v point has %v of the draws under it", p, got)
		}
	}
}

func TestEstimateOfACard(t *testing.T) {
	card := costing.Card{Per: costing.PerCylinder, Hours: costing.ThreePoint{Low: 8, Likely: 13, High: 20}, Parts: costing.ThreePoint{Low: 220, Likely: 300, High: 450},
		MoreHours: costing.ThreePoint{Low: 2, Likely: 2, High: 2}}
	hours, parts := card.Estimate(1, 0)
	if hours != card.Hours || parts != card.Parts {
		t.Errorf("one takes %v and %v", hours, parts)
	}
	hours, parts = card.Estimate(3, 50)
	if !near(hours.Mean(), card.Hours.Mean()+4, 1e-12) || !near(hours.Variance(), card.Hours.Variance(), 1e-9) {
		t.Errorf("three take %v hours; further ones take 2 each, for sure", hours)
	}
	if !near(parts.Mean(), 3*card.Parts.Mean()+150, 1e-12) || !near(parts.Variance(), 3*card.Parts.Variance(), 1e-9) {
		t.Errorf("three take parts of %v", parts)
	}
	if n := card.Pieces(valuation.Motor{Cylinders: 4}); n != 4 {
		t.Errorf("a four has %d cylinders", n)
	}
	if n := card.Pieces(valuation.Motor{}); n != 1 {
		t.Errorf("a motor of unknown cylinders has %d", n)
	}
}

// The figures of the table they were taken from (common practice, from memory), in whole dollars.
func TestStarterCards(t *testing.T) {
	cards := costing.StarterCards(100)
	if len(cards) != 16 {
		t.Errorf("%d cards", len(cards))
	}
	for _, c := range cards {
		if err := c.Check(); err != nil || !c.Starting {
			t.Errorf("%s: %v, starting %v", c.Name, err, c.Starting)
		}
		if c.Name == "powerhead swap" && (c.Hours != costing.ThreePoint{Low: 8, Likely: 13, High: 22} || c.Parts.Low != 80000 || c.Parts.High != 450000) {
			t.Errorf("powerhead swap takes %v and %v", c.Hours, c.Parts)
		}
	}
}

func TestPlanIsTypedAndCardsTogether(t *testing.T) {
	r := costing.Record{Plan: costing.Plan{Hours: costing.ThreePoint{Low: 1, Likely: 2, High: 3}, Selling: 7}}
	if r.WorkPlanned() != r.Plan {
		t.Error("a plan without cards is not what was typed")
	}
	r.Jobs = []costing.Job{{Hours: costing.ThreePoint{Low: 4, Likely: 5, High: 9}, Parts: costing.ThreePoint{Low: 100, Likely: 100, High: 100}}}
	p := r.WorkPlanned()
	if !near(p.Hours.Mean(), 8, 1e-12) || p.Parts.Mean() != 100 || p.Selling != 7 {
		t.Errorf("the plan is %+v", p)
	}
	left := costing.ThreePoint{Low: 14, Likely: 22, High: 34}.Less(costing.ThreePoint{Low: 2, Likely: 4, High: 9})
	if left != (costing.ThreePoint{Low: 12, Likely: 18, High: 25}) {
		t.Errorf("left are %v", left)
	}
	rapid.Check(t, func(t *rapid.T) {
		if err := guess(t, "whole").Less(guess(t, "part")).Check(); err != nil {
			t.Fatal(err)
		}
	})
}

func TestWhatAJobTook(t *testing.T) {
	r := costing.Record{
		Jobs:     []costing.Job{{ID: "pump"}, {ID: "carbs"}},
		Sessions: []costing.Session{{Time: 60, JobID: "pump"}, {Time: 30, JobID: "pump", Paid: true}, {Time: 15}},
		Lines: []costing.Line{{Kind: costing.PartNew, Total: 1450, JobID: "pump"}, {Kind: costing.Shelf, Total: 50, JobID: "pump"},
			{Kind: costing.PartNew, Total: -450, JobID: "pump"}, {Kind: costing.CoreCharge, Total: 4000, JobID: "pump"}, {Kind: costing.PartNew, Total: 9}},
	}
	took := r.Took()
	if took["pump"] != (costing.JobActual{Time: 90, Spent: 1050}) || len(took) != 1 {
		t.Errorf("took %+v", took)
	}
}
