package valuation

import (
	"math"

	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// column is one term of the regression of ln price, with what the trade believes of it. Every column is
// 0 for the anchor, the plain motor that the anchor question asks about, so that a coefficient is the
// push in ln price away from it.
type column struct {
	key    string       // names the column
	field  string       // the fact it comes from
	mean   float64      // prior mean of the coefficient
	spread float64      // prior spread
	name   say.Sentence // what one step of it is: "salt water instead of fresh"
	reason say.Sentence
	step   float64 // the step that name speaks of, in the column's units
	of     func(subject) fact
}

// subject is a motor at its sale. Drift is counted from the day now.
type subject struct {
	Motor
	on, now day.Day
}

// fact is a column's value for one motor: known when spread is 0, else what is typical of such a motor
// and how far the truth may lie from it.
type fact struct{ value, spread float64 }

func known(v float64) fact { return fact{value: v} }

// share is the fact of a yes or no that is not known but is yes for a share p of such motors.
func share(p float64) fact { return fact{p, math.Sqrt(p * (1 - p))} }

// less moves the fact so that the anchor's own value is 0.
func (f fact) less(reference float64) fact { return fact{f.value - reference, f.spread} }

// when is 1 for true and 0 for false.
func when(b bool) fact {
	if b {
		return known(1)
	}
	return known(0)
}

// answered is 1 for yes, 0 for no and typically p where there is no answer.
func answered(a Answer, p float64) fact {
	switch a {
	case Yes:
		return known(1)
	case No:
		return known(0)
	}
	return share(p)
}

// refused is 1 for no, 0 for yes and typically p where there is no answer.
func refused(a Answer, p float64) fact {
	switch a {
	case Yes:
		return known(0)
	case No:
		return known(1)
	}
	return share(p)
}

// age is the time from the middle of the model year to the sale, in decades, never below 0. From
// agesUntil on, age no longer counts: what is left of an old motor's price is not about its age.
func (s subject) age() float64 {
	return math.Min(ageAt(s.Motor, s.on), agesUntil) / 10
}

// The anchor motor, and what one step of a column is counted from.
const (
	anchorPower = 50.0 // hp
	anchorAge   = 1.5  // decades
	agesUntil   = 50.0 // years

	aboutPower = 0.15 // spread of ln power when the power is "about"
	aboutYear  = 0.2  // decades, when the year is "about"
)

func (s subject) lnPower() float64 { return math.Log(s.Power / anchorPower) }

// runs tells whether the motor runs, taking one of unknown state for a running one.
func (s subject) runs() bool { return s.State != Dead && s.State != PartsOnly }

// between picks by power the share that is typical: the shares hold below each limit in turn, the last
// from the last limit on.
func (s subject) between(limits []float64, shares ...float64) float64 {
	for i, limit := range limits {
		if s.Power < limit {
			return shares[i]
		}
	}
	return shares[len(shares)-1]
}
