package costing_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"skegworth/costing"
)

// Far from the prior's weight, the ratio of the next motor is the classical prediction of one more draw of
// a normal sample: mean +- t(n-1) sd sqrt(1 + 1/n) of the logarithms (any text of statistics).
func TestOverrunOfManyIsTheClassicalOne(t *testing.T) {
	var ratios, logs []float64
	normal := distuv.Normal{Mu: math.Log(1.3), Sigma: 0.25}
	const n = 2000
	for i := range n {
		y := normal.Quantile((float64(i) + 0.5) / n)
		ratios, logs = append(ratios, math.Exp(y)), append(logs, y)
	}
	o := costing.LearnOverrun(ratios)
	mean, sd := stat.MeanStdDev(logs, nil)
	half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(0.9) * sd * math.Sqrt(1+1.0/n)
	low, high := o.Range()
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"typical", o.Typical(), math.Exp(mean)}, {"low", low, math.Exp(mean - half)}, {"high", high, math.Exp(mean + half)}} {
		if math.Abs(c.got/c.want-1) > 0.005 {
			t.Errorf("%s is %v, want %v", c.what, c.got, c.want)
		}
	}
	if o.Count != n {
		t.Errorf("rests on %d", o.Count)
	}
}

func TestOverrunWithoutWorkLeavesTheGuess(t *testing.T) {
	o := costing.LearnOverrun(nil)
	g := costing.ThreePoint{Low: 1, Likely: 2, High: 4}
	if o.Known() || o.On(g) != g {
		t.Errorf("the prior alone made %v of %v", o.On(g), g)
	}
	low, high := o.Range()
	if !(low < 1.15 && 1.15 < high) || math.Abs(o.Typical()-1.15) > 0.01 {
		t.Errorf("the prior says %v, %v to %v", o.Typical(), low, high)
	}
}

func TestOverrunProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratios := rapid.SliceOfN(rapid.Float64Range(1e-6, 1e6), 1, 30).Draw(t, "ratios")
		o := costing.LearnOverrun(ratios)
		low, high := o.Range()
		if !(0 < low && low <= o.Typical() && o.Typical() <= high) || math.IsInf(high, 0) || o.Count != len(ratios) {
			t.Fatalf("%v: %v from %v to %v on %d", ratios, o.Typical(), low, high, o.Count)
		}
		g := guess(t, "guess")
		if got := o.On(g); got.Check() != nil || !near(got.Mean(), g.Mean()*o.Typical(), 1e-9) {
			t.Fatalf("%v became %v", g, got)
		}
	})
	if o := costing.LearnOverrun([]float64{math.NaN(), math.Inf(1), 0, -1}); o.Known() {
		t.Error("what is no ratio was learned from")
	}
	for _, c := range []struct {
		actual, estimate float64
		ok               bool
	}{{13, 10, true}, {0, 10, false}, {10, 0, false}, {-1, -1, false}, {math.MaxFloat64, math.SmallestNonzeroFloat64, false}} {
		if r, ok := costing.Ratio(c.actual, c.estimate); ok != c.ok || ok && r != c.actual/c.estimate {
			t.Errorf("%v of %v is %v, %v", c.actual, c.estimate, r, ok)
		}
	}
}
