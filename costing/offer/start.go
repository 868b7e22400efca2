package offer

import (
	"skegworth/costing"
	"skegworth/valuation"
)

// What may be wrong with a motor, to begin with. Every chance here is common practice, from memory, with no
// source: a shop's own taps and its own finished motors take its place.

// The doubts and their cases by key.
const (
	Powerhead = "powerhead"
	LowerUnit = "lower-unit"

	Sound    = "sound"
	Ignition = "ignition"
	Gasket   = "gasket"
	TopEnd   = "top-end"
	Finished = "finished"
	Seals    = "seals"
	Gears    = "gears"
)

// CasesOf are the cases of a doubt in the order a form shows them.
func CasesOf(doubt string) []string {
	if doubt == LowerUnit {
		return []string{Sound, Seals, Gears}
	}
	return []string{Sound, Ignition, Gasket, TopEnd, Finished}
}

// DoubtKeys are all doubts, in order.
var DoubtKeys = []string{Powerhead, LowerUnit}

// startTenths are chances in ten by the state a motor is in.
var startTenths = map[valuation.State]map[string][]int{
	valuation.PartsOnly: {Powerhead: {0, 0, 1, 2, 7}, LowerUnit: {5, 2, 3}},
	valuation.Dead:      {Powerhead: {0, 4, 2, 2, 2}, LowerUnit: {7, 2, 1}},
	valuation.Runs:      {Powerhead: {6, 2, 1, 1, 0}, LowerUnit: {7, 2, 1}},
	valuation.Serviced:  {Powerhead: {8, 1, 1, 0, 0}, LowerUnit: {9, 1, 0}},
	valuation.Rebuilt:   {Powerhead: {9, 1, 0, 0, 0}, LowerUnit: {9, 1, 0}},
}

// StartTenths are the starting chances in ten of a doubt's cases for motors in a state.
func StartTenths(doubt string, state valuation.State) []int { return startTenths[state][doubt] }

// Starting job cards that ways out and cases go by, by the name they came under, which a card keeps however
// the shop renames it ([costing.Card.Starter]); one that is gone falls back on the starting figures.
const (
	CardService  = "annual service"
	CardPump     = "water pump and thermostats"
	CardIgnition = "ignition fault"
	CardGasket2  = "head gasket, two-stroke"
	CardHead4    = "head off, four-stroke"
	CardTopEnd   = "top end"
	CardSwap     = "powerhead swap"
	CardReseal   = "lower-unit reseal"
	CardGears    = "gears or lower-unit swap"
)

// CardsFor are the job cards that put a case right, and those done for it in a full rebuild: a powerhead
// that is rebuilt gets its top end whatever was found, but not where another takes its place.
func CardsFor(doubt, key string, stroke valuation.Stroke) (work, full []string) {
	switch key {
	case Ignition:
		return []string{CardIgnition}, []string{CardIgnition, CardTopEnd}
	case Gasket:
		card := CardGasket2
		if stroke == valuation.FourStroke {
			card = CardHead4
		}
		return []string{card}, []string{CardTopEnd}
	case TopEnd:
		return []string{CardTopEnd}, nil
	case Finished:
		return []string{CardSwap}, nil
	case Seals:
		return []string{CardReseal}, nil
	case Gears:
		return []string{CardGears}, nil
	}
	if doubt == Powerhead {
		return nil, []string{CardTopEnd}
	}
	return nil, nil
}

// Deep tells whether a case is more than a tidy and service puts right.
func Deep(key string) bool { return key == Gasket || key == TopEnd || key == Finished || key == Gears }

// Names of the parts that a case leaves worth nothing.
const (
	PartPowerhead = "powerhead"
	PartLowerUnit = "lower unit"
)

// Spoils names the parts that a case leaves worth nothing.
func Spoils(key string) []string {
	switch key {
	case Finished:
		return []string{PartPowerhead}
	case Gears:
		return []string{PartLowerUnit}
	}
	return nil
}

// startParts are the parts of a motor as shares of what it brings when it runs well, with the chance that
// each sells within a season: common practice, from memory.
var startParts = []struct {
	name   string
	share  float64
	chance float64
	there  func(valuation.Motor) bool
}{
	{PartPowerhead, 0.30, 0.6, nil},
	{PartLowerUnit, 0.25, 0.7, func(m valuation.Motor) bool { return m.LowerUnit != valuation.No }},
	{"midsection and bracket", 0.06, 0.4, nil},
	{"cowl", 0.07, 0.5, func(m valuation.Motor) bool { return m.Looks != 1 }},
	{"trim and tilt unit", 0.09, 0.6, func(m valuation.Motor) bool { return m.Lift == valuation.PowerLift }},
	{"ignition and electrics", 0.07, 0.6, nil},
	{"carburettors or injection", 0.06, 0.5, nil},
	{"starter motor", 0.03, 0.6, func(m valuation.Motor) bool { return m.Start == valuation.Electric }},
	{"controls with harness", 0.05, 0.7, func(m valuation.Motor) bool { return m.Controls == valuation.Yes }},
	{"propeller", 0.04, 0.7, func(m valuation.Motor) bool { return m.Propeller == valuation.Yes }},
}

// StartParts is a list of parts for a motor that brings so much when it runs well.
func StartParts(m valuation.Motor, running float64) []Part {
	var out []Part
	for _, p := range startParts {
		if p.there != nil && !p.there(m) {
			continue
		}
		likely := p.share * running
		out = append(out, Part{Name: p.name, Chance: p.chance, Price: costing.ThreePoint{Low: 0.6 * likely, Likely: likely, High: 1.5 * likely}})
	}
	return out
}

// StripHours is what it takes to break a motor and to clean, picture and send off its parts: common
// practice, from memory.
var StripHours = costing.ThreePoint{Low: 4, Likely: 7, High: 12}

// DonorShare is the part of the chance that a part sells at which the shop itself needs it.
const DonorShare = 0.5

// SellDays is a guess, until days to sell are learned, of how long each way out takes to sell in season.
var SellDays = map[Exit]int{AsItStands: 21, Tidy: 28, Rebuild: 30, Break: 120, Donor: 240}
