package valuation

import (
	"math"
	"slices"
)

// What each column reads off a motor. Where a fact is not known the share or value that stands in for it
// is common practice, from memory, and only its spread matters much: it widens the band.

func powerOf(s subject) fact {
	if s.PowerAbout {
		return fact{s.lnPower(), aboutPower}
	}
	return known(s.lnPower())
}

func ageOf(s subject) fact {
	f := known(s.age()).less(anchorAge)
	if s.YearAbout {
		f.spread = aboutYear
	}
	return f
}

// ageSquaredOf is counted from the anchor's age, so that what is not known of the flattening does not
// add to what is not known of the slope there.
func ageSquaredOf(s subject) fact { return known((s.age() - anchorAge) * (s.age() - anchorAge)) }

func powerByAgeOf(s subject) fact { return known(s.lnPower() * (s.age() - anchorAge)) }

func oldRatingOf(s subject) fact { return when(s.OldRating) }

func fourStrokeOf(s subject) fact {
	if s.Stroke == "" {
		return share(0.4)
	}
	return when(s.Stroke == FourStroke)
}

// injectedOf counts direct injection of a four-stroke as injection; that of a two-stroke has its own column.
func injectedOf(s subject) fact {
	if s.Fuel == "" {
		if s.Stroke == FourStroke {
			return share(s.between([]float64{30, 60}, 0.15, 0.5, 0.75))
		}
		return share(s.between([]float64{100}, 0.02, 0.15))
	}
	return when(s.Fuel == Injected || s.Fuel == Direct && s.Stroke != TwoStroke)
}

func directTwoStrokeOf(s subject) fact {
	if s.Stroke == FourStroke {
		return known(0)
	}
	if s.Fuel == "" {
		return share(s.between([]float64{40, 100}, 0, 0.03, 0.1))
	}
	return when(s.Fuel == Direct)
}

// The state's steps: a motor has climbed each of those up to its state. Runs is where the anchor stands,
// so that the steps below it count down.

func aboveParts(s subject) fact { return s.atLeast(Dead, 0.99).less(1) }
func aboveDead(s subject) fact  { return s.atLeast(Runs, 0.9).less(1) }
func aboveRuns(s subject) fact  { return s.atLeast(Serviced, 0.4) }
func aboveServiced(s subject) fact {
	return s.atLeast(Rebuilt, 0.15)
}

// atLeast is 1 when the state is the step or beyond, typically p when it is not known.
func (s subject) atLeast(step State, p float64) fact {
	if s.State == "" {
		return share(p)
	}
	return when(slices.Index(States, s.State) >= slices.Index(States, step))
}

func looksOf(s subject) fact {
	if s.Looks == 0 {
		return fact{0, 1}
	}
	return known(float64(s.Looks) - 3)
}

func saltOf(s subject) fact {
	switch s.Water {
	case Salt:
		return known(1)
	case Mixed:
		return known(0.5)
	case Fresh:
		return known(0)
	}
	return share(0.3)
}

// unusualShaftOf: short is usual up to 40 hp, long from 4, extra-long from 90 and 30 in from 175.
func unusualShaftOf(s subject) fact {
	switch {
	case s.Shaft == 0:
		return share(0.08)
	case s.Shaft < 18:
		return when(s.Power > 40)
	case s.Shaft < 23:
		return when(s.Power < 4)
	case s.Shaft < 28:
		return when(s.Power < 90)
	}
	return when(s.Power < 175)
}

func electricOf(s subject) fact {
	if s.Start == "" {
		return share(s.between([]float64{8, 20, 40}, 0.03, 0.35, 0.75, 0.98)).less(1)
	}
	return when(s.Start == Electric).less(1)
}

func trimOf(s subject) fact {
	if s.Lift == "" {
		return share(s.between([]float64{20, 40, 60, 90}, 0.02, 0.25, 0.55, 0.85, 0.97))
	}
	return when(s.Lift == PowerLift)
}

