package hedonic

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// student is one Student-t of a mixture, with density
//
//	Γ((ν+1)/2) / (sqrt(νπ) Γ(ν/2) σ) (1 + z²/ν)^(-(ν+1)/2),  z = (x-μ)/σ
type student struct {
	weight, location, scale, df float64
	logNorm                     float64 // logarithm of the density's constant at σ = 1
}

// normalFrom is the degrees of freedom from which a Student-t is the normal to the last digit wanted.
const normalFrom = 1e8

func newStudent(location, scale, df float64) student {
	s := student{weight: 1, location: location, scale: scale, df: df, logNorm: -math.Log(2*math.Pi) / 2}
	if df < normalFrom {
		above, _ := math.Lgamma((df + 1) / 2)
		below, _ := math.Lgamma(df / 2)
		s.logNorm = above - below - math.Log(df*math.Pi)/2
	}
	return s
}

// tails are the chances below and above x.
func (s student) tails(x float64) (below, above float64) {
	if s.scale == 0 {
		if x < s.location {
			return 0, 1
		}
		return 1, 0
	}
	z := (x - s.location) / s.scale
	above = s.upper(math.Abs(z))
	if z < 0 {
		return above, 1 - above
	}
	return 1 - above, above
}

// density at x.
func (s student) density(x float64) float64 {
	return s.standard((x-s.location)/s.scale) / s.scale
}

// logDensity is the logarithm of the density at x, which does not run out of digits far off.
func (s student) logDensity(x float64) float64 {
	z := (x - s.location) / s.scale
	if s.df >= normalFrom {
		return s.logNorm - z*z/2 - math.Log(s.scale)
	}
	return s.logNorm - (s.df+1)/2*math.Log1p(z*z/s.df) - math.Log(s.scale)
}

// standard is the density at z with location 0 and scale 1.
func (s student) standard(z float64) float64 {
	if s.df >= normalFrom {
		return math.Exp(s.logNorm - z*z/2)
	}
	return math.Exp(s.logNorm - (s.df+1)/2*math.Log1p(z*z/s.df))
}

// upper is the chance that the standard Student-t exceeds z, z >= 0. Near the middle and in the tail the
// two forms of the incomplete beta function each keep the digits that the other loses.
func (s student) upper(z float64) float64 {
	switch {
	case s.df >= normalFrom:
		return math.Erfc(z/math.Sqrt2) / 2
	case z < 1:
		return 0.5 - mathext.RegIncBeta(0.5, s.df/2, z*z/(s.df+z*z))/2
	default:
		return mathext.RegIncBeta(s.df/2, 0.5, s.df/(s.df+z*z)) / 2
	}
}

// quantile for 0 < q < 1.
func (s student) quantile(q float64) float64 {
	if s.scale == 0 || q == 0.5 {
		return s.location
	}
	tail, sign := q, -1.0
	if q > 0.5 {
		tail, sign = 1-q, 1
	}
	return s.location + sign*s.scale*s.upperQuantile(tail)
}

// bend is the derivative of the density at z with location 0 and scale 1.
func (s student) bend(z float64) float64 {
	if s.df >= normalFrom {
		return -z * s.standard(z)
	}
	return -(s.df + 1) * z / (s.df + z*z) * s.standard(z)
}

// upperQuantile is the z >= 0 that the standard Student-t exceeds with chance tail, 0 < tail < 1/2.
func (s student) upperQuantile(tail float64) float64 {
	return root(0, math.Inf(1), s.guess(tail), tail, func(z float64) (float64, float64, float64) {
		return s.upper(z), -s.standard(z), -s.bend(z)
	})
}

// guess is near upperQuantile: the normal quantile and the first terms of its expansion in 1/ν
// (Abramowitz and Stegun, 26.7.5), or the power law of the far tail where that is the nearer.
func (s student) guess(tail float64) float64 {
	z := math.Sqrt2 * math.Erfinv(1-2*tail)
	if math.IsInf(z, 1) { // a tail beneath the last digit of 1
		z = math.Sqrt(-2 * math.Log(tail))
	}
	if s.df >= normalFrom {
		return z
	}
	z2 := z * z
	near := z + z*(z2+1)/(4*s.df) + z*((5*z2+16)*z2+3)/(96*s.df*s.df)
	far := math.Sqrt(s.df) * math.Exp((s.logNorm-math.Log(s.df)/2-math.Log(tail))/s.df)
	return math.Max(near, math.Min(far, 2*near))
}

// root finds where a tail chance, or a chance below, equals the aim, between low and high. f gives it with
// its first two derivatives, and rises or falls throughout. On the logarithm of the chance Halley's steps
// triple the digits; they are kept inside a bracket that every step narrows, which is halved instead where
// two steps in a row do not halve, as between peaks of a mixture (Press et al., Numerical Recipes, rtsafe).
func root(low, high, start, aim float64, f func(float64) (chance, slope, bend float64)) float64 {
	x := start
	if !(x > low && x < high) {
		x = middle(low, high)
	}
	last, older := math.Inf(1), math.Inf(1)
	for range 200 {
		chance, slope, bend := f(x)
		v := math.Log(chance / aim)
		switch {
		case v == 0:
			return x
		case (v > 0) == (slope > 0):
			high = x
		default:
			low = x
		}
		rate := slope / chance
		newton := v / rate
		turn := (bend/chance - rate*rate) / rate * newton / 2 // how far the slope turns over the step
		next := x - newton/math.Max(0.5, 1-turn)
		if !(next > low && next < high) || math.Abs(next-x) > older/2 {
			next = middle(low, high)
		} else if math.Abs(v) < settled && math.Abs(turn) < settled {
			return next // the step's own error is its cube
		}
		last, older = math.Abs(next-x), last
		if math.Abs(next-x) <= 2e-15*math.Abs(x) || next <= low || next >= high {
			return next
		}
		x = next
	}
	return x
}

// settled is the size of a step, and of the turn of the slope over it, from which on the next is rounding.
const settled = 3e-6

// middle halves a bracket; an open one is widened.
func middle(low, high float64) float64 {
	if math.IsInf(high, 1) {
		return 2*low + 1
	}
	return low + (high-low)/2
}
