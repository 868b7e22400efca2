package example

import (
	"math/rand/v2"

	"skegworth/costing"
	"skegworth/valuation"
)

// job is a piece of bench work with what it takes. Money is in units of the currency.
type job struct {
	task      string
	low, high float64 // own hours, for one of it
	parts     []piece
	draws     []draw
	outside   *piece // done by somebody else for money
	perCyl    bool   // hours and pieces are for each cylinder
}

// piece is a thing bought for a job.
type piece struct {
	text      string
	kind      costing.Kind
	low, high float64
}

// draw is what a job takes off the shelf, in the good's own unit.
type draw struct {
	good     string
	quantity float64
}

var (
	lookOver = job{task: "look over, compression, spark", low: 1, high: 2.5}
	pump     = job{task: "water pump", low: 1.5, high: 4,
		parts: []piece{{"impeller kit", costing.PartOther, 22, 48}}, draws: []draw{{"gear oil", 0.75}, {"marine grease, tubes", 0.25}}}
	thermostat = job{task: "thermostat and housing", low: 1, high: 3,
		parts: []piece{{"thermostat, gasket", costing.PartNew, 18, 34}}, draws: []draw{{"gasket sealant, tubes", 0.25}}}
	carburettors = job{task: "carburettors off, cleaned, set", low: 1.25, high: 2.25, perCyl: true,
		parts: []piece{{"carburettor kit", costing.PartOther, 11, 19}}, draws: []draw{{"fuel line", 1}}}
	fuelPump = job{task: "fuel pump and lines", low: 1.5, high: 4,
		parts: []piece{{"fuel pump kit", costing.PartNew, 32, 64}}, draws: []draw{{"fuel line", 4}}}
	ignition = job{task: "ignition fault", low: 2, high: 7,
		parts: []piece{{"coil pack, tested", costing.PartUsed, 55, 190}}}
	starter = job{task: "starter circuit", low: 1, high: 3.5,
		parts: []piece{{"starter solenoid, brushes", costing.PartOther, 28, 85}}}
	trim = job{task: "trim pump and rams", low: 2, high: 6,
		parts: []piece{{"trim seal kit", costing.PartOther, 60, 145}}}
	lowerUnit = job{task: "lower unit resealed", low: 2.5, high: 6,
		parts: []piece{{"lower-unit seal kit", costing.PartNew, 38, 74}}, draws: []draw{{"gear oil", 1}}}
	headGasket = job{task: "head off, gasket, decoke", low: 3.5, high: 7.5,
		parts: []piece{{"head gasket set", costing.PartNew, 42, 88}}, draws: []draw{{"gasket sealant, tubes", 0.25}}}
	topEnd = job{task: "pistons and rings", low: 3, high: 4.75, perCyl: true,
		parts: []piece{{"piston and ring set", costing.PartOther, 52, 88}}, draws: []draw{{"gasket sealant, tubes", 0.25}}}
	bore = job{task: "", perCyl: true, outside: &piece{"cylinder bored and honed", costing.Outside, 34, 48}}
	belt = job{task: "timing belt, valves set", low: 4, high: 8,
		parts: []piece{{"timing belt, seals, shims", costing.PartNew, 90, 210}}}
	cowl = job{task: "cowl sprayed, decals", low: 1.5, high: 4,
		parts: []piece{{"decal set", costing.PartOther, 26, 58}}}
	propeller = job{task: "", outside: &piece{"propeller straightened", costing.Outside, 35, 60}}
	twoPlugs  = job{task: "plugs, oil, run in the tank", low: 1.5, high: 3, draws: []draw{{"two-stroke oil", 1}, {"fogging oil, cans", 0.25}}}
	fourPlugs = job{task: "oil, filter, plugs, run in the tank", low: 1.5, high: 3,
		parts: []piece{{"oil filter", costing.PartOther, 9, 16}}, draws: []draw{{"four-stroke oil", 3}}}
	breakIn = job{task: "break-in on the lake", low: 2, high: 4, draws: []draw{{"two-stroke oil", 1.5}}}
)

// work is what the shop does to a motor to bring it from the state it was bought in to the one it is
// sold in.
func work(r *rand.Rand, m valuation.Motor, bought valuation.State) []job {
	four := m.Stroke == valuation.FourStroke
	last := twoPlugs
	if four {
		last = fourPlugs
	}
	likely := func(p float64, j job) []job {
		if chance(r, p) {
			return []job{j}
		}
		return nil
	}
	out := []job{lookOver}
	switch m.State {
	case valuation.PartsOnly, valuation.Dead:
		return out
	case valuation.Runs:
		if bought == valuation.Dead {
			out = append(out, carburettors)
			out = append(out, likely(0.5, ignition)...)
		}
		return append(out, last)
	}
	out = append(out, pump)
	out = append(out, likely(0.4, thermostat)...)
	if m.Fuel == valuation.Carburettor {
		out = append(out, likely(0.7, carburettors)...)
	}
	out = append(out, likely(0.35, fuelPump)...)
	if bought == valuation.Dead {
		out = append(out, likely(0.5, ignition)...)
	}
	if m.Start == valuation.Electric {
		out = append(out, likely(0.3, starter)...)
	}
	if m.Lift == valuation.PowerLift {
		out = append(out, likely(0.3, trim)...)
	}
	if m.State == valuation.Rebuilt {
		out = append(out, lowerUnit)
		switch {
		case four:
			out = append(out, belt)
		case m.Power <= 40 || chance(r, 0.35):
			out = append(out, topEnd)
			out = append(out, likely(0.6, bore)...)
		default:
			out = append(out, headGasket)
		}
		out = append(out, likely(0.6, cowl)...)
	}
	out = append(out, likely(0.2, propeller)...)
	out = append(out, last)
	if m.State == valuation.Rebuilt && !four {
		out = append(out, breakIn)
	}
	return out
}