// controlsOf: a tiller motor has none to include.
func controlsOf(s subject) fact {
	if s.Controls == "" && s.Steering == Tiller {
		return known(0)
	}
	return answered(s.Controls, s.between([]float64{15, 40}, 0.05, 0.3, 0.5))
}

func propellerOf(s subject) fact { return answered(s.Propeller, 0.85).less(1) }

func tankOf(s subject) fact { return answered(s.Tank, s.between([]float64{4, 40}, 0.1, 0.5, 0.25)) }

func helmOf(s subject) fact {
	if s.Helm == "" && s.Steering == Tiller {
		return known(0)
	}
	return answered(s.Helm, s.between([]float64{25}, 0.05, 0.25))
}

// The hours at which the hours column is 0, and what is added so that a motor of no hours has a logarithm.
const (
	usualHours = 300.0
	moreHours  = 50.0
)

func hoursOf(s subject) fact {
	if !s.HoursKnown {
		return fact{0, 0.8}
	}
	return known(math.Log((s.Hours + moreHours) / (usualHours + moreHours)))
}

func hoursUnknownOf(s subject) fact { return when(!s.HoursKnown) }

// compressionOf counts tens of points that the worst cylinder lies below 90 % of the best, 3 at the most:
// a cylinder 30 points down is a bad one, and a worse one is no worse news. One reading says nothing of a
// motor with several cylinders.
func compressionOf(s subject) fact {
	const most = 3
	if len(s.Compression) == 1 && s.Cylinders == 1 {
		return known(0)
	}
	if len(s.Compression) < 2 {
		switch {
		case s.Cylinders == 1 || s.State == Rebuilt:
			return fact{0, 0.1}
		case s.runs():
			return fact{0.15, 0.5}
		}
		return fact{0.6, 0.9}
	}
	best, worst := slices.Max(s.Compression), slices.Min(s.Compression)
	if best <= 0 {
		return known(most)
	}
	return known(math.Min(math.Max(0, 90-100*worst/best)/10, most))
}

func seizedOf(s subject) fact {
	if s.Turns == "" && s.runs() {
		return known(0)
	}
	return refused(s.Turns, 0.2)
}

func oilWorksOf(s subject) fact {
	if s.Stroke == FourStroke {
		return known(0)
	}
	if s.Oil == "" {
		return share(s.between([]float64{30}, 0.05, 0.4))
	}
	return when(s.Oil == InjectionWorks)
}

func oilRemovedOf(s subject) fact {
	if s.Stroke == FourStroke {
		return known(0)
	}
	if s.Oil == "" {
		return share(s.between([]float64{30}, 0.02, 0.15))
	}
	return when(s.Oil == InjectionRemoved)
}

func orphanOf(s subject) fact    { return refused(s.PartsSupplied, 0.05) }
func submergedOf(s subject) fact { return answered(s.Submerged, 0.03) }
func weldedOf(s subject) fact    { return answered(s.Welded, 0.03) }
func plateGoneOf(s subject) fact { return refused(s.Plate, 0.05) }

func lowerUnitOf(s subject) fact {
	switch {
	case s.State == PartsOnly:
		return refused(s.LowerUnit, 0.3)
	case s.State == Dead:
		return refused(s.LowerUnit, 0.05)
	case s.LowerUnit == "":
		return known(0)
	}
	return refused(s.LowerUnit, 0)
}

// notShownOf: a motor that does not run cannot be shown running, and its state has said so.
func notShownOf(s subject) fact {
	if !s.runs() {
		return known(0)
	}
	return refused(s.ShownRunning, 0.3)
}

// warrantyOf counts quarters of a year, two at the most.
func warrantyOf(s subject) fact { return known(math.Min(float64(s.WarrantyDays)/90, 2)) }

// The year's first harmonic: 1 in the middle of April, and its quarter turn, 1 in the middle of July.

func springOf(s subject) fact { return known(math.Cos(s.season())) }
func summerOf(s subject) fact { return known(math.Sin(s.season())) }

func (s subject) season() float64 {
	return 2 * math.Pi * float64(s.on.Time().YearDay()-105) / 365.25
}

func driftOf(s subject) fact { return known(s.on.Years(s.now)) }
