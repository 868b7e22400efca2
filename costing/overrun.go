package costing

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"skegworth/valuation/hedonic"
	"skegworth/valuation/say"
)

// Overrun is how far work runs beyond what it was thought to take: the ratio of actual to estimated,
// log-normal, learned from the shop's own finished work. With none of it yet the trade prior stands alone.
type Overrun struct {
	Count int // ratios of the shop's own that it rests on
	next  hedonic.Predictive
}

// The trade prior of the ratio: common practice, from memory. Work takes somewhat longer than was thought,
// and one job in the next differs by a third.
const (
	overrunMean    = 0.14 // ln 1.15
	overrunSpread  = 0.20 // of the shop's own habit around it
	overrunScatter = 0.35 // of one motor around the shop's habit
	overrunWeight  = 3    // pseudo-observations behind the scatter, halved by the engine's convention
)

// OverrunPrior says where the figures come from while no work of the shop's own stands behind them.
var OverrunPrior = say.New("overrun.prior", "Common practice, from memory: work takes about 1.15 times what was thought. It gives way to your own finished motors.")

// Ratio is one actual amount over its estimate, and false when either is nothing: such a pair tells
// nothing of the habit.
func Ratio(actual, estimate float64) (float64, bool) {
	r := actual / estimate
	return r, actual > 0 && estimate > 0 && r > 0 && !math.IsInf(r, 0)
}

// LearnOverrun fits the ratios, each more than nothing: a regression of their logarithms on an intercept
// alone, under the trade prior. A ratio that is none is passed over.
func LearnOverrun(ratios []float64) Overrun {
	var y []float64
	for _, r := range ratios {
		if r > 0 && !math.IsInf(r, 0) {
			y = append(y, math.Log(r))
		}
	}
	prior := hedonic.Prior{Mean: []float64{overrunMean}, SD: []float64{overrunSpread},
		Scale: overrunScatter, Strength: overrunWeight}
	d := hedonic.Data{}
	if len(y) > 0 {
		x := mat.NewDense(len(y), 1, nil)
		for i := range y {
			x.Set(i, 0, 1)
		}
		d = hedonic.Data{X: x, Y: y}
	}
	m, err := hedonic.Fit(d, prior)
	if err != nil { // ratios beyond all bounds: the prior alone is still an answer
		if m, err = hedonic.Fit(hedonic.Data{}, prior); err != nil {
			return Overrun{next: hedonic.NewStudent(overrunMean, overrunScatter, 2*overrunWeight)}
		}
		y = nil
	}
	return Overrun{Count: len(y), next: m.Predict([]float64{1}, 1)}
}

// Typical is the ratio that half of the work stays under.
func (o Overrun) Typical() float64 { return o.quantile(0.5) }

// Range holds the ratio of the next motor eight times in ten.
func (o Overrun) Range() (low, high float64) { return o.quantile(0.1), o.quantile(0.9) }

func (o Overrun) quantile(p float64) float64 { return math.Exp(o.next.Quantile(p)) }

// Known tells whether the shop's own work stands behind it.
func (o Overrun) Known() bool { return o.Count > 0 }

// On is a guess as the shop's own work would have it: each point times the typical ratio. Its width stays
// the guess's own; the ratio's range is shown beside it, not folded into it, for both speak of the same
// luck. While no own work is known the guess stays as it is.
func (o Overrun) On(t ThreePoint) ThreePoint {
	if !o.Known() {
		return t
	}
	return t.Full().Times(o.Typical())
}
