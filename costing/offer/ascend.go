package offer

import (
	"math/bits"
	"slices"
)

// digit is how many bits ascend sorts by at a time.
const digit = 11

// ascend sorts keys by their bits from the last on, but for those of the cell, and gives them; what it was
// given is spoilt. Sorting is half of all the work of a comparison, and for so many keys of so few bits this
// takes a fourth of the time of sorting by comparing.
func ascend(all []uint64) []uint64 {
	if len(all) < 1<<digit {
		slices.Sort(all)
		return all
	}
	width := bits.Len64(slices.Max(all))
	from, to := all, make([]uint64, len(all))
	for shift := cellBits; shift < width; shift += digit {
		var count [1 << digit]int
		for _, a := range from {
			count[a>>shift&(1<<digit-1)]++
		}
		at := 0
		for i, n := range count {
			count[i], at = at, at+n
		}
		for _, a := range from {
			k := a >> shift & (1<<digit - 1)
			to[count[k]] = a
			count[k]++
		}
		from, to = to, from
	}
	return from
}
