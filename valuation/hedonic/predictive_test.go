package hedonic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func drawnMixture(t *rapid.T) Predictive {
	var parts []Predictive
	var weights []float64
	for range rapid.IntRange(1, 4).Draw(t, "parts") {
		weights = append(weights, rapid.Float64Range(0.01, 1).Draw(t, "weight"))
		parts = append(parts, NewStudent(rapid.Float64Range(-10, 10).Draw(t, "location"),
			rapid.Float64Range(0.001, 5).Draw(t, "scale"), rapid.Float64Range(1, 200).Draw(t, "df")))
	}
	return Mix(weights, parts)
}

func TestQuantileUndoesCDF(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawnMixture(t)
		q := rapid.Float64Range(1e-6, 1-1e-6).Draw(t, "q")
		if got := p.CDF(p.Quantile(q)); math.Abs(got-q) > 1e-11 {
			t.Fatalf("CDF of the quantile %v is %v", q, got)
		}
	})
}

func TestSampleStandsForTheDistribution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawnMixture(t)
		n := rapid.IntRange(1, 60).Draw(t, "n")
		s := p.Sample(n)
		if len(s) != n {
			t.Fatalf("%d of %d", len(s), n)
		}
		for i, v := range s {
			if i > 0 && v < s[i-1] {
				t.Fatalf("%v after %v", v, s[i-1])
			}
			if want := (float64(i) + 0.5) / float64(n); math.Abs(p.CDF(v)-want) > 1e-9 {
				t.Fatalf("value %d of %d is the %v quantile", i, n, p.CDF(v))
			}
		}
	})
}

// The mean of a log-normal cut at its quantiles zl and zh (in standard deviations) is
// exp(m + s2/2) (Phi(zh-s) - Phi(zl-s)) / (Phi(zh) - Phi(zl)).
func TestMeanExpOfANormal(t *testing.T) {
	for _, c := range []struct{ m, s float64 }{{0, 0.3}, {7, 0.05}, {7.2, 1.5}, {-3, 3}} {
		zl, zh := distuv.UnitNormal.Quantile(0.005), distuv.UnitNormal.Quantile(0.995)
		want := math.Exp(c.m+c.s*c.s/2) * (distuv.UnitNormal.CDF(zh-c.s) - distuv.UnitNormal.CDF(zl-c.s)) / 0.99
		near(t, "mean", NewStudent(c.m, c.s, math.Inf(1)).MeanExp(0.005, 0.995), want, 1e-8)
	}
}

// For a Student-t there is no closed form. The values are R 4.2's integrate(function(y)
// exp(y)*dt((y-7)/.4,df)/.4, 7+.4*qt(.005,df), 7+.4*qt(.995,df), rel.tol=1e-12)$value/.99.
func TestMeanExpOfAStudent(t *testing.T) {
	for df, want := range map[float64]float64{1.5: 3722.32484181, 5: 1226.17123053, 40: 1184.46517742} {
		near(t, "mean", NewStudent(7, 0.4, df).MeanExp(0.005, 0.995), want, 1e-9)
	}
}

func TestDegenerateDistributions(t *testing.T) {
	var empty Predictive
	if !empty.Empty() || empty.Quantile(0.3) != 0 || empty.CDF(1) != 0 || empty.MeanExp(0.1, 0.9) != 0 {
		t.Error("an empty distribution answers")
	}
	point := NewStudent(2, 0, 5)
	if point.Quantile(0.01) != 2 || point.Quantile(0.99) != 2 || point.CDF(1.99) != 0 || point.CDF(2) != 1 {
		t.Error("a point is not where it is")
	}
	near(t, "mean of a point", point.MeanExp(0.005, 0.995), math.Exp(2), 1e-14)
	p := NewStudent(0, 1, 4)
	if !math.IsInf(p.Quantile(0), -1) || !math.IsInf(p.Quantile(1), 1) || p.Quantile(math.NaN()) != 0 {
		t.Error("the ends of the line")
	}
	if got := p.Shift(3).Quantile(0.5); got != 3 {
		t.Errorf("shifted by 3: %v", got)
	}
	if len(Mix([]float64{0, 1}, []Predictive{p, point}).parts) != 1 {
		t.Error("a part of no weight is carried")
	}
}

// Mixtures whose Newton's steps once crept through two hundred rounds and stopped short of the root.
func TestQuantileOfPeaksApart(t *testing.T) {
	for _, p := range []Predictive{
		Mix([]float64{0.43115234375, 0.044677734375, 1, 0.10498046875}, []Predictive{NewStudent(0.0009765625, 2.375, 3.5),
			NewStudent(1, 0.0625, 2.75), NewStudent(-1.66552734375, 1.5986328125, 8.4375), NewStudent(-0.07421875, 0.0078125, 3.25)}),
		Mix([]float64{1, 1}, []Predictive{NewStudent(1, 0.03125, 200), NewStudent(-1, 0.001, 24.5)}),
		Mix([]float64{1, 4}, []Predictive{NewStudent(1, 0.00390625, 25.5), NewStudent(4.75, 0.001953125, 43.875)}),
	} {
		for _, q := range []float64{1e-6, 0.1, 0.5, 13.0 / 18, 0.9, 0.999999} {
			if got := p.CDF(p.Quantile(q)); math.Abs(got-q) > 1e-11 {
				t.Errorf("CDF of the quantile %v is %v", q, got)
			}
		}
	}
}
