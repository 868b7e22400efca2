package example

import (
	"strings"

	"skegworth/costing"
	"skegworth/valuation"
)

// clearOut is a lot: the boatyard would let the seized Tornvik go with a small motor and a trailer, or some of
// it. The papers of one prospect are in order, those of another were never asked for.
func (b *ledger) clearOut() {
	t := b.today
	lot := costing.Bundle{ID: b.id(t - 5), Name: "Lowfield clear-out", Asks: 3300 * cents, Trip: 118, Splits: true,
		Note: "They want the corner empty by the end of the month.",
		Things: []costing.BundleThing{
			{ID: b.id(t - 5), Name: "small trailer", Worth: minor(120, 200, 320), Chance: 0.7},
			{ID: b.id(t - 5), Name: "box of propellers", Kept: true, OwnWorth: 60 * cents}}}
	small := b.add(costing.Record{
		Stage: costing.Prospect, SeenOn: t - 5, SellerAsks: 420 * cents, Seller: "Lowfield Boatyard", Source: "boatyard clear-out", BundleID: lot.ID,
		Note: "Runs on the muffs, tiller grip gone.",
		Motor: valuation.Motor{Make: "Corvane", Power: 15, Year: b.aged(14), Stroke: valuation.FourStroke, State: valuation.Runs,
			Fuel: valuation.Carburettor, Cylinders: 2, Shaft: 15, Start: valuation.Pull, Lift: valuation.ManualLift, Steering: valuation.Tiller,
			Water: valuation.Fresh, Looks: 3, Turns: valuation.Yes, LowerUnit: valuation.Yes, PartsSupplied: valuation.Yes, Plate: valuation.Yes,
			Propeller: valuation.Yes},
		Plan: costing.Plan{State: valuation.Serviced, Parts: minor(40, 70, 150), Hours: costing.ThreePoint{Low: 2, Likely: 4, High: 7},
			Selling: 10 * cents, Days: 12},
	}, t-5)
	small.Papers = costing.Papers{Signed: valuation.Yes}
	for _, r := range b.records {
		switch {
		case r.Stage != costing.Prospect:
		case strings.HasPrefix(r.Name(), "Tornvik"):
			r.BundleID = lot.ID
		case strings.HasPrefix(r.Name(), "Corvane 40"):
			r.Papers = costing.Papers{Signed: valuation.Yes, Search: costing.SearchClear, SearchedOn: t - 1, SearchedAt: "Wrenmouth Harbour Office",
				Reference: "no entry", Title: costing.TitleClear}
		}
	}
	b.offered = append(b.offered, lot)
}
