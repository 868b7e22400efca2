package example

import (
	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// selling is how motors were offered and sold: asking prices that came down, offers, deposits, a buyer who did
// not come, a motor taken in, freight charged. No price of a sale changes by it.
func (b *ledger) selling() {
	b.forSale()
	var own []*costing.Record // the latest sale first
	for i := len(b.records) - 1; i >= 0; i-- {
		if r := b.records[i]; r.Stage == costing.Sold {
			own = append(own, r)
		}
	}
	for i, r := range own {
		b.sold(r, i)
	}
	// Each of these is the latest sale that could have gone so.
	var exchanged, missed, held, shipped bool
	for _, r := range own {
		offered := int(r.Sale.Sold - r.ListedOn)
		switch {
		case !exchanged && r.Sale.Price >= 900*cents && r.Sale.Sold <= b.today-6:
			exchanged = true
			b.exchange(r)
		case !missed && offered >= 14:
			missed = true
			b.hold(r, costing.Hold{On: r.ListedOn + 2, Until: r.ListedOn + 8, Buyer: "G. Lomax", Deposit: 100 * cents, Method: costing.InCash,
				ClearedOn: r.ListedOn + 2, Outcome: costing.HoldNoShow, SettledOn: r.ListedOn + 10, Kept: 100 * cents, Note: "Rang twice, then no more."})
		case !held && offered >= 5 && r.Sale.Price >= 500*cents:
			held = true
			r.Sale.Deposit = 150 * cents
			b.hold(r, costing.Hold{On: r.Sale.Sold - 4, Until: r.Sale.Sold + 3, Buyer: r.Sale.Buyer, Deposit: 150 * cents, Method: costing.ByTransfer,
				ClearedOn: r.Sale.Sold - 3, Outcome: costing.HoldSold, SettledOn: r.Sale.Sold})
		case !shipped && r.Sale.Channel == channels[0]:
			shipped = true
			r.Sale.Freight = 180 * cents
			b.line(r, r.Sale.Sold, costing.Delivery, "pallet freight", 1, 165*cents, "")
		}
	}
}

// forSale is what happened to the motors that stand for sale.
func (b *ledger) forSale() {
	t := b.today
	for _, r := range b.records {
		if r.Stage != costing.Listed {
			continue
		}
		if t-r.ListedOn > 30 {
			b.asked(r, r.ListedOn, r.Ask+250*cents, channels[1])
			b.asked(r, r.ListedOn+18, r.Ask+100*cents, channels[0])
			b.asked(r, r.ListedOn+40, r.Ask, "")
			r.Bids = append(r.Bids,
				costing.Bid{ID: b.id(t - 39), MotorID: r.ID, On: t - 39, Amount: 2000 * cents, From: "N. Oskarrson", Channel: channels[1], Answer: costing.BidDeclined, AnsweredOn: t - 39},
				costing.Bid{ID: b.id(t - 11), MotorID: r.ID, On: t - 11, Amount: 1700 * cents, From: "Family Tolle", Channel: channels[0], Trade: "a 20 hp tiller that runs",
					Answer: costing.BidLapsed, AnsweredOn: t - 4},
				costing.Bid{ID: b.id(t - 2), MotorID: r.ID, On: t - 2, Amount: 2250 * cents, From: "C. Thorne", Channel: channels[0], Note: "if it is shown running on Saturday"})
			continue
		}
		b.asked(r, r.ListedOn, r.Ask, channels[1])
		r.OwnWords = "Kept under a roof, one owner before."
		r.Bids = append(r.Bids, costing.Bid{ID: b.id(t - 5), MotorID: r.ID, On: t - 5, Amount: 900 * cents, From: "A. Bellweather", Channel: channels[1],
			Answer: costing.BidDeclined, AnsweredOn: t - 5})
		b.hold(r, costing.Hold{On: t - 3, Until: t + 4, Buyer: "P. Sandoe", Contact: "comes with the van on Sunday", Deposit: 150 * cents, Method: costing.ByTransfer,
			ClearedOn: t - 2})
	}
}

// sold gives a sale of the shop's own the prices that led to it, and what went along.
func (b *ledger) sold(r *costing.Record, latest int) {
	s, m := r.Sale, r.Motor
	if r.ListedOn != 0 && r.Ask > 0 {
		if s.Sold-r.ListedOn >= 24 { // it stood, so the price came down
			b.asked(r, r.ListedOn, asPeopleSay(float64(r.Ask)/cents*1.09), s.Channel)
			b.asked(r, r.ListedOn+15, r.Ask, "")
		} else {
			b.asked(r, r.ListedOn, r.Ask, s.Channel)
		}
	}
	yes := func(a valuation.Answer) bool { return a == valuation.Yes }
	s.Included = costing.Included{Controls: yes(m.Controls), Harness: yes(m.Controls), Propeller: yes(m.Propeller), Tank: yes(m.Tank)}
	if s.Method = costing.InCash; latest%3 == 0 {
		s.Method = costing.ByTransfer
		if s.Sold+2 <= b.today {
			s.ClearedOn = s.Sold + 2
		}
	}
}

func (b *ledger) asked(r *costing.Record, on day.Day, ask money.Amount, where string) {
	r.Asks = append(r.Asks, costing.AskStep{ID: b.id(on), MotorID: r.ID, On: on, Ask: ask, Where: where})
}

func (b *ledger) hold(r *costing.Record, h costing.Hold) {
	h.ID, h.MotorID = b.id(h.On), r.ID
	r.Holds = append(r.Holds, h)
}

// exchange takes an old two-stroke in against a price: 250 was allowed for it, and it is worth 180.
func (b *ledger) exchange(r *costing.Record) {
	on := r.Sale.Sold
	taken := b.add(costing.Record{
		Stage: costing.Bench, BoughtOn: on, Seller: r.Sale.Buyer, Source: "part exchange", Stand: "under the bench",
		Note: "Taken in against the " + r.Name() + ". Smokes, but runs.",
		Motor: valuation.Motor{Make: "Selwick", Power: 8, Year: b.aged(27), Stroke: valuation.TwoStroke, State: valuation.Runs, Fuel: valuation.Carburettor,
			Cylinders: 2, Shaft: 15, Start: valuation.Pull, Lift: valuation.ManualLift, Steering: valuation.Tiller, Looks: 2, Turns: valuation.Yes, LowerUnit: valuation.Yes},
		Plan: costing.Plan{State: valuation.Serviced, Parts: minor(20, 45, 90), Hours: costing.ThreePoint{Low: 2, Likely: 3, High: 5}, Days: 15},
	}, on)
	r.Sale.Exchange = costing.Exchange{MotorID: taken.ID, Allowed: 250 * cents, Value: 180 * cents}
	b.line(taken, on, costing.Purchase, "part exchange", 1, 180*cents, r.Sale.Buyer).InKind = true
}

// putSelling writes what selling a motor left behind; motors taken in are there by then.
func putSelling(tx *shopfile.Tx, r *costing.Record) error {
	for i := range r.Asks {
		if err := tx.PutAsk(&r.Asks[i]); err != nil {
			return err
		}
	}
	for i := range r.Bids {
		if err := tx.PutBid(&r.Bids[i]); err != nil {
			return err
		}
	}
	for i := range r.Holds {
		if err := tx.PutHold(&r.Holds[i]); err != nil {
			return err
		}
	}
	if r.Sale == nil {
		return nil
	}
	return tx.PutSale(r.ID, r.Sale)
}
