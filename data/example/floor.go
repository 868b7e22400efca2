package example

import (
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// The motors on the floor today are written by hand, each for something the program has to show.

// prospects may be bought: one asks too much, one is a good buy, one is too thin at any price, and of
// one only the four needed things are known.
func (b *ledger) prospects() {
	t := b.today
	b.add(costing.Record{
		Stage: costing.Prospect, SeenOn: t - 2, SellerAsks: 1400 * cents, Seller: "Estate of W. Tarrant", Source: "card in the chandlery",
		Note: "Sat three winters. Turns by hand, no spark on two. Papers in the kitchen drawer.",
		Motor: valuation.Motor{Make: "Halvard", Power: 90, Year: b.aged(23), Stroke: valuation.TwoStroke, State: valuation.Dead,
			Fuel: valuation.Carburettor, Cylinders: 4, Shaft: 20, Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote,
			Water: valuation.Fresh, Looks: 2, Oil: valuation.InjectionRemoved, Turns: valuation.Yes, LowerUnit: valuation.Yes,
			PartsSupplied: valuation.Yes, Plate: valuation.Yes, Controls: valuation.Yes, Propeller: valuation.Yes,
			HowKnown: map[string]valuation.How{"water": valuation.Told, "turns": valuation.Measured}},
		Plan: costing.Plan{State: valuation.Rebuilt, Parts: minor(450, 790, 1450), Hours: costing.ThreePoint{Low: 14, Likely: 22, High: 34},
			Selling: 40 * cents, Trip: 64, Days: 45},
	}, t-2)
	b.add(costing.Record{
		Stage: costing.Prospect, SeenOn: t - 1, SellerAsks: 650 * cents, Seller: "Ida Brask", Source: "word of mouth",
		Note: "Runs, pees weakly. Selling the boat without it.",
		Motor: valuation.Motor{Make: "Corvane", Power: 40, Year: b.aged(18), Stroke: valuation.FourStroke, State: valuation.Runs,
			Fuel: valuation.Carburettor, Cylinders: 3, Shaft: 20, Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote,
			Water: valuation.Salt, Hours: 610, HoursKnown: true, Looks: 3, Turns: valuation.Yes, LowerUnit: valuation.Yes,
			PartsSupplied: valuation.Yes, Plate: valuation.Yes, Propeller: valuation.Yes,
			HowKnown: map[string]valuation.How{"hours": valuation.Told}},
		Plan: costing.Plan{State: valuation.Serviced, Parts: minor(60, 120, 260), Hours: costing.ThreePoint{Low: 3, Likely: 5, High: 9},
			Selling: 15 * cents, Trip: 22, Days: 14},
	}, t-1)
	b.add(costing.Record{
		Stage: costing.Prospect, SeenOn: t - 5, SellerAsks: 2900 * cents, Seller: "Lowfield Boatyard", Source: "boatyard clear-out",
		Note: "Seized. The yard thinks it is only the starter.",
		Motor: valuation.Motor{Make: "Tornvik", Power: 150, Year: b.aged(22), Stroke: valuation.TwoStroke, State: valuation.Dead,
			Fuel: valuation.Direct, Cylinders: 6, Shaft: 25, Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote,
			Water: valuation.Salt, Looks: 2, Oil: valuation.InjectionWorks, Turns: valuation.No, LowerUnit: valuation.Yes,
			PartsSupplied: valuation.Yes, Plate: valuation.Yes, Propeller: valuation.No},
		Plan: costing.Plan{State: valuation.Rebuilt, Parts: minor(1100, 1900, 4200), Hours: costing.ThreePoint{Low: 22, Likely: 34, High: 55},
			Selling: 60 * cents, Trip: 118, Days: 90},
	}, t-5)
	b.add(costing.Record{
		Stage: costing.Prospect, SeenOn: t, SellerAsks: 300 * cents, Source: "roadside",
		Note: "Seen from the truck, ring back.",
		Motor: valuation.Motor{Make: "Selwick", Power: 9.9, PowerAbout: true, Year: b.aged(26), YearAbout: true,
			Stroke: valuation.TwoStroke, State: valuation.Runs},
	}, t)
	passed := b.add(costing.Record{
		Stage: costing.Passed, SeenOn: t - 33, LeftOn: t - 31, SellerAsks: 400 * cents, Seller: "a man at the Fallow Lake ramp", Source: "roadside",
		Note: "Sank at the mooring in spring and was never pickled. Left it.",
		Motor: valuation.Motor{Make: "Brandmoor", Power: 60, Year: b.aged(29), Stroke: valuation.TwoStroke, State: valuation.Dead,
			Shaft: 20, Water: valuation.Salt, Looks: 1, Turns: valuation.No, Submerged: valuation.Yes},
		Plan: costing.Plan{State: valuation.PartsOnly, Hours: costing.ThreePoint{Likely: 3}},
	}, t-33)
	b.line(passed, t-33, costing.Trip, "trip to look", 26, tripRate, "").Unit = "mi"
	passed.Passing = costing.Passing{Why: costing.WhyCondition, Note: "Salt in the block."}
	b.clearOut()
}

// stock are the motors bought and not sold: on the bench, finished, and offered; and the donor.
func (b *ledger) stock() {
	t := b.today
	r := stream(ownWork, 1000)

	four := b.add(costing.Record{
		Stage: costing.Bench, Seller: "Saltby Sailing School", Source: "word of mouth", Stand: "stand 1",
		Note: "Cuts out warm: the fuel rail regulator. Belt is due anyway.",
		Motor: valuation.Motor{Make: "Halvard", Power: 50, Year: b.aged(15), Stroke: valuation.FourStroke, State: valuation.Runs,
			Fuel: valuation.Injected, Cylinders: 3, Shaft: 20, Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote,
			Water: valuation.Salt, Hours: 890, HoursKnown: true, Looks: 3, Compression: []float64{171, 168, 170}, Turns: valuation.Yes,
			LowerUnit: valuation.Yes, PartsSupplied: valuation.Yes, Plate: valuation.Yes, Propeller: valuation.Yes, Controls: valuation.Yes,
			HowKnown: map[string]valuation.How{"hours": valuation.Seen, "compression": valuation.Measured}},
		Plan: costing.Plan{State: valuation.Rebuilt, Parts: minor(260, 380, 700), Hours: costing.ThreePoint{Low: 10, Likely: 15, High: 24},
			Selling: 30 * cents, Trip: 36, Days: 50},
	}, t-41)
	b.four = four
	b.buy(four, t-38, 900, 36)
	b.do(r, four, lookOver, t-36)
	b.do(r, four, pump, t-30)
	b.do(r, four, belt, t-17)
	b.do(r, four, ignition, t-3)

	two := b.add(costing.Record{
		Stage: costing.Bench, Seller: "Coble Farm", Source: "roadside", Stand: "stand 3",
		Motor: valuation.Motor{Make: "Corvane", Power: 25, Year: b.aged(24), Stroke: valuation.TwoStroke, State: valuation.Runs,
			Fuel: valuation.Carburettor, Cylinders: 2, Shaft: 15, Start: valuation.Pull, Lift: valuation.ManualLift, Steering: valuation.Tiller,
			Water: valuation.Fresh, Looks: 2, Compression: []float64{118, 114}, Turns: valuation.Yes, LowerUnit: valuation.Yes,
			PartsSupplied: valuation.Yes, Plate: valuation.No, Tank: valuation.Yes, Propeller: valuation.Yes,
			HowKnown: map[string]valuation.How{"compression": valuation.Measured, "water": valuation.Seen}},
		Plan: costing.Plan{State: valuation.Serviced, Parts: minor(50, 90, 170), Hours: costing.ThreePoint{Low: 3, Likely: 5, High: 8},
			Selling: 10 * cents, Trip: 18, Days: 21},
	}, t-22)
	b.buy(two, t-21, 260, 18)
	b.do(r, two, lookOver, t-20)
	b.do(r, two, carburettors, t-6)

	donor := b.add(costing.Record{
		Stage: costing.Broken, LeftOn: t - 70, Seller: "Lowfield Boatyard", Source: "boatyard clear-out", Stand: "back wall",
		Note: "Block cracked behind the exhaust cover. Lower unit, trim and cowl are good.",
		Motor: valuation.Motor{Make: "Tornvik", Power: 115, Year: b.aged(27), Stroke: valuation.TwoStroke, State: valuation.PartsOnly,
			Fuel: valuation.Carburettor, Cylinders: 4, Shaft: 20, Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote,
			Water: valuation.Salt, Looks: 3, Turns: valuation.No, LowerUnit: valuation.Yes, Welded: valuation.No,
			BracketNumber: "TV 115-40 22817", PowerheadNumber: "TV 115-40 22817"},
	}, t-152)
	b.donor = donor
	b.buy(donor, t-150, 340, 28)
	b.do(r, donor, lookOver, t-140)

	big := b.add(costing.Record{
		Stage: costing.Bench, Seller: "Greyling Ferry", Source: "word of mouth", Stand: "stand 2",
		Note: "Lower unit is off the donor: bracket and powerhead numbers match each other, the gearcase is another's.",
		Motor: valuation.Motor{Make: "Tornvik", Power: 115, Year: b.aged(25), Stroke: valuation.TwoStroke, State: valuation.Dead,
			Fuel: valuation.Carburettor, Cylinders: 4, Shaft: 20, Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote,
			Water: valuation.Salt, Looks: 3, Turns: valuation.Yes, LowerUnit: valuation.Yes, PartsSupplied: valuation.Yes, Plate: valuation.Yes,
			Controls: valuation.No, Propeller: valuation.Yes, BracketNumber: "TV 115-42 30561", PowerheadNumber: "TV 115-42 30561"},
		Plan: costing.Plan{State: valuation.Rebuilt, Parts: minor(480, 700, 1300), Hours: costing.ThreePoint{Low: 18, Likely: 26, High: 40},
			Selling: 50 * cents, Trip: 44, Days: 80},
	}, t-66)
	b.buy(big, t-64, 620, 44)
	b.do(r, big, lookOver, t-60)
	b.do(r, big, topEnd, t-44)
	b.do(r, big, bore, t-48)
	get, give := costing.OffDonor(donor.ID, big.ID, "lower unit", 160*cents, t-30)
	get.ID = b.id(t - 30)
	give.ID = get.ID + ".d" // so that the shop takes the two back together
	get.Supplier, give.Supplier = donor.Name(), big.Name()
	big.Lines, donor.Lines = append(big.Lines, get), append(donor.Lines, give)
	b.session(big, t-30, "lower unit swapped", 3, 0)
	b.session(big, t-28, "second pair of hands: powerhead on", 2.5, helperRate)
	core := b.line(big, t-26, costing.CoreCharge, "starter, exchange: core", 1, 60*cents, "Northquay Spares").ID
	b.line(big, t-26, costing.PartNew, "starter, exchange", 1, 128*cents, "Northquay Spares")
	back := b.line(big, t-12, costing.CoreCharge, "old starter taken back", 1, -60*cents, "Northquay Spares")
	back.Undoes = core
}

// ready are the motors that wait for a buyer.
func (b *ledger) ready() {
	t := b.today
	r := stream(ownWork, 1001)

	small := b.add(costing.Record{
		Stage: costing.Finished, FinishedOn: t - 4, Seller: "Wrenmouth Scouts", Source: "word of mouth", Stand: "rack, left",
		Motor: valuation.Motor{Make: "Selwick", Power: 15, Year: b.aged(19), Stroke: valuation.TwoStroke, State: valuation.Serviced,
			Fuel: valuation.Carburettor, Cylinders: 2, Shaft: 15, Start: valuation.Pull, Lift: valuation.ManualLift, Steering: valuation.Tiller,
			Water: valuation.Fresh, Looks: 4, Compression: []float64{124, 122}, Turns: valuation.Yes, LowerUnit: valuation.Yes,
			PartsSupplied: valuation.Yes, Plate: valuation.Yes, ShownRunning: valuation.Yes, Tank: valuation.Yes, Propeller: valuation.Yes,
			HowKnown: map[string]valuation.How{"compression": valuation.Measured}},
		Plan: costing.Plan{State: valuation.Serviced, Parts: minor(40, 70, 130), Hours: costing.ThreePoint{Low: 2, Likely: 4, High: 7}, Trip: 12, Days: 30},
	}, t-48)
	b.buy(small, t-47, 280, 12)
	for i, j := range []job{lookOver, pump, twoPlugs} {
		b.do(r, small, j, t-40+day.Day(12*i))
	}
	b.plugs(small, t-16)

	slow := b.add(costing.Record{
		Stage: costing.Listed, FinishedOn: t - 66, ListedOn: t - 61, Ask: 2600 * cents, Seller: "D. Sorley", Source: "marketplace", Stand: "by the door",
		Note: "Two came to look. Both said dear.",
		Motor: valuation.Motor{Make: "Brandmoor", Power: 75, Year: b.aged(21), Stroke: valuation.TwoStroke, State: valuation.Rebuilt,
			Fuel: valuation.Carburettor, Cylinders: 3, Shaft: 20, Start: valuation.Electric, Lift: valuation.PowerLift, Steering: valuation.Remote,
			Water: valuation.Salt, Looks: 4, Compression: []float64{119, 121, 120}, Turns: valuation.Yes, LowerUnit: valuation.Yes,
			PartsSupplied: valuation.Yes, Plate: valuation.Yes, ShownRunning: valuation.Yes, Controls: valuation.Yes, Propeller: valuation.Yes,
			Oil: valuation.InjectionRemoved, WarrantyDays: 30, HowKnown: map[string]valuation.How{"compression": valuation.Measured}},
		Plan: costing.Plan{State: valuation.Rebuilt, Parts: minor(200, 320, 560), Hours: costing.ThreePoint{Low: 10, Likely: 15, High: 22},
			Selling: 30 * cents, Trip: 52, Days: 60},
	}, t-126)
	b.buy(slow, t-124, 610, 52)
	for i, j := range []job{lookOver, headGasket, pump, trim, cowl, twoPlugs} {
		b.do(r, slow, j, t-118+day.Day(9*i))
	}
	b.plugs(slow, t-73)
	b.line(slow, t-61, costing.Listing, "notice, two weeks", 1, 12*cents, "")

	fresh := b.add(costing.Record{
		Stage: costing.Listed, FinishedOn: t - 13, ListedOn: t - 12, Ask: 980 * cents, Seller: "K. Ostrander", Source: "card in the chandlery", Stand: "rack, right",
		Motor: valuation.Motor{Make: "Corvane", Power: 9.9, Year: b.aged(13), Stroke: valuation.FourStroke, State: valuation.Serviced,
			Fuel: valuation.Carburettor, Cylinders: 2, Shaft: 20, Start: valuation.Electric, Lift: valuation.ManualLift, Steering: valuation.Tiller,
			Water: valuation.Fresh, Hours: 140, HoursKnown: true, Looks: 4, Compression: []float64{158, 160}, Turns: valuation.Yes,
			LowerUnit: valuation.Yes, PartsSupplied: valuation.Yes, Plate: valuation.Yes, ShownRunning: valuation.Yes, Tank: valuation.Yes,
			Propeller: valuation.Yes, HowKnown: map[string]valuation.How{"hours": valuation.Told, "compression": valuation.Measured}},
		Plan: costing.Plan{State: valuation.Serviced, Parts: minor(30, 60, 120), Hours: costing.ThreePoint{Low: 2, Likely: 3, High: 6}, Trip: 8, Days: 30},
	}, t-52)
	b.buy(fresh, t-50, 420, 8)
	for i, j := range []job{lookOver, pump, thermostat, fourPlugs} {
		b.do(r, fresh, j, t-45+day.Day(9*i))
	}
	b.plugs(fresh, t-18)
}

// gone are the motors that left without a sale.
func (b *ledger) gone() {
	t := b.today
	r := stream(ownWork, 1002)

	kept := b.add(costing.Record{
		Stage: costing.Kept, LeftOn: t - 90, FinishedOn: t - 95, Seller: "Family Dorn", Source: "word of mouth",
		Note: "Too good to sell. On the skiff.",
		Motor: valuation.Motor{Make: "Halvard", Power: 6, Year: b.aged(11), Stroke: valuation.FourStroke, State: valuation.Serviced,
			Fuel: valuation.Carburettor, Cylinders: 2, Shaft: 15, Start: valuation.Pull, Lift: valuation.ManualLift, Steering: valuation.Tiller,
			Water: valuation.Fresh, Looks: 5, Turns: valuation.Yes, LowerUnit: valuation.Yes, ShownRunning: valuation.Yes},
	}, t-131)
	b.buy(kept, t-130, 340, 10)
	b.do(r, kept, pump, t-110)
	b.do(r, kept, fourPlugs, t-100)

	lost := b.add(costing.Record{
		Stage: costing.Lost, LeftOn: t - 205, Seller: "Old Mr. Quill", Source: "word of mouth",
		Note: "Water left in it froze: block split from end to end. Scrap.",
		Motor: valuation.Motor{Make: "Quernby", Power: 35, Year: b.aged(36), Stroke: valuation.TwoStroke, State: valuation.Dead,
			Cylinders: 2, Shaft: 20, Looks: 2, Turns: valuation.No, PartsSupplied: valuation.No, OldRating: true},
	}, t-260)
	b.buy(lost, t-258, 90, 16)
	b.do(r, lost, lookOver, t-240)
}

// aged is the model year of a motor that is so many years old today.
func (b *ledger) aged(years int) int { return b.today.Year() - years }

// minor is a three-point guess given in units of the currency.
func minor(low, likely, high float64) costing.ThreePoint {
	return costing.ThreePoint{Low: low * cents, Likely: likely * cents, High: high * cents}
}

// Rates of the example shop, in minor units.
const (
	ownRate    money.Amount = 25 * cents
	helperRate money.Amount = 18 * cents
	tripRate   money.Amount = 40
	feeRate                 = 0.05
)
