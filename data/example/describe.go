package example

import (
	"math"
	"math/rand/v2"

	"skegworth/valuation"
	"skegworth/valuation/day"
)

// brand is an invented make of outboards. None of these names was ever on an outboard's cowl.
type brand struct {
	name  string
	often int // share of the motors that pass through the shop
	least int // years since it stopped making motors; 0 still does
}

var brands = []brand{
	{"Halvard", 28, 0},
	{"Corvane", 24, 0},
	{"Tornvik", 18, 0},
	{"Selwick", 14, 0},
	{"Brandmoor", 11, 0},
	{"Quernby", 5, 28},
}

// rating is a power the makes offer, in hp.
type rating struct {
	hp    float64
	often int
}

// ratings with how often each comes in.
var ratings = []rating{
	{2.5, 4}, {4, 4}, {6, 6}, {8, 7}, {9.9, 10}, {15, 10}, {20, 5}, {25, 9}, {30, 6}, {40, 9}, {50, 8}, {60, 6},
	{75, 6}, {90, 8}, {115, 6}, {150, 5},
}

// describe draws one motor of the kind that passes through the shop, described as it would be sold on
// the day: a good half of the facts that may be missing are.
func describe(r *rand.Rand, on day.Day) valuation.Motor {
	var m valuation.Motor
	age := 3 + int(33*(r.Float64()+r.Float64()+0.2)/2.2) // tired ones, mostly
	m.Year = on.Year() - age
	maker := brands[pick(r, brands, func(b brand) int { return b.often })]
	if age < maker.least {
		maker = brands[r.IntN(4)]
	}
	m.Make = maker.name
	m.Power = ratings[pick(r, ratings, func(x rating) int { return x.often })].hp
	engine(r, &m, age)
	rigging(r, &m)
	m.State = valuation.States[pickOf(r, 4, 8, 16, 42, 30)]
	life(r, &m, age)
	return m
}

// engine draws what is fixed by the maker: cycle, fuel and cylinders by power and age.
func engine(r *rand.Rand, m *valuation.Motor, age int) {
	four := 0.04
	switch {
	case age <= 12:
		four = 0.7
	case age <= 20:
		four = 0.4
	case age <= 28:
		four = 0.15
	}
	m.Stroke, m.Fuel = valuation.TwoStroke, valuation.Carburettor
	if chance(r, four) {
		m.Stroke = valuation.FourStroke
		if m.Power >= 30 && age <= 22 && chance(r, 0.8) {
			m.Fuel = valuation.Injected
		}
	} else if m.Power >= 75 && age <= 25 && chance(r, 0.45) {
		m.Fuel = valuation.Direct
	}
	switch {
	case m.Power <= 4:
		m.Cylinders = 1
	case m.Power < 40:
		m.Cylinders = 2
	case m.Power <= 75:
		m.Cylinders = 3
	case m.Power <= 115:
		m.Cylinders = 4
	default:
		m.Cylinders = 6
	}
	if m.Stroke == valuation.TwoStroke {
		m.Oil = valuation.NoInjection
		if m.Power >= 40 {
			m.Oil = valuation.Oils[pickOf(r, 40, 40, 20)]
		}
	}
}

// rigging draws how it is hung, started, tilted and steered.
func rigging(r *rand.Rand, m *valuation.Motor) {
	m.Shaft, m.Start, m.Lift, m.Steering = 15, valuation.Pull, valuation.ManualLift, valuation.Tiller
	switch {
	case m.Power < 9:
		if chance(r, 0.2) {
			m.Shaft = 20
		}
	case m.Power < 40:
		if chance(r, 0.5) {
			m.Shaft = 20
		}
		if chance(r, 0.45) {
			m.Start = valuation.Electric
			if chance(r, 0.6) {
				m.Steering = valuation.Remote
			}
		}
		if m.Power >= 20 && chance(r, 0.3) {
			m.Lift = valuation.AssistLift
		}
	default:
		m.Shaft, m.Start, m.Steering = 20, valuation.Electric, valuation.Remote
		if m.Power >= 150 && chance(r, 0.5) {
			m.Shaft = 25
		}
		if m.Power >= 75 || chance(r, 0.5) {
			m.Lift = valuation.PowerLift
		}
	}
	if m.Steering == valuation.Remote {
		m.Controls = maybe(r, 0.5, 0.35)
		m.Helm = maybe(r, 0.15, 0.6)
	}
	m.Propeller = maybe(r, 0.75, 0.1)
	if m.Power >= 6 {
		m.Tank = maybe(r, 0.4, 0.4)
	}
}

// life draws what years of use have done to it, and how much of that is known.
func life(r *rand.Rand, m *valuation.Motor, age int) {
	m.Water = []valuation.Water{valuation.Fresh, valuation.Salt, valuation.Mixed, ""}[pickOf(r, 45, 28, 8, 19)]
	m.Looks = []int{1, 2, 3, 4, 5, 0}[pickOf(r, 6, 20, 34, 24, 6, 10)]
	known := 0.35
	if m.Stroke == valuation.FourStroke {
		known = 0.6
	}
	m.HowKnown = make(map[string]valuation.How)
	if chance(r, known) {
		m.HoursKnown = true
		m.Hours = math.Round(float64(age) * 28 * math.Exp(0.6*r.NormFloat64()))
		m.HowKnown["hours"] = valuation.Told
	}
	running := m.State == valuation.Runs || m.State == valuation.Serviced || m.State == valuation.Rebuilt
	switch {
	case running:
		m.Turns, m.LowerUnit = valuation.Yes, valuation.Yes
		m.ShownRunning = maybe(r, 0.7, 0.1)
		if m.Cylinders > 1 && chance(r, 0.6) {
			m.Compression = compression(r, *m)
			m.HowKnown["compression"] = valuation.Measured
		}
	case m.State == valuation.Dead:
		m.Turns, m.LowerUnit, m.ShownRunning = maybe(r, 0.6, 0.2), maybe(r, 0.85, 0.05), valuation.No
	default:
		m.Turns, m.LowerUnit, m.ShownRunning = maybe(r, 0.2, 0.6), maybe(r, 0.4, 0.4), valuation.No
	}
	m.Plate = maybe(r, 0.8, 0.05)
	if m.Make == "Quernby" {
		m.PartsSupplied = valuation.No
	} else if age <= 32 {
		m.PartsSupplied = valuation.Yes
	}
	if m.State == valuation.Rebuilt && chance(r, 0.4) {
		m.WarrantyDays = 30
	}
}

// compression draws a gauge reading for every cylinder, psi. What was rebuilt reads even.
func compression(r *rand.Rand, m valuation.Motor) []float64 {
	level := 112 + 12*r.NormFloat64()
	if m.Stroke == valuation.FourStroke {
		level += 50
	}
	spread := 3.0
	if m.State == valuation.Rebuilt {
		spread = 1.2
	}
	psi := make([]float64, m.Cylinders)
	for i := range psi {
		psi[i] = math.Round(level + spread*r.NormFloat64())
	}
	if m.State == valuation.Runs && chance(r, 0.4) {
		tired := r.IntN(len(psi))
		psi[tired] = math.Round(level * (0.62 + 0.2*r.Float64()))
	}
	return psi
}
