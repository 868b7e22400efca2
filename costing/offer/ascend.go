package offer

import (
	"math/bits"
	"slices"

	"skegworth/valuation/money"
)

// digit is how many bits ascend sorts by at a time.
const digit = 11

// ascend sorts amounts by their bits from the last on. Sorting is half of all the work of a comparison,
// and for so many amounts of so few bits this takes a fourth of the time of sorting by comparing.
func ascend(all []money.Amount) {
	if len(all) < 1<<digit {
		slices.Sort(all)
		return
	}
	least, most := slices.Min(all), slices.Max(all)
	width := bits.Len64(uint64(most) - uint64(least))
	from, to := all, make([]money.Amount, len(all))
	for shift := 0; shift < width; shift += digit {
		var count [1 << digit]int
		for _, a := range from {
			count[(uint64(a)-uint64(least))>>shift&(1<<digit-1)]++
		}
		at := 0
		for i, n := range count {
			count[i], at = at, at+n
		}
		for _, a := range from {
			k := (uint64(a) - uint64(least)) >> shift & (1<<digit - 1)
			to[count[k]] = a
			count[k]++
		}
		from, to = to, from
	}
	if width > 0 && (width+digit-1)/digit%2 == 1 {
		copy(all, from)
	}
}
