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

// upperQuantile is the z >= 0 that the standard Student-t exceeds with chance tail, 0 < tail < 1/2.
func (s student) upperQuantile(tail float64) float64 {
	aim := math.Log(tail)
	return root(0, math.Inf(1), s.guess(tail), func(z float64) (float64, float64) {
		above := s.upper(z)
		return aim - math.Log(above), s.standard(z) / above
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

// root finds where the rising function f is 0 between low and high, by Newton's steps from start kept
// inside a bracket that every step narrows. Where two such steps in a row do not halve, as between peaks
// of a mixture, the bracket is halved instead (Press et al., Numerical Recipes, rtsafe). f gives the value
// and the slope.
func root(low, high, start float64, f func(float64) (value, slope float64)) float64 {
	x := start
	if !(x > low && x < high) {
		x = middle(low, high)
	}
	last, older := math.Inf(1), math.Inf(1)
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
		if !(next > low && next < high) || math.Abs(next-x) > older/2 {
			next = middle(low, high)
		}
		last, older = math.Abs(next-x), last
		if math.Abs(next-x) <= 2e-15*math.Abs(x) || next <= low || next >= high {
			return next
		}
		x = next
	}
	return x
}

// middle halves a bracket; an open one is widened.
func middle(low, high float64) float64 {
	if math.IsInf(high, 1) {
		return 2*low + 1
	}
	return low + (high-low)/2
}
