package example

import (
	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// papers are receipts with what stands on them, and things that are no motors.
type papers struct {
	receipts []costing.Receipt
	items    []costing.Item
	pieces   []costing.Piece

	four, donor *costing.Record // motors on the floor that papers speak of
}

// write puts them into the file.
func (p *papers) write(tx *shopfile.Tx) error {
	for i := range p.receipts {
		if err := tx.PutReceipt(&p.receipts[i]); err != nil {
			return err
		}
	}
	for i := range p.items {
		if err := tx.PutItem(&p.items[i]); err != nil {
			return err
		}
	}
	for i := range p.pieces {
		if err := tx.PutPiece(&p.pieces[i]); err != nil {
			return err
		}
	}
	return nil
}

// lots are what was bought together: a boat with motor and trailer for one price, and an order whose
// freight and tax everything on it shares.
func (b *ledger) lots() error {
	if err := b.boat(b.today - 57); err != nil {
		return err
	}
	if err := b.order(b.today - 15); err != nil {
		return err
	}
	b.taken()
	return nil
}

// put writes a receipt down, with its freight and tax shared.
func (b *ledger) put(r costing.Receipt, items []costing.Item) error {
	r.ID = b.id(r.On)
	if err := r.Land(items); err != nil {
		return err
	}
	for i := range items {
		it := &items[i]
		it.ID, it.ReceiptID, it.On = b.id(r.On), r.ID, r.On
		switch it.Goes {
		case costing.ToPiece:
			b.pieces = append(b.pieces, costing.Piece{ID: it.ID, Name: it.Text, Value: it.Value, Chance: it.Chance, Cost: it.Landed, CameOn: r.On})
		case costing.ToShelf:
			b.moves = append(b.moves, costing.Move{ID: it.ID, GoodID: it.GoodID, Kind: costing.Bought, On: r.On, Quantity: it.Quantity, Cost: it.Landed, Supplier: r.Supplier})
		}
	}
	b.receipts, b.items = append(b.receipts, r), append(b.items, items...)
	return nil
}

// boat is a boat, a motor and a trailer for one price; the anchor stays with the owner.
func (b *ledger) boat(on day.Day) error {
	m := b.add(costing.Record{
		Stage: costing.Bench, BoughtOn: on, Seller: "Estate of R. Quill", Source: "card in the chandlery", Stand: "stand 4",
		Note: "Came with the boat and trailer. Runs on the hose, wants a pump.",
		Motor: valuation.Motor{Make: "Selwick", Power: 20, Year: b.aged(22), Stroke: valuation.TwoStroke, State: valuation.Runs,
			Fuel: valuation.Carburettor, Cylinders: 2, Shaft: 15, Start: valuation.Pull, Lift: valuation.ManualLift, Steering: valuation.Tiller,
			Water: valuation.Fresh, Looks: 3, Turns: valuation.Yes, LowerUnit: valuation.Yes, PartsSupplied: valuation.Yes, Plate: valuation.Yes,
			Propeller: valuation.Yes, Tank: valuation.Yes, BracketNumber: "SK 20-17 5530", PowerheadNumber: "SK 20-19 8107"},
		Plan: costing.Plan{State: valuation.Serviced, Parts: minor(40, 80, 160), Hours: costing.ThreePoint{Low: 3, Likely: 5, High: 8}, Trip: 31, Days: 30},
	}, on-3)
	items := []costing.Item{
		{Goes: costing.ToMotor, Text: "price, its share of the lot", Quantity: 1, Value: 750 * cents, Chance: 0.9, MotorID: m.ID},
		{Goes: costing.ToPiece, Text: "14 ft aluminium boat", Quantity: 1, Value: 900 * cents, Chance: 0.7},
		{Goes: costing.ToPiece, Text: "boat trailer", Quantity: 1, Value: 600 * cents, Chance: 0.9},
		{Goes: costing.ToKeep, Text: "anchor and rope", Quantity: 1, Value: 40 * cents, Chance: 1},
	}
	if err := b.put(costing.Receipt{Supplier: m.Seller, On: on, Lot: 1200 * cents, PaidOn: on}, items); err != nil {
		return err
	}
	m.Lines = append(m.Lines, costing.Line{ID: items[0].ID, MotorID: m.ID, Kind: costing.Purchase, On: on, Text: items[0].Text, Quantity: 1,
		Each: items[0].Landed, Total: items[0].Landed, Supplier: m.Seller})
	b.line(m, on, costing.Trip, "trip", 31, tripRate, "").Unit = "mi"
	return nil
}

// order is a receipt that is still to be paid: a part, the core charge on an exchange, anodes for the
// shelf, and a tool.
func (b *ledger) order(on day.Day) error {
	anodes := costing.Good{ID: b.id(on - 65), Name: "anodes, small", Unit: "each", Reorder: 2, Note: "The older ones are the cheaper ones."}
	b.goods = append(b.goods, anodes)
	b.moves = append(b.moves, costing.Move{ID: b.id(on - 65), GoodID: anodes.ID, Kind: costing.Bought, On: on - 65, Quantity: 6, Cost: 3960, Supplier: "Tern & Tide"})
	b.moves = append(b.moves, costing.Move{ID: b.id(on - 22), GoodID: anodes.ID, Kind: costing.Drawn, On: on - 22, Quantity: 2, Cost: 1320, Note: "the yard's own skiff"})
	items := []costing.Item{
		{Goes: costing.ToMotor, Text: "fuel rail regulator", Quantity: 1, Net: 8840, MotorID: b.four.ID},
		{Goes: costing.ToCore, Text: "starter, exchange: core", Quantity: 1, Net: 5500, MotorID: b.four.ID},
		{Goes: costing.ToShelf, Text: anodes.Name, Quantity: 6, Unit: anodes.Unit, Net: 4350, GoodID: anodes.ID},
		{Goes: costing.ToExpense, Text: "flywheel puller", Quantity: 1, Net: 3495},
	}
	r := costing.Receipt{Supplier: "Northquay Spares", Number: "NS-40718", On: on, Freight: 1460, Tax: 1127, Due: on + 30}
	if err := b.put(r, items); err != nil {
		return err
	}
	for i, kind := range []costing.Kind{costing.PartNew, costing.CoreCharge} {
		it := items[i]
		l := costing.Line{ID: it.ID, MotorID: it.MotorID, Kind: kind, On: on, Text: it.Text, Quantity: 1, Each: it.Landed, Total: it.Landed, Supplier: r.Supplier}
		if kind == costing.CoreCharge {
			l.Due = on + 24
		}
		b.four.Lines = append(b.four.Lines, l)
	}
	return nil
}

// taken are the parts of the donor: one fitted, one sold, the rest still on it.
func (b *ledger) taken() {
	for _, l := range b.donor.Lines {
		if l.Kind == costing.PartDonor { // the lower unit, on the motor under the same id
			id := l.ID[:len(l.ID)-len(costing.OffEnd)]
			b.pieces = append(b.pieces, costing.Piece{ID: id, DonorID: b.donor.ID, Name: l.Text, Value: 420 * cents, Chance: 0.9,
				Cost: -l.Total, Fate: costing.Fitted, LeftOn: l.On, MotorID: b.holder(id)})
		}
	}
	var on []costing.Piece
	for _, p := range []struct {
		name   string
		worth  money.Amount
		chance float64
	}{{"tilt motor", 110, 0.8}, {"cowl", 140, 0.6}, {"trim and tilt rams", 180, 0.5}, {"starter", 70, 0.8}, {"flywheel", 60, 0.3}, {"powerhead, cracked", 40, 0.5}} {
		on = append(on, costing.Piece{ID: b.id(b.donor.LeftOn), DonorID: b.donor.ID, Name: p.name, Value: p.worth * cents, Chance: p.chance})
	}
	sold := &on[0]
	sold.Cost = costing.ShareOf(b.donor.Sheet(0, ownRate).Carried, on, sold.ID)
	sold.Fate, sold.LeftOn, sold.Price, sold.Channel, sold.Buyer = costing.SoldAlone, b.today-18, 95*cents, "walk-in", "T. Merrow"
	_, give := costing.OffDonor(b.donor.ID, "", sold.Name, sold.Cost, sold.LeftOn)
	give.ID, give.Supplier = sold.ID+costing.OffEnd, sold.Buyer
	b.donor.Lines = append(b.donor.Lines, give)
	b.pieces = append(b.pieces, on...)
}

// holder is the motor with the line on its cost sheet.
func (b *ledger) holder(lineID string) string {
	for _, r := range b.records {
		for _, l := range r.Lines {
			if l.ID == lineID {
				return r.ID
			}
		}
	}
	return ""
}
