package timetosell

import "math"

var lnRoot2Pi = 0.5 * math.Log(2*math.Pi)

// lnAbove is the logarithm of the chance that a standard normal lies above z, without underflow: beyond
// farOut by the asymptotic series of Mills' ratio (Abramowitz and Stegun 26.2.12).
func lnAbove(z float64) float64 {
	const farOut = 12
	if z < farOut {
		return math.Log(0.5 * math.Erfc(z/math.Sqrt2))
	}
	q := 1 / (z * z)
	return -z*z/2 - math.Log(z) - lnRoot2Pi + math.Log1p(-q*(1-q*(3-q*(15-105*q))))
}

// mills is the density of a standard normal at z over the chance of lying above it.
func mills(z float64) float64 { return math.Exp(-z*z/2 - lnRoot2Pi - lnAbove(z)) }
