package offer

import (
	"math"

	"skegworth/costing"
)

// triangle is a three-point guess made ready to be asked many times.
type triangle struct {
	low, high, mean float64
	peak            float64 // share of outcomes below it
	rising, falling float64
}

func triangleOf(t costing.ThreePoint) triangle {
	t = t.Full()
	width := t.High - t.Low
	if !(width > 0) {
		return triangle{low: t.Low, high: t.Low, mean: t.Low}
	}
	return triangle{t.Low, t.High, t.Mean(), (t.Likely - t.Low) / width, width * (t.Likely - t.Low), width * (t.High - t.Likely)}
}

// at is [costing.ThreePoint.Quantile].
func (t triangle) at(p float64) float64 {
	switch {
	case t.high <= t.low:
		return t.low
	case p < t.peak:
		return t.low + math.Sqrt(p*t.rising)
	default:
		return t.high - math.Sqrt((1-p)*t.falling)
	}
}

// job is what some work takes, its parts and its time going well or badly together.
type job struct {
	parts, minutes triangle
	sure           bool // nothing about it is uncertain
	none           bool
}

func jobOf(hours, parts costing.ThreePoint) job {
	j := job{parts: triangleOf(parts), minutes: triangleOf(hours.Times(float64(costing.Hour)))}
	j.sure = j.parts.high <= j.parts.low && j.minutes.high <= j.minutes.low
	j.none = j.sure && j.parts.low == 0 && j.minutes.low == 0
	return j
}
