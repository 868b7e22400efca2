package example

import (
	"math"
	"math/rand/v2"
	"slices"

	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Base is ln of what a plain motor brings in the invented market, in units of the currency: 50 hp, 15
// years old, two-stroke with carburettors, running, looks 3, a middling make, sold on [Start] in the
// quiet of autumn. exp(7.05) is about 1,150.
const Base = 7.05

// Residual is the standard deviation of what remains of ln price when every row of [Truth] is known:
// haggling, luck, the buyer's hurry. About one price in three lies further than 17 % off.
const Residual = 0.17

// Effect is one row of the truth: Push times Measure is what a motor's ln price gains over the plain
// motor's.
type Effect struct {
	Name    string
	Push    float64
	Measure func(m valuation.Motor, at moment) float64
}

// Truth is what the invented market pays for. It is the same sort of thing the program's trade prior
// speaks of but never the same figures, so that the example shop's sales have something to teach.
var Truth = []Effect{
	//  what moves the price       on ln price    measured as
	{"ln(power / 50 hp)", +0.68, func(m valuation.Motor, _ moment) float64 { return math.Log(m.Power / 50) }},
	{"decades older than 15 years", -0.50, func(m valuation.Motor, at moment) float64 { return at.age(m) }},
	{"the same, squared", +0.06, func(m valuation.Motor, at moment) float64 { return at.age(m) * at.age(m) }},
	{"four-stroke", +0.34, func(m valuation.Motor, _ moment) float64 { return when(m.Stroke == valuation.FourStroke) }},
	{"injected", +0.10, func(m valuation.Motor, _ moment) float64 { return when(m.Fuel == valuation.Injected) }},
	{"direct injection", -0.08, func(m valuation.Motor, _ moment) float64 { return when(m.Fuel == valuation.Direct) }},
	{"more than parts", +0.52, func(m valuation.Motor, _ moment) float64 { return atLeast(m.State, valuation.Dead) - 1 }},
	{"runs", +0.78, func(m valuation.Motor, _ moment) float64 { return atLeast(m.State, valuation.Runs) - 1 }},
	{"serviced", +0.16, func(m valuation.Motor, _ moment) float64 { return atLeast(m.State, valuation.Serviced) }},
	{"rebuilt", +0.20, func(m valuation.Motor, _ moment) float64 { return atLeast(m.State, valuation.Rebuilt) }},
	{"looks, a step above 3", +0.10, func(m valuation.Motor, _ moment) float64 { return looks(m) }},
	{"salt water", -0.13, func(m valuation.Motor, _ moment) float64 { return when(m.Water == valuation.Salt) }},
	{"electric start", +0.11, func(m valuation.Motor, _ moment) float64 { return when(m.Start == valuation.Electric) }},
	{"power tilt", +0.15, func(m valuation.Motor, _ moment) float64 { return when(m.Lift == valuation.PowerLift) }},
	{"controls with it", +0.09, func(m valuation.Motor, _ moment) float64 { return when(m.Controls == valuation.Yes) }},
	{"ln(hours / 300), if known", -0.06, func(m valuation.Motor, _ moment) float64 { return hours(m) }},
	{"hours not known", -0.05, func(m valuation.Motor, _ moment) float64 { return when(!m.HoursKnown) }},
	{"compression, 10 points low", -0.18, func(m valuation.Motor, _ moment) float64 { return lowPoints(m.Compression) / 10 }},
	{"spring over autumn, half", +0.05, func(_ valuation.Motor, at moment) float64 { return at.season() + 1 }},
	{"years since the start", +0.03, func(_ valuation.Motor, at moment) float64 { return at.since }},
	{"Halvard", +0.12, func(m valuation.Motor, _ moment) float64 { return when(m.Make == "Halvard") }},
	{"Tornvik", +0.05, func(m valuation.Motor, _ moment) float64 { return when(m.Make == "Tornvik") }},
	{"Selwick", -0.07, func(m valuation.Motor, _ moment) float64 { return when(m.Make == "Selwick") }},
	{"Brandmoor", -0.14, func(m valuation.Motor, _ moment) float64 { return when(m.Make == "Brandmoor") }},
	{"Quernby, parts hard to get", -0.30, func(m valuation.Motor, _ moment) float64 { return when(m.Make == "Quernby") }},
}

// moment is a day of sale and how long that is after the example's start.
type moment struct {
	on    day.Day
	since float64 // years
}

// age is how many decades older than 15 years the motor is, by whole model years as people count.
func (at moment) age(m valuation.Motor) float64 { return float64(at.on.Year()-m.Year-15) / 10 }

// season runs from -1 in early November to 1 in early May.
func (at moment) season() float64 {
	return math.Cos(2 * math.Pi * (float64(at.on.Time().YearDay()) - 125) / 365.25)
}

// Expected is ln of what the invented market pays for the motor before luck, in units of the currency.
// Start is the day the example's history begins.
func Expected(m valuation.Motor, on, start day.Day) float64 {
	at := moment{on: on, since: on.Years(start)}
	y := Base
	for _, e := range Truth {
		y += e.Push * e.Measure(m, at)
	}
	return y
}

// sell is what the market really paid: the expected price and its luck, rounded as people round.
func sell(r *rand.Rand, m valuation.Motor, on, start day.Day) money.Amount {
	return asPeopleSay(math.Exp(Expected(m, on, start) + Residual*r.NormFloat64()))
}

// asPeopleSay is an amount of money, given in units, as it is agreed in a driveway: small ones to the
// nearest 5, large ones to the nearest 50.
func asPeopleSay(units float64) money.Amount {
	step := 5.0
	switch {
	case units >= 3000:
		step = 50
	case units >= 1000:
		step = 25
	case units >= 300:
		step = 10
	}
	return money.Amount(math.Max(step, math.Round(units/step)*step)) * cents
}

// cents is how many minor units make one unit of the example's currency.
const cents = 100

func when(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// atLeast is 1 when the state is the given one or better.
func atLeast(s, least valuation.State) float64 {
	return when(slices.Index(valuation.States, s) >= slices.Index(valuation.States, least))
}

func looks(m valuation.Motor) float64 {
	if m.Looks == 0 {
		return 0
	}
	return float64(m.Looks - 3)
}

func hours(m valuation.Motor) float64 {
	if !m.HoursKnown {
		return 0
	}
	return math.Log(math.Max(10, m.Hours) / 300)
}

// lowPoints is how many per cent the worst cylinder lies under 90 % of the best; 0 when not measured.
func lowPoints(psi []float64) float64 {
	if len(psi) < 2 {
		return 0
	}
	worst, best := psi[0], psi[0]
	for _, p := range psi {
		worst, best = min(worst, p), max(best, p)
	}
	if best <= 0 {
		return 0
	}
	return max(0, 90-100*worst/best)
}
