// Package largeshop invents shops of any size, for measuring and for checks from outside.
package largeshop

import (
	"fmt"
	"math/rand/v2"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Contents has so many motors with so many lines each, nine in ten sold in 2026; the same every time.
func Contents(motors, each int) shopfile.Contents {
	rnd := rand.New(rand.NewPCG(11, 2026))
	c := shopfile.Contents{Settings: costing.DefaultSettings()}
	makes := []string{"Halvard", "Tornvik", "Corvane", "Selwick", "Brandmoor", "Querrin"}
	kinds := []costing.Kind{costing.PartNew, costing.PartOther, costing.PartUsed, costing.Kit, costing.Outside, costing.Trip, costing.Listing, costing.MarketFee, costing.Comeback, costing.FreightIn}
	c.Records = make([]costing.Record, motors)
	from := day.Of(2025, 6, 1)
	for i := range c.Records {
		r := &c.Records[i]
		id := fmt.Sprintf("motor-%06d", i)
		bought := from + day.Day(rnd.IntN(400))
		*r = costing.Record{ID: id, Stage: costing.Bench, Tag: fmt.Sprintf("T%d", i), BoughtOn: bought,
			Motor: valuation.Motor{Make: makes[rnd.IntN(len(makes))], Power: float64(4 + rnd.IntN(200)), Year: 1985 + rnd.IntN(35), Stroke: valuation.TwoStroke, State: valuation.Runs}}
		if rnd.IntN(10) > 0 {
			r.Stage = costing.Sold
			r.Sale = &costing.Sale{ID: id + "s", Sold: day.Of(2026, 1, 1) + day.Day(rnd.IntN(320)), Price: money.Amount(30_000 + rnd.IntN(400_000)), Channel: "marketplace"}
			r.BoughtOn = min(bought, r.Sale.Sold)
		}
		r.Lines = make([]costing.Line, each)
		for j := range r.Lines {
			kind := kinds[rnd.IntN(len(kinds))]
			if j == 0 {
				kind = costing.Purchase
			}
			quantity, cost := float64(1+rnd.IntN(4)), money.Amount(150+rnd.IntN(9000))
			r.Lines[j] = costing.Line{ID: fmt.Sprintf("line-%06d-%03d", i, j), MotorID: id, Kind: kind, On: bought + day.Day(rnd.IntN(60)), Text: "as written down", Quantity: quantity,
				Each: cost, Total: money.Amount(quantity) * cost, Supplier: "Harbour Supply"}
		}
		for j := range 3 {
			r.Sessions = append(r.Sessions, costing.Session{ID: fmt.Sprintf("hours-%06d-%d", i, j), MotorID: id, On: bought + day.Day(j), Time: costing.Hours(15 + rnd.IntN(300)), Task: "worked on it", Paid: j == 2 && i%7 == 0, Rate: 2500})
		}
	}
	return c
}
