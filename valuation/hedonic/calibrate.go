package hedonic

import (
	"math"
	"slices"
)

// calibrated is the factor by which bands must be stretched to hold what they promise, as far as so many
// rows can tell. Each row's place in its band from the others is put as a normal deviate; four fifths of
// these lie within 1.28 of the middle when bands are right. The factor that would make it so is taken to
// the power n/(n + Calibration).
func (m *Model) calibrated(seen float64) float64 {
	if m.data.rows() == 0 {
		return 1
	}
	type place struct{ off, share float64 }
	places := make([]place, 0, m.data.rows())
	total := 0.0
	for i, y := range m.data.Y {
		below, above, known := 0.0, 0.0, 0.0
		for _, v := range m.others(i) {
			if v.known && v.weight > unseen {
				b, a := v.tails(y)
				below, above, known = below+v.weight*b, above+v.weight*a, known+v.weight
			}
		}
		if known < 0.5 {
			continue
		}
		tail := math.Min(below, above) / known
		places = append(places, place{math.Sqrt2 * math.Erfinv(1-2*tail), at(m.data.Share, i)})
		total += at(m.data.Share, i)
	}
	slices.SortFunc(places, func(a, b place) int {
		switch {
		case a.off < b.off:
			return -1
		case a.off > b.off:
			return 1
		}
		return 0
	})
	within := 0.0
	for _, p := range places {
		if within += p.share; within >= 0.8*total {
			factor := math.Pow(p.off/1.2815515655446004, seen/(seen+m.prior.Calibration))
			return math.Max(0.5, math.Min(factor, 2))
		}
	}
	return 1
}
