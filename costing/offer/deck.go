package offer

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// decks are fixed orders in which the strata of each source of luck are dealt to the outcomes: one a
// source, by its number, the same on every machine. A deck ranks the fractional parts of the multiples of
// a square root (L. Kronecker's sequence; L. Kuipers and H. Niederreiter, Uniform Distribution of
// Sequences, 1974), each source by another prime: pairs of luck then fill the square more evenly than
// chance would, and a quantile of their sum lies nearer to that of endless outcomes.
var decks sync.Map // of deckKey to []int32

type deckKey struct{ size, source int }

// deck is the stratum that each outcome has of a source. It is not to be changed.
func deck(size, source int) []int32 {
	key := deckKey{size, source}
	if d, ok := decks.Load(key); ok {
		return d.([]int32)
	}
	root := math.Sqrt(float64(prime(source)))
	at, by := make([]float64, size), make([]int32, size)
	for i := range at {
		_, at[i] = math.Modf(float64(i+1) * root)
		by[i] = int32(i)
	}
	slices.SortFunc(by, func(a, b int32) int { return cmp.Compare(at[a], at[b]) })
	order := make([]int32, size)
	for k, i := range by {
		order[i] = int32(k)
	}
	d, _ := decks.LoadOrStore(key, order)
	return d.([]int32)
}

// prime is the n-th, counted from 0.
func prime(n int) int {
	for p := 2; ; p++ {
		if slices.ContainsFunc(smaller(p), func(d int) bool { return p%d == 0 }) {
			continue
		}
		if n == 0 {
			return p
		}
		n--
	}
}

// smaller are the numbers from 2 whose squares are no more than p.
func smaller(p int) []int {
	var out []int
	for d := 2; d*d <= p; d++ {
		out = append(out, d)
	}
	return out
}

// The sources of luck: what the work takes, whether it comes back, each doubt and each part by its place.
const (
	luckOfWork = iota
	luckOfComeback
	luckOfDoubt
	luckOfPiece = luckOfDoubt + maxDoubts
)

// How many of each a question may have.
const (
	maxDoubts = 8
	maxPieces = 64
)
