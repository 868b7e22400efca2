package example

import (
	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// forOwner is a motor that stands in the shop to be sold for its owner: no stock of the shop's.
func (b *ledger) forOwner() {
	t := b.today
	b.add(costing.Record{
		Stage: costing.Finished, BoughtOn: t - 2, FinishedOn: t - 1, Seller: "L. Vickery", Source: "word of mouth", Stand: "by the slip",
		Note:        "Looked over, nothing found. To be sold for its owner, who moved inland.",
		Consignment: costing.Consignment{Owner: "L. Vickery", Contact: "rings on Fridays", Rate: 0.15},
		Motor: valuation.Motor{Make: "Tornvik", Power: 20, Year: b.aged(9), Stroke: valuation.FourStroke, State: valuation.Serviced,
			Fuel: valuation.Carburettor, Cylinders: 2, Shaft: 20, Start: valuation.Electric, Lift: valuation.ManualLift, Steering: valuation.Tiller,
			Water: valuation.Fresh, Hours: 85, HoursKnown: true, Looks: 5, Turns: valuation.Yes, LowerUnit: valuation.Yes,
			PartsSupplied: valuation.Yes, Plate: valuation.Yes, ShownRunning: valuation.Yes, Propeller: valuation.Yes,
			HowKnown: map[string]valuation.How{"hours": valuation.Told}},
	}, t-3)
}

// closing freezes last year, as its owner did in January: on the twelfth, or today if that is earlier.
func (b *ledger) closing(settings costing.Settings) costing.Closing {
	in := review.Input{Goods: b.goods, Moves: b.moves, Receipts: b.receipts, Items: b.items, Pieces: b.pieces, Settings: settings, Today: b.today}
	for _, r := range b.records {
		in.Records = append(in.Records, *r)
	}
	on := min(b.today, day.Of(b.today.Year(), 1, 12))
	c := review.Year(review.FiscalYear(b.today.Year()-1, settings.FiscalMonth), in).Close(on)
	c.ID = b.id(on)
	return c
}
