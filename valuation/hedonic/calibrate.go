package hedonic

import (
	"math"
	"slices"
)

// mistyped is the trust below which a row is taken for a slip of the key: bands are to hold what is meant.
const mistyped = 0.2

// calibrated is the factor by which bands must be stretched to hold what they promise, as far as so many
// rows can tell. Each row's place in its band from the others is put as a normal deviate; four fifths of
// these lie within 1.28 of the middle when bands are right. The factor that would make it so is taken to
// the power n/(n + Calibration).
func (m *Model) calibrated(seen float64) float64 {
	if m.data.rows() == 0 {
		return 1
	}
	type place struct{ off, share float64 }
	places := make([]place, m.data.rows())
	m.others(0) // the first question works all of it out
	apart(len(places), func(from, to int) {
		for i := from; i < to; i++ {
			if tail, known := m.place(i); known {
				places[i] = place{math.Sqrt2 * math.Erfinv(1-2*tail), at(m.data.Share, i)}
			}
		}
	})
	places = slices.DeleteFunc(places, func(p place) bool { return p.share == 0 })
	total := 0.0
	for _, p := range places {
		total += p.share
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

// place is the chance that the others gave to what lies farther out than a row's response, on its side. It
// is not known of a row taken for a slip of the key, nor of one that the others say nothing of.
func (m *Model) place(i int) (tail float64, known bool) {
	believed := 0.0
	for _, f := range m.families {
		believed += f.weight * at(f.trust, i)
	}
	if believed < mistyped {
		return 0, false
	}
	below, above, weight := 0.0, 0.0, 0.0
	for _, v := range m.others(i) {
		if v.known && v.weight > unseen {
			b, a := v.tails(m.data.Y[i])
			below, above, weight = below+v.weight*b, above+v.weight*a, weight+v.weight
		}
	}
	return math.Min(below, above) / weight, weight >= 0.5
}
