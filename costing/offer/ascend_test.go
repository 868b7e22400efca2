package offer

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestAscendIsSorting(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, width := range []int64{1, 2, 2048, 2049, 1 << 22, 1<<22 + 1, 1 << 33, 1 << 54} {
		for _, n := range []int{0, 1, 2047, 2048, 20_000} {
			all := make([]uint64, n)
			for i := range all {
				all[i] = uint64(random.Int64N(width))<<cellBits | uint64(i)%maxCells
			}
			want := slices.Clone(all)
			slices.Sort(want)
			by := func(k uint64) uint64 { return k >> cellBits }
			got := ascend(all)
			if !slices.IsSortedFunc(got, func(a, b uint64) int { return int(int64(by(a)) - int64(by(b))) }) {
				t.Errorf("%d keys over %d are not in order", n, width)
			}
			if slices.Sort(got); !slices.Equal(got, want) {
				t.Errorf("%d keys over %d are not those that were given", n, width)
			}
		}
	}
}
