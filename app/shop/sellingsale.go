package shop

import (
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// SaleInput is what was agreed with a buyer.
type SaleInput struct {
	On       day.Day      // 0 is today
	Price    money.Amount // agreed, a deposit and what is allowed for a motor taken in included
	Fee      money.Amount // what the marketplace really kept
	Delivery money.Amount // freight that the shop paid
	Listing  money.Amount // what the listing cost
	Freight  money.Amount // charged to the buyer beside the price
	Channel  string
	Buyer    string
	Contact  string
	Note     string

	Included  *costing.Included // what went along; nil leaves the motor as it is described
	Method    costing.Payment   // how it was paid
	ClearedOn day.Day           // the money is surely there; 0 not known
	HoldID    string            // sold under that hold: its deposit is part of the price
	BidID     string            // an offer that was taken with it

	WithSnags bool // it goes straight from the bench although snags are open
}

// Sell books the sale of a motor; it enters the history and the bands at once, see [Shop.MovedBy]. One
// straight from the bench with open snags is refused, see [ErrSnags], unless the sale says that it goes all
// the same, and one held for a buyer, see [ErrHeld], unless it is sold under that hold.
func (s *Shop) Sell(id string, in SaleInput) error {
	d, err := s.deal(id, &in)
	if err != nil {
		return err
	}
	return s.book(d, in, nil)
}

// deal is a sale ready to be booked.
type deal struct {
	record costing.Record
	sale   costing.Sale
	hold   *costing.Hold
	bid    *costing.Bid
}

// deal checks what was agreed for a motor. The price in it is the one agreed.
func (s *Shop) deal(id string, in *SaleInput) (deal, error) {
	r, err := s.stage(id, "sell", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return deal{}, err
	}
	if !in.WithSnags {
		if err := s.stopForSnags("sell", id); err != nil {
			return deal{}, err
		}
	}
	in.On = orToday(in.On, s)
	d := deal{record: r}
	if err := s.checkSold(r, *in); err != nil {
		return d, err
	}
	if in.HoldID == "" {
		if err := s.stopForHold("sell", id); err != nil {
			return d, err
		}
	} else if d.hold, err = s.dueHold(id, *in); err != nil {
		return d, err
	}
	if in.BidID != "" {
		b, _, err := s.bid(id, in.BidID)
		if err != nil {
			return d, err
		}
		b.Answer, b.AnsweredOn = costing.BidAccepted, max(b.On, in.On)
		d.bid = &b
	}
	d.sale = costing.Sale{Sold: in.On, Price: in.Price, Channel: in.Channel, Buyer: in.Buyer, Contact: in.Contact, Note: in.Note,
		Freight: in.Freight, Method: in.Method, ClearedOn: in.ClearedOn}
	if d.hold != nil {
		d.sale.Deposit = d.hold.Deposit
	}
	d.record.Stage = costing.Sold
	if r.FinishedOn == 0 {
		d.record.FinishedOn = in.On
	}
	if in.Included != nil {
		d.sale.Included = *in.Included
		include(&d.record.Motor, *in.Included)
	}
	return d, nil
}

// include says of a motor what went along with it.
func include(m *valuation.Motor, in costing.Included) {
	answer := func(yes bool) valuation.Answer {
		if yes {
			return valuation.Yes
		}
		return valuation.No
	}
	m.Controls, m.Propeller, m.Tank = answer(in.Controls), answer(in.Propeller), answer(in.Tank)
}

func (s *Shop) checkSold(r costing.Record, in SaleInput) error {
	for _, a := range []struct {
		field string
		of    money.Amount
	}{{"fee", in.Fee}, {"delivery", in.Delivery}, {"listing", in.Listing}, {"freight", in.Freight}} {
		if a.of < 0 {
			return refuse(a.field, say.New("selling.cost", "it cannot be less than nothing"))
		}
	}
	switch {
	case in.Price <= 0:
		return refuse("price", say.New("sale.price", "a sale's price must be more than nothing"))
	case in.On > s.Today():
		return refuse("sold", say.New("selling.future", "{{.Day}} is not here yet", "Day", s.dayText(in.On)))
	case in.On < r.BoughtOn:
		return refuse("sold", say.New("sale.before-bought", "it was bought on {{.Bought}} and cannot be sold before", "Bought", s.dayText(r.BoughtOn)))
	case in.ClearedOn > s.Today():
		return refuse("cleared", say.New("selling.future", "{{.Day}} is not here yet", "Day", s.dayText(in.ClearedOn)))
	}
	if spell, on := r.ForSale(); on && in.On < spell.From {
		return refuse("sold", say.New("selling.before-listed", "it was offered from {{.Listed}} and cannot be sold before", "Listed", s.dayText(spell.From)))
	}
	return nil
}

// dueHold is the hold that a motor is sold under, ended by the sale.
func (s *Shop) dueHold(id string, in SaleInput) (*costing.Hold, error) {
	h, _, err := s.hold(id, in.HoldID)
	if err != nil {
		return nil, err
	}
	switch {
	case h.Outcome != costing.HoldOpen:
		return nil, refuse("hold", say.New("selling.hold.settled", "that hold is settled; open it again first"))
	case in.On < h.On:
		return nil, refuse("sold", say.New("sale.deposit-day", "its deposit was taken on {{.Day}}, and it cannot be sold before", "Day", s.dayText(h.On)))
	case h.Deposit > in.Price:
		return nil, refuse("price", say.New("selling.hold.price", "the deposit of {{.Deposit}} is more than that; give some of it back first", "Deposit", s.currency.Format(h.Deposit)))
	}
	h.Outcome, h.SettledOn = costing.HoldSold, in.On
	return &h, nil
}

// book writes a sale down, with a motor taken in against it if there is one, all in one step.
func (s *Shop) book(d deal, in SaleInput, taken *costing.Record) error {
	r := d.record
	before, unread := s.Market()
	was := s.swung
	if unread == nil { // told before the change is: whoever hears of it reads the market anew at once
		s.swung = swung{id: r.ID, before: before}
	}
	err := s.write(say.New("undo.sell", "sale of {{.Motor}}", "Motor", title(r)), "", "", func(tx *shopfile.Tx) error {
		if taken != nil {
			if err := putTaken(tx, taken, &d.sale); err != nil {
				return err
			}
		}
		if err := tx.PutRecord(&r); err != nil {
			return err
		}
		if err := tx.PutSale(r.ID, &d.sale); err != nil {
			return err
		}
		if d.hold != nil {
			if err := tx.PutHold(d.hold); err != nil {
				return err
			}
		}
		if d.bid != nil {
			if err := tx.PutBid(d.bid); err != nil {
				return err
			}
		}
		for _, l := range []costing.Line{{Kind: costing.MarketFee, Text: "fee", Total: in.Fee}, {Kind: costing.Delivery, Text: "delivery", Total: in.Delivery},
			{Kind: costing.Listing, Text: "listing", Total: in.Listing}} {
			if l.Total == 0 {
				continue
			}
			l.MotorID, l.On, l.Quantity, l.Each = r.ID, in.On, 1, l.Total
			if err := tx.PutLine(&l); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		s.swung = was
	}
	return err
}

// Clear writes down that the money of a sale is surely there, on a day (0 is today), and how it came; of an
// open hold it is its deposit. [Shop.Unclear] takes it back.
func (s *Shop) Clear(id string, on day.Day, by costing.Payment) error {
	return s.clear(id, orToday(on, s), by)
}

// Unclear says that it is not known whether the money of a sale, or of an open hold, is there.
func (s *Shop) Unclear(id string) error { return s.clear(id, 0, "") }

func (s *Shop) clear(id string, on day.Day, by costing.Payment) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	if on > s.Today() {
		return refuse("cleared", say.New("selling.future", "{{.Day}} is not here yet", "Day", s.dayText(on)))
	}
	what := say.New("undo.cleared", "money for {{.Motor}} cleared", "Motor", title(r))
	if h, held := r.OpenHold(); held && r.Sale == nil {
		if on != 0 && on < h.On {
			return refuse("cleared", say.New("selling.cleared-before", "it was taken on {{.Day}} and cannot be there before", "Day", s.dayText(h.On)))
		}
		h.ClearedOn = on
		if by != "" {
			h.Method = by
		}
		return s.write(what, "", id, func(tx *shopfile.Tx) error { return tx.PutHold(&h) })
	}
	if r.Sale == nil {
		return fmt.Errorf("clear the money for %s: it is neither sold nor held", title(r))
	}
	sale := *r.Sale
	sale.ClearedOn = on
	if by != "" {
		sale.Method = by
	}
	return s.write(what, "", id, func(tx *shopfile.Tx) error { return tx.PutSale(id, &sale) })
}

// Uncleared are the motors sold whose money is not known to be there, the oldest sale first. Sales of cash
// in hand count as cleared.
func (s *Shop) Uncleared() []costing.Record {
	var out []costing.Record
	for _, r := range s.contents.Records {
		if r.Stage != costing.Sold || r.Sale == nil || r.Sale.Cleared() || r.Sale.Method == "" || r.Sale.Method == costing.InCash {
			continue
		}
		at := len(out)
		for at > 0 && out[at-1].Sale.Sold > r.Sale.Sold {
			at--
		}
		out = append(out[:at], append([]costing.Record{r}, out[at:]...)...)
	}
	return out
}

// MovedBy says what the sale booked last, or a change of one, did to the bands: before and after it. It is
// nil for any other motor, and once something else moved the bands.
func (s *Shop) MovedBy(id string) *Swing {
	now, err := s.Market()
	r, known := s.Record(id)
	if err != nil || known != nil || r.Sale == nil || s.swung.id != id || s.swung.before == nil || s.swung.after != now {
		return nil
	}
	return s.swing(r.Motor, r.Sale.Sold, moved, reading{hole: "Before", market: s.swung.before}, reading{hole: "Now", market: now})
}

func moved(pairs ...any) say.Sentence {
	return say.New("swing.changed", "{{.Motor}}: eight times in ten before {{.Before}}, now {{.Now}}.", pairs...)
}

// IfSold says what selling a motor at a price on a day (0 is today) would do to the bands.
func (s *Shop) IfSold(id string, price money.Amount, on day.Day) (*Swing, error) {
	r, err := s.Record(id)
	if err != nil {
		return nil, err
	}
	if price <= 0 {
		return nil, refuse("price", say.New("sale.price", "a sale's price must be more than nothing"))
	}
	now, err := s.Market()
	if err != nil {
		return nil, err
	}
	r.Sale = &costing.Sale{Sold: orToday(on, s), Price: price}
	sale, _ := r.AsSale()
	return s.swing(r.Motor, r.Sale.Sold, func(pairs ...any) say.Sentence {
		return say.New("swing.would", "{{.Motor}}: eight times in ten {{.Now}} now, {{.Then}} with this sale.", pairs...)
	}, reading{hole: "Now", market: now}, reading{hole: "Then", sales: append(s.sales(), sale)}), nil
}

// checkTerms tells what could not be about the terms of a sale.
func (s *Shop) checkTerms(before, r costing.Record) error {
	sale := r.Sale
	switch {
	case sale.Freight < 0:
		return refuse("freight", say.New("selling.cost", "it cannot be less than nothing"))
	case sale.Money() < sale.Deposit:
		return refuse("price", say.New("selling.price.low", "the deposit and the motor taken in come to more than that"))
	case before.Sale != nil && (before.Sale.Deposit != sale.Deposit || before.Sale.Exchange != sale.Exchange):
		return refuse("price", say.New("selling.terms", "a deposit is changed at its hold, and a motor taken in with its own worth"))
	}
	return nil
}

// heldAfter is the day of a deposit that was taken after the sale it is part of, 0 when there is none.
func (s *Shop) heldAfter(r costing.Record) day.Day {
	for _, h := range r.Holds {
		if h.Outcome == costing.HoldSold && h.On > r.Sale.Sold {
			return h.On
		}
	}
	return 0
}

// moveTerms moves the hold that a motor was sold under, and the motor taken in, along with the day of sale.
func (s *Shop) moveTerms(tx *shopfile.Tx, before, r costing.Record) error {
	for _, h := range r.Holds {
		if h.Outcome == costing.HoldSold {
			h.SettledOn = r.Sale.Sold
			if err := tx.PutHold(&h); err != nil {
				return err
			}
		}
	}
	if r.Sale.Exchange.MotorID == "" {
		return nil
	}
	taken, err := s.Record(r.Sale.Exchange.MotorID)
	if err != nil {
		return err
	}
	return moveTaken(tx, taken, before.Sale.Sold, r.Sale.Sold)
}

// unsellTerms opens the hold again that a motor was sold under, and gives the motor taken in back.
func (s *Shop) unsellTerms(tx *shopfile.Tx, r costing.Record) error {
	for _, h := range r.Holds {
		if h.Outcome == costing.HoldSold {
			h.Outcome, h.SettledOn = costing.HoldOpen, 0
			if err := tx.PutHold(&h); err != nil {
				return err
			}
		}
	}
	if r.Sale.Exchange.MotorID == "" {
		return nil
	}
	return tx.DeleteRecord(r.Sale.Exchange.MotorID)
}

// mayForgetSelling refuses to forget a motor that money of a buyer or another motor hangs on.
func (s *Shop) mayForgetSelling(r costing.Record) error {
	for _, h := range r.Holds {
		if h.Deposit > 0 {
			return fmt.Errorf("remove %s: %s paid a deposit for it; remove that hold first", title(r), h.Buyer)
		}
	}
	if r.Sale != nil && r.Sale.Exchange.MotorID != "" {
		return fmt.Errorf("remove %s: a motor was taken in against it; take that sale back first", title(r))
	}
	if from, taken := s.TakenInFor(r.ID); taken {
		return fmt.Errorf("remove %s: it was taken in against %s; take that sale back first", title(r), title(from))
	}
	return nil
}

// stopInKind refuses to touch the line that a motor taken in stands on the bench with.
func (s *Shop) stopInKind(r costing.Record, lineID, verb string) error {
	for _, l := range r.Lines {
		if l.ID == lineID && lineID != "" && l.InKind {
			return fmt.Errorf("%s the line %q: it was taken in for a motor sold; change what it is worth there", verb, l.Text)
		}
	}
	return nil
}
