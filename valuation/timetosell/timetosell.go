// Package timetosell tells how long a thing stands before it sells, from spells that ended with a sale and
// from those that have not: what is still for sale, or was taken back unsold, has stood at least so long.
//
// The model is the log-normal accelerated failure time model. A day under circumstances x counts
//
//	exp(-x'b)
//
// days of baseline time, and a thing sells when the baseline time it has gathered reaches a length whose
// logarithm is normal about 0 with standard deviation s. With x the same throughout, this is
//
//	ln days = x'b + s e,    e ~ N(0, 1)
//
// With x changing on the way, as when an asking price is lowered, a spell is cut into stretches of one x
// each, and the baseline time is added up over them: what was gathered before is kept, and the days after
// count at their own rate.
//
// One column may be measured with doubt: its true value lies about the given one with standard deviation d,
// the same throughout a spell. The spread is then the root of s^2 + (b d)^2, b being that column's
// coefficient. A thing whose worth is hardly known has days that are hardly known.
//
// The prior is normal in each coefficient and in ln s. The posterior is found at its mode by Newton's
// method, and integrated over by draws from a Student-t about the mode that carry importance weights, so
// that few spells give wide answers and every answer includes the doubt about s.
package timetosell

import (
	"errors"
	"fmt"
	"math"
)

// Stretch is a number of days under the same circumstances.
type Stretch struct {
	Days float64
	X    []float64 // one value a column, an intercept included
}

// Spell is the time for which one thing was for sale.
type Spell struct {
	Stretches []Stretch
	Sold      bool    // at the end of the last stretch; not sold yet otherwise
	Doubt     float64 // standard deviation of the doubtful column's true value about the given one
}

// Prior is what is believed before any spell is seen. A standard deviation of +Inf is no belief at all.
type Prior struct {
	Mean, SD    []float64 // of the coefficients
	LnScale     float64   // the mean of ln s
	LnScaleSD   float64
	Doubtful    int // the column that is measured with doubt
	HasDoubtful bool
}

// sameDay is how many days a sale on the very day of the offer is taken to have lasted: its logarithm must
// be one.
const sameDay = 0.5

// ErrUndetermined is wrapped by what Fit returns when the spells do not determine an answer and the prior
// does not either: columns that cannot be told apart, or no sale at all, under a flat prior.
var ErrUndetermined = errors.New("the spells do not determine an answer")

// check refuses what has no meaning.
func (p Prior) check() error {
	if len(p.Mean) == 0 || len(p.Mean) != len(p.SD) {
		return fmt.Errorf("learn days to sell: %d means and %d spreads in the prior", len(p.Mean), len(p.SD))
	}
	for j := range p.Mean {
		if !finite(p.Mean[j]) || !(p.SD[j] > 0) {
			return fmt.Errorf("learn days to sell: column %d has the prior %v, %v", j+1, p.Mean[j], p.SD[j])
		}
	}
	if !finite(p.LnScale) || !(p.LnScaleSD > 0) {
		return fmt.Errorf("learn days to sell: the scale has the prior %v, %v", p.LnScale, p.LnScaleSD)
	}
	if p.HasDoubtful && (p.Doubtful < 0 || p.Doubtful >= len(p.Mean)) {
		return fmt.Errorf("learn days to sell: there is no column %d to be doubted", p.Doubtful+1)
	}
	return nil
}

// flat tells whether nothing is believed of something.
func (p Prior) flat() bool {
	flat := math.IsInf(p.LnScaleSD, 1)
	for _, sd := range p.SD {
		flat = flat || math.IsInf(sd, 1)
	}
	return flat
}

// usable takes a spell without stretches of no length, and false when nothing is left that tells anything.
func usable(s Spell, columns int) (Spell, bool, error) {
	out := Spell{Sold: s.Sold, Doubt: s.Doubt}
	if !(s.Doubt >= 0) || math.IsInf(s.Doubt, 1) {
		return out, false, fmt.Errorf("learn days to sell: a doubt of %v", s.Doubt)
	}
	for _, t := range s.Stretches {
		if len(t.X) != columns {
			return out, false, fmt.Errorf("learn days to sell: %d values for %d columns", len(t.X), columns)
		}
		for _, v := range t.X {
			if !finite(v) {
				return out, false, fmt.Errorf("learn days to sell: a value of %v", v)
			}
		}
		if !(t.Days >= 0) || math.IsInf(t.Days, 1) {
			return out, false, fmt.Errorf("learn days to sell: a stretch of %v days", t.Days)
		}
		if t.Days > 0 {
			out.Stretches = append(out.Stretches, t)
		}
	}
	if n := len(s.Stretches); len(out.Stretches) == 0 && n > 0 && s.Sold {
		last := s.Stretches[n-1]
		last.Days = sameDay
		out.Stretches = append(out.Stretches, last)
	} else if n > 0 && s.Sold && s.Stretches[n-1].Days == 0 { // sold on the very day of a change
		last := s.Stretches[n-1]
		last.Days = sameDay
		out.Stretches = append(out.Stretches, last)
	}
	return out, len(out.Stretches) > 0, nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
