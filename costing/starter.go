package costing

import (
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// StarterCards are job cards to begin with, for a mid-size motor of 40 to 115 hp. Their figures are common
// practice, from memory, with no source, in United States dollars; each is marked as such until the shop
// makes it its own. Unit is one whole unit of the shop's money in minor units.
func StarterCards(unit money.Amount) []Card {
	three := func(low, likely, high float64) ThreePoint { return ThreePoint{low, likely, high} }
	cost := func(low, high float64) ThreePoint {
		return ThreePoint{low, (low + high) / 2, high}.Times(float64(unit))
	}
	two, four := valuation.TwoStroke, valuation.FourStroke
	cards := []Card{
		{Name: "annual service", Hours: three(1.5, 2.5, 4), Parts: cost(60, 180)},
		{Name: "water pump and thermostats", Hours: three(1, 2, 5), Parts: cost(50, 140)},
		{Name: "carburettors, a set", Hours: three(3, 5, 9), Parts: cost(60, 240)},
		{Name: "fuel pump and lines", Hours: three(1, 2, 4), Parts: cost(50, 200)},
		{Name: "ignition fault", Hours: three(1.5, 3, 8), Parts: cost(60, 550)},
		{Name: "starter circuit", Hours: three(0.7, 1.5, 4), Parts: cost(40, 250)},
		{Name: "charging", Hours: three(1, 2, 4), Parts: cost(50, 400)},
		{Name: "trim and tilt", Hours: three(1.5, 4, 8), Parts: cost(80, 700)},
		{Name: "lower-unit reseal", Hours: three(2, 4, 7), Parts: cost(60, 160)},
		{Name: "gears or lower-unit swap", Hours: three(3, 7, 12), Parts: cost(400, 1800)},
		{Name: "head gasket, two-stroke", Stroke: two, Hours: three(2, 4, 9), Parts: cost(50, 160)},
		{Name: "head off, four-stroke", Stroke: four, Hours: three(6, 10, 16), Parts: cost(200, 700)},
		{Name: "top end", Per: PerCylinder, Hours: three(8, 13, 20), Parts: cost(220, 450), MoreHours: three(2, 2, 2)},
		{Name: "powerhead swap", Hours: three(8, 13, 22), Parts: cost(800, 4500)},
		{Name: "broken bolt", Per: PerPiece, Hours: three(0.3, 1.5, 5), Parts: cost(5, 40)},
		{Name: "free the steering or tilt tube", Hours: three(1, 3, 8), Parts: cost(20, 250)},
	}
	for i := range cards {
		if cards[i].Per == "" {
			cards[i].Per = PerMotor
		}
		cards[i].Starting, cards[i].Starter = true, cards[i].Name
	}
	return cards
}
