package hedonic

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Predictive is the distribution of a response not yet seen: a Student-t, or a mixture of several. The
// zero value is empty: Empty tells, and every figure of it is 0.
type Predictive struct{ parts []student }

// NewStudent is the Student-t of df degrees of freedom about location. A scale of 0 is the location
// alone; df of +Inf is the normal distribution.
func NewStudent(location, scale, df float64) Predictive {
	return Predictive{[]student{newStudent(location, scale, df)}}
}

// Mix is the mixture of distributions by their weights, which need not sum to one. Those of no weight
// are left out.
func Mix(weights []float64, of []Predictive) Predictive {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	var mixed Predictive
	for i, w := range weights {
		if w <= 0 {
			continue
		}
		for _, part := range of[i].parts {
			part.weight *= w / total
			mixed.parts = append(mixed.parts, part)
		}
	}
	return mixed
}

// Empty tells whether there is no distribution.
func (p Predictive) Empty() bool { return len(p.parts) == 0 }

// Shift moves the whole distribution by d.
func (p Predictive) Shift(d float64) Predictive {
	moved := Predictive{append([]student(nil), p.parts...)}
	for i := range moved.parts {
		moved.parts[i].location += d
	}
	return moved
}

// CDF is the chance of a response at or below x.
func (p Predictive) CDF(x float64) float64 {
	below, _ := p.tails(x)
	return below
}

// tails gives the chances of a response below and above x, each without the loss of digits of 1-p.
func (p Predictive) tails(x float64) (below, above float64) {
	for _, s := range p.parts {
		b, a := s.tails(x)
		below += s.weight * b
		above += s.weight * a
	}
	return math.Min(below, 1), math.Min(above, 1)
}

// density at x; meaningful where every scale is above 0.
func (p Predictive) density(x float64) float64 {
	d := 0.0
	for _, s := range p.parts {
		d += s.weight * s.density(x)
	}
	return d
}

// Quantile is the response that a share q of responses stay at or below. It is found as the root of the
// CDF; q of 0 and of 1 are the ends of the line.
func (p Predictive) Quantile(q float64) float64 {
	switch {
	case len(p.parts) == 0 || math.IsNaN(q):
		return 0
	case q <= 0:
		return math.Inf(-1)
	case q >= 1:
		return math.Inf(1)
	case len(p.parts) == 1:
		return p.parts[0].quantile(q)
	}
	low, high, start := p.bracket(q)
	return root(low, high, start, min(q, 1-q), func(x float64) (float64, float64, float64) {
		below, above := p.tails(x)
		slope, bend := p.slopes(x)
		if q <= 0.5 {
			return below, slope, bend
		}
		return above, -slope, -bend
	})
}

// slopes are the density at x and its derivative; meaningful where every scale is above 0.
func (p Predictive) slopes(x float64) (density, bend float64) {
	for _, s := range p.parts {
		z := (x - s.location) / s.scale
		d := s.weight * s.standard(z) / s.scale
		density += d
		if s.df < normalFrom {
			z *= (s.df + 1) / (s.df + z*z)
		}
		bend -= d * z / s.scale
	}
	return density, bend
}

// bracket is a range that holds the quantile q of a mixture, and a place near it. No part's own quantile
// lies outside the range: a Student-t's lies the farther from its middle the fewer its degrees of freedom.
func (p Predictive) bracket(q float64) (low, high, near float64) {
	few := p.parts[0].df
	for _, s := range p.parts {
		few = math.Min(few, s.df)
	}
	far := newStudent(0, 1, few).quantile(q)
	low, high = math.Inf(1), math.Inf(-1)
	for _, s := range p.parts {
		a, b := s.location, s.location+s.scale*far
		low, high = math.Min(low, math.Min(a, b)), math.Max(high, math.Max(a, b))
	}
	slack := 1e-12 * (math.Abs(low) + math.Abs(high))
	return low - slack, high + slack, p.near(q)
}

// near is a place near the quantile q of a mixture: the mean of its parts' own.
func (p Predictive) near(q float64) (x float64) {
	tail, sign := min(q, 1-q), 1.0
	if q < 0.5 {
		sign = -1
	}
	for _, s := range p.parts {
		x += s.weight * (s.location + sign*s.scale*s.guess(tail))
	}
	return x
}

// Interval is the central interval that holds a share level of responses.
func (p Predictive) Interval(level float64) (low, high float64) {
	low, high = p.Quantile((1-level)/2), p.Quantile(1-(1-level)/2)
	if low > high { // the same but for rounding, where a part is wider than they lie apart by more than a number has digits
		low = high + (low-high)/2
		high = low
	}
	return low, high
}

// panels are the quantiles between which MeanExp integrates, each by a rule of panelNodes points.
var panels = []float64{0.001, 0.01, 0.05, 0.2, 0.5, 0.8, 0.95, 0.99, 0.999}

const panelNodes = 16

// MeanExp is the mean of exp(y) with y cut at its lowTail and highTail quantiles, such as 0.005 and
// 0.995. The cut is needed: the exponential of a Student-t has no finite mean. What is too large for a
// float is +Inf.
func (p Predictive) MeanExp(lowTail, highTail float64) float64 {
	if len(p.parts) == 0 {
		return 0
	}
	ends := []float64{p.Quantile(lowTail)}
	for _, q := range panels {
		if q > lowTail && q < highTail {
			ends = append(ends, p.Quantile(q))
		}
	}
	ends = append(ends, p.Quantile(highTail))
	top := ends[len(ends)-1]
	sum, mass := 0.0, 0.0
	for i := 1; i < len(ends); i++ {
		if ends[i] <= ends[i-1] {
			continue
		}
		sum += quad.Fixed(func(y float64) float64 { return math.Exp(y-top) * p.density(y) }, ends[i-1], ends[i], panelNodes, nil, 0)
		mass += quad.Fixed(p.density, ends[i-1], ends[i], panelNodes, nil, 0)
	}
	if mass == 0 { // all at one place
		return math.Exp(top)
	}
	return math.Exp(top + math.Log(sum/mass))
}
