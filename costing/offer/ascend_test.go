package offer

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"skegworth/valuation/money"
)

func TestAscendIsSorting(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, width := range []int64{1, 2, 2048, 2049, 1 << 22, 1<<22 + 1, 1 << 33, math.MaxInt64 / 2} {
		for _, n := range []int{0, 1, 2047, 2048, 20_000} {
			all := make([]money.Amount, n)
			for i := range all {
				all[i] = money.Amount(random.Int64N(width) - width/3)
			}
			want := slices.Clone(all)
			slices.Sort(want)
			ascend(all)
			if !slices.Equal(all, want) {
				t.Errorf("%d amounts over %d are not in order", n, width)
			}
		}
	}
	ends := slices.Repeat([]money.Amount{math.MaxInt64, math.MinInt64, 0, -1}, 1000)
	ascend(ends)
	if !slices.IsSorted(ends) {
		t.Error("the largest and the smallest amounts are not in order")
	}
}
