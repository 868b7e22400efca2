package asking

import (
	"math"

	"skegworth/valuation/timetosell"
)

// What is believed before any motor was offered: common practice, from memory, with no source. A shop's own
// motors take its place by and by.
const (
	// Half of such motors, 50 hp and in season, are sold within so many days when asked at their worth.
	usualDays       = 24.0
	usualDaysSpread = 0.6 // of its logarithm

	// An ask a tenth above the worth takes three quarters longer: ln days per ln(ask / worth).
	dearSlower       = 7.3
	dearSlowerSpread = 1.0
	dearSlowerLeast  = 1.0 // no world is believed in which an ask hardly matters

	slowSeason       = 0.7 // out of season everything takes twice as long
	slowSeasonSpread = 0.35

	sizeSlower       = 0.1 // of ln(power / 50 hp): large motors have fewer buyers
	sizeSlowerSpread = 0.15
	usualPower       = 50.0

	channelSpread = 0.25 // of ln days between ways of selling

	daysScale       = 0.75 // of ln days between motors asked alike
	daysScaleSpread = 0.25

	// Asked the usual way, 6 % above the worth, half the buyers pay less than the worth.
	usualAbove        = 0.06 // of the logarithm
	haggle            = -0.06
	haggleSpread      = 0.03
	haggleScale       = 0.07
	haggleScaleSpread = 0.3

	// Nearly all of what is asked beyond the usual is haggled off again. Own sales are hardly let speak
	// against that: a motor that was asked high for its band was mostly a better one than the band knew.
	beyond       = -0.95
	beyondSpread = 0.02
	beyondLeast  = -1.0
	beyondMost   = -0.9

	// Who takes it away on the spot, a dealer mostly, gives seven tenths of its worth.
	clearance = 0.7

	// A buyer mostly offers so much less than he would pay, as the logarithm; every so many offers is a shot in
	// the dark, which tells no more than that somebody would pay as much.
	offersLess       = 0.08
	offersLessSpread = 0.15
	inTheDark        = 0.25

	// deepest is the least part of its ask that a sale is learned from as: below it was no haggling.
	deepest = 0.6
	atAsk   = 0.995 // from there on a motor was sold at its ask
)

// The columns of the regression of days.
const (
	columnStart = iota
	columnDear
	columnSlow
	columnSize
	columnChannel // the first of the channels
)

// daysPrior is the belief about days with so many ways of selling.
func daysPrior(channels int) timetosell.Prior {
	p := timetosell.Prior{
		Mean:    []float64{math.Log(usualDays), dearSlower, slowSeason, sizeSlower},
		SD:      []float64{usualDaysSpread, dearSlowerSpread, slowSeasonSpread, sizeSlowerSpread},
		LnScale: math.Log(daysScale), LnScaleSD: daysScaleSpread,
		Doubtful: columnDear, HasDoubtful: true,
	}
	for range channels {
		p.Mean, p.SD = append(p.Mean, 0), append(p.SD, channelSpread)
	}
	return p
}

// The columns of the regression of what a buyer would pay of the ask.
const (
	columnUsual = iota
	columnAbove // ln(ask / worth) beyond the usual
)

// hagglePrior is the belief about what a buyer would pay of the ask, as the logarithm.
func hagglePrior() timetosell.Prior {
	return timetosell.Prior{Mean: []float64{haggle, beyond}, SD: []float64{haggleSpread, beyondSpread},
		LnScale: math.Log(haggleScale), LnScaleSD: haggleScaleSpread, Doubtful: columnAbove, HasDoubtful: true}
}
