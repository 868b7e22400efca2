package costing

import "math"

// Variance of the distribution: (a2 + b2 + c2 - ab - ac - bc) / 18 for low a, high b and peak c, which is
// the triangular distribution's.
func (t ThreePoint) Variance() float64 {
	t = t.Full()
	below, above := t.Likely-t.Low, t.High-t.Likely
	return (below*below + below*above + above*above) / 18
}

// Times is the guess for so many of the same, one following the other with the same luck.
func (t ThreePoint) Times(n float64) ThreePoint {
	return ThreePoint{t.Low * n, t.Likely * n, t.High * n}
}

// SumOf is one guess for several pieces of work that go well or badly each by itself. Adding lows to lows
// and highs to highs gives the right middle and too wide a range: that everything goes badly at once is
// rare. Means add, and so do variances (the rule of project planning since D. G. Malcolm and others,
// "Application of a technique for research and development program evaluation", Operations Research 7,
// 1959), so the three sums are drawn in towards their mean until the variance is the one of the parts.
// One guess alone comes back as it is. What makes all work of one shop run over together is not here but
// in [Overrun].
func SumOf(parts ...ThreePoint) ThreePoint {
	var sum ThreePoint
	variance := 0.0
	for _, p := range parts {
		p = p.Full()
		sum.Low += p.Low
		sum.Likely += p.Likely
		sum.High += p.High
		variance += p.Variance()
	}
	wide := sum.Variance()
	if !(wide > 0) || !(variance < wide) {
		return sum
	}
	draw, mean := math.Sqrt(variance/wide), sum.Mean()
	toward := func(v float64) float64 { return mean + draw*(v-mean) }
	return ThreePoint{toward(sum.Low), toward(sum.Likely), toward(sum.High)}
}
