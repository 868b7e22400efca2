package hedonic

import "math"

// part is the posterior under one possibility: one block, one tau, one lean.
type part struct {
	*block
	tail   float64 // degrees of freedom of the residuals
	tau    float64
	lean   float64
	a, b   float64   // posterior of s2: InvGamma(a, b)
	push   []float64 // expectation along each direction
	doubt  []float64 // variance along each direction, in units of s2
	logML  float64   // log marginal likelihood, but for what all parts of a fit have in common
	weight float64
}

func newPart(b *block, tail, tau, lean, a, b0 float64) *part {
	k := len(b.proper)
	p := &part{block: b, tail: tail, tau: tau, lean: lean, a: a, push: make([]float64, k), doubt: make([]float64, k), logML: -b.logDet}
	explained := b.rest
	for i, own := range b.believedAlong(tau, lean) {
		t := b.size[i] * own
		r := 1 / math.Hypot(1, t)
		p.push[i] = own * b.said[i] * (t * r) * r
		p.doubt[i] = (own * r) * (own * r)
		explained += (b.said[i] * r) * (b.said[i] * r)
		p.logML += math.Log(r)
	}
	p.b = b0 + explained/2
	p.logML -= a * math.Log(p.b)
	return p
}

// believedAlong is the prior spread along each direction in units of the residual scale: tau for all at
// lean 0; else in the shape of the data, and tau2 on average over what the data vary.
func (b *block) believedAlong(tau, lean float64) []float64 {
	out := make([]float64, len(b.size))
	largest := 0.0
	for _, s := range b.size {
		largest = math.Max(largest, s)
	}
	plain, leaned := 0.0, 0.0
	for i, s := range b.size {
		out[i] = tau
		if lean == 0 || largest == 0 {
			continue
		}
		s /= largest
		share := math.Pow(s, lean)
		out[i] *= share
		plain += s * s
		leaned += s * s * share * share
	}
	if leaned > 0 {
		for i := range out {
			out[i] *= math.Sqrt(plain / leaned)
		}
	}
	return out
}

// scale2 is the residual variance.
func (p *part) scale2() float64 { return p.b / p.a }

// location is the expectation at a point.
func (p *part) location(at point) float64 {
	sum := at.level
	for i, v := range at.along {
		sum += v * p.push[i]
	}
	return sum
}

// leverage is the variance of the expectation at a point, in units of s2.
func (p *part) leverage(at point) float64 {
	sum := at.base + p.tau*p.tau*at.idle
	for i, v := range at.along {
		sum += v * v * p.doubt[i]
	}
	return sum
}

// predict is the response at a point with a noise of its own, in units of s2.
func (p *part) predict(at point, noise float64) student {
	h := p.leverage(at)
	return newStudent(p.location(at), math.Sqrt(p.scale2()*(noise+h)), p.df(2*p.a, noise, h))
}

// df is the degrees of freedom of a residual of the part's tail about an expectation that is itself
// uncertain: a Student-t divided by the root of a chi-square is near a Student-t whose reciprocal degrees
// of freedom are the sum of both, the residual's by its share of the variance.
func (p *part) df(scale, noise, leverage float64) float64 {
	if math.IsInf(p.tail, 1) || noise <= 0 {
		return scale
	}
	share := noise / (noise + leverage)
	return 1 / (1/scale + share*share/p.tail)
}
