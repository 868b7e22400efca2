package costing

import (
	"errors"
	"math"
)

// Full fills what was left out: a likely value alone stands for all three, and a high that was not
// given is the likely one.
func (t ThreePoint) Full() ThreePoint {
	if t.High == 0 {
		if t.Low == 0 {
			t.Low = t.Likely
		}
		t.High = t.Likely
	}
	return t
}

// Check tells what is wrong with the guess, if anything: each point finite, none below 0, in order.
func (t ThreePoint) Check() error {
	t = t.Full()
	for _, v := range []float64{t.Low, t.Likely, t.High} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return errors.New("it is not a number")
		}
		if v < 0 {
			return errors.New("it is less than nothing")
		}
	}
	if t.Low > t.Likely || t.Likely > t.High {
		return errors.New("low, likely and high are not in that order")
	}
	return nil
}

// Mean of the distribution: (low + likely + high) / 3.
func (t ThreePoint) Mean() float64 {
	t = t.Full()
	return (t.Low + t.Likely + t.High) / 3
}

// Quantile is the value that a share p of outcomes, 0 to 1, stays at or under. The guess is read as a
// triangular distribution: nothing under Low, nothing over High, Likely the peak. It is the plainest
// shape three guesses can have; common practice, and no more exact than the guesses.
func (t ThreePoint) Quantile(p float64) float64 {
	t = t.Full()
	a, c, b := t.Low, t.Likely, t.High
	switch {
	case b <= a, p <= 0:
		return a
	case p >= 1:
		return b
	case p*(b-a) < c-a:
		return a + math.Sqrt(p*(b-a)*(c-a))
	default:
		return b - math.Sqrt((1-p)*(b-a)*(b-c))
	}
}
