package offer

import (
	"math/big"
	"math/bits"
	"sync"
)

// sequence is where the points of one source of luck lie between 0 and 1: the multiples of the square root
// of a prime, without their whole part (L. Kronecker's sequence; L. Kuipers and H. Niederreiter, Uniform
// Distribution of Sequences, 1974). Each source goes by another prime: pairs of luck then fill the square
// more evenly than chance would. It is kept in 64 bits behind the point, so that every machine steps through
// the same points.
type sequence struct{ at, step uint64 }

// sequenceOf a source, for one of the joint cases: each starts elsewhere.
func sequenceOf(source, cell int) sequence {
	step := steps()[source]
	return sequence{at: step/2 + uint64(cell+1)*0x9E3779B97F4A7C15*uint64(2*source+1), step: step}
}

// next is the next point.
func (s *sequence) next() float64 {
	s.at += s.step
	return (float64(s.at>>12) + 0.5) * 0x1p-52
}

// steps are the fractional parts of the roots of the primes, in units of 2^-64.
var steps = sync.OnceValue(func() (out [sources]uint64) {
	n := 0
	for p := uint64(2); n < sources; p++ {
		if !prime(p) {
			continue
		}
		root := new(big.Int).SetUint64(p) // root of p x 2^128: its last 64 bits are the fraction
		root.Sqrt(root.Lsh(root, 128))
		out[n] = root.And(root, new(big.Int).SetUint64(1<<64-1)).Uint64()
		n++
	}
	return out
})

func prime(p uint64) bool {
	for d := uint64(2); d*d <= p; d++ {
		if p%d == 0 {
			return false
		}
	}
	return true
}

// The sources of luck beside the price it sells for: what the work takes, and each doubt by its place.
const (
	luckOfWork  = iota
	luckOfDoubt // and those after it
	sources     = luckOfDoubt + maxDoubts + MaxMembers
)

// How many doubts and parts a question may have, and how many joint cases its doubts.
const (
	maxDoubts = 8
	maxPieces = 64
	maxCells  = 256
)

// cellBits hold the number of a joint case, told apart by comeback.
var cellBits = bits.Len(2*maxCells - 1)
