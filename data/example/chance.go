package example

import (
	"math/rand/v2"

	"skegworth/valuation"
)

// Seed of everything drawn in the example shop.
const Seed = 20_260_417

// stream is the run of chance of one motor. Each has its own, so that a motor stays the same motor on
// whatever day the example is made and however many stand before it.
func stream(group, number uint64) *rand.Rand {
	return rand.New(rand.NewPCG(Seed+group, number))
}

// The groups of streams.
const (
	pastMotors uint64 = iota
	ownMotors
	ownWork
	freshMotors // never in the shop: what the tests draw to see whether the bands hold
)

func chance(r *rand.Rand, p float64) bool { return r.Float64() < p }

// between draws evenly from low to high.
func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// days draws a whole number of days from low to high.
func days(r *rand.Rand, low, high int) int { return low + r.IntN(high-low+1) }

// maybe draws yes with the first chance, no with the second, and not known otherwise.
func maybe(r *rand.Rand, yes, no float64) valuation.Answer {
	u := r.Float64()
	switch {
	case u < yes:
		return valuation.Yes
	case u < yes+no:
		return valuation.No
	}
	return ""
}

// pick draws a place in the list, each as often as it says.
func pick[T any](r *rand.Rand, list []T, often func(T) int) int {
	weights := make([]int, len(list))
	for i, x := range list {
		weights[i] = often(x)
	}
	return pickOf(r, weights...)
}

// pickOf draws a place, each as often as its number says.
func pickOf(r *rand.Rand, often ...int) int {
	all := 0
	for _, n := range often {
		all += n
	}
	u := r.IntN(all)
	for i, n := range often {
		if u -= n; u < 0 {
			return i
		}
	}
	return len(often) - 1
}

// oneOf draws one of the words.
func oneOf(r *rand.Rand, words ...string) string { return words[r.IntN(len(words))] }
