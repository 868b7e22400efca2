package hedonic

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// Predictive is the distribution of a response not yet seen: a Student-t, or a mixture of several. The
// zero value is empty: Empty tells, and every figure of it is 0.
type Predictive struct{ parts []student }

// student is one Student-t of a mixture.
type student struct{ weight, location, scale, df float64 }

// NewStudent is the Student-t of df degrees of freedom about location. A scale of 0 is the location
// alone; df of +Inf is the normal distribution.
func NewStudent(location, scale, df float64) Predictive {
	return Predictive{[]student{{1, location, scale, df}}}
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
		d += s.weight * math.Exp(s.logDensity(x))
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
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range p.parts {
		v := s.quantile(q)
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return root(low, high, func(x float64) (float64, float64) {
		below, above := p.tails(x)
		if q <= 0.5 {
			return below - q, p.density(x)
		}
		return (1 - q) - above, p.density(x)
	})
}

// Interval is the central interval that holds a share level of responses.
func (p Predictive) Interval(level float64) (low, high float64) {
	return p.Quantile((1 - level) / 2), p.Quantile(1 - (1-level)/2)
}

// Sample gives n values that stand for the distribution, ascending: the quantiles at the middles of n
// equal strata. It is the same every time.
func (p Predictive) Sample(n int) []float64 {
	out := make([]float64, max(n, 0))
	for i := range out {
		out[i] = p.Quantile((float64(i) + 0.5) / float64(n))
		if i > 0 && out[i] < out[i-1] { // rounding in the root
			out[i] = out[i-1]
		}
	}
	return out
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

// normalFrom is the degrees of freedom from which a Student-t is the normal to the last digit wanted.
const normalFrom = 1e8

// tails of the part below and above x.
func (s student) tails(x float64) (below, above float64) {
	if s.scale == 0 {
		if x < s.location {
			return 0, 1
		}
		return 1, 0
	}
	z := (x - s.location) / s.scale
	above = upper(math.Abs(z), s.df)
	if z < 0 {
		return above, 1 - above
	}
	return 1 - above, above
}

// upper is the chance that a standard Student-t exceeds z, z >= 0. Near the middle and in the tail the
// two forms of the incomplete beta function each keep the digits that the other loses.
func upper(z, df float64) float64 {
	switch {
	case df >= normalFrom:
		return math.Erfc(z/math.Sqrt2) / 2
	case z < 1:
		return 0.5 - mathext.RegIncBeta(0.5, df/2, z*z/(df+z*z))/2
	default:
		return mathext.RegIncBeta(df/2, 0.5, df/(df+z*z)) / 2
	}
}

func (s student) logDensity(x float64) float64 {
	if s.df >= normalFrom {
		return distuv.Normal{Mu: s.location, Sigma: s.scale}.LogProb(x)
	}
	return distuv.StudentsT{Mu: s.location, Sigma: s.scale, Nu: s.df}.LogProb(x)
}

// quantile of the part, 0 < q < 1.
func (s student) quantile(q float64) float64 {
	if s.scale == 0 || q == 0.5 {
		return s.location
	}
	tail, sign := q, -1.0
	if q > 0.5 {
		tail, sign = 1-q, 1
	}
	return s.location + sign*s.scale*upperQuantile(tail, s.df)
}

// upperQuantile is the z >= 0 that a standard Student-t exceeds with chance tail, 0 < tail < 1/2.
func upperQuantile(tail, df float64) float64 {
	high := 1.0
	for upper(high, df) > tail && high < math.MaxFloat64/4 {
		high *= 2
	}
	low := high / 2
	if high == 1 {
		low = 0
	}
	one := student{1, 0, 1, df}
	return root(low, high, func(z float64) (float64, float64) {
		return tail - upper(z, df), math.Exp(one.logDensity(z))
	})
}

// root finds where the rising function is 0 between low and high, by Newton's steps kept inside a
// bracket that every step narrows. f gives the value and the slope.
func root(low, high float64, f func(float64) (value, slope float64)) float64 {
	x := low + (high-low)/2
	for range 200 {
		v, slope := f(x)
		switch {
		case v > 0:
			high = x
		case v < 0:
			low = x
		default:
			return x
		}
		next := x - v/slope
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if next == x || math.Abs(next-x) <= 1e-15*math.Abs(x) || next <= low || next >= high {
			return next
		}
		x = next
	}
	return x
}
