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

// TakeIn is a motor that a buyer gives against the price.
type TakeIn struct {
	Motor   valuation.Motor // at least power, year, stroke and state
	Allowed money.Amount    // what the buyer is given for it
	Worth   money.Amount    // what it is fairly worth; 0 takes the middle of the shop's own band for it
	Note    string
}

// ExchangeView is what a part exchange comes to.
type ExchangeView struct {
	Band     valuation.Band // of the motor taken in, as it stands
	Exchange costing.Exchange
	Price    money.Amount // for the history and the year: the money and the fair value
	Money    money.Amount // that the buyer pays, a deposit included
	Words    []say.Sentence
}

// Exchanging works out a part exchange; nothing is written down. The price of the sale is the one agreed.
func (s *Shop) Exchanging(id string, in SaleInput, t TakeIn) (ExchangeView, error) {
	d, err := s.deal(id, &in)
	if err != nil {
		return ExchangeView{}, err
	}
	return s.exchanging(&d, in, t)
}

func (s *Shop) exchanging(d *deal, in SaleInput, t TakeIn) (ExchangeView, error) {
	var v ExchangeView
	if err := t.Motor.Check(); err != nil {
		return v, err
	}
	if err := t.Motor.Needed(); err != nil {
		return v, err
	}
	var err error
	if v.Band, err = s.Worth(t.Motor, in.On); err != nil {
		return v, err
	}
	v.Exchange = costing.Exchange{Allowed: t.Allowed, Value: t.Worth}
	guessed := t.Worth == 0
	if guessed {
		v.Exchange.Value = s.currency.Floor(v.Band.Median())
	}
	switch {
	case t.Allowed <= 0:
		return v, refuse("allowed", say.New("exchange.allowed", "say what the buyer is given for it"))
	case v.Exchange.Value <= 0:
		return v, refuse("worth", say.New("exchange.worth", "say what it is fairly worth; it must be more than nothing"))
	case t.Allowed > in.Price:
		return v, refuse("allowed", say.New("exchange.more", "it is more than the price; buy that motor by itself instead"))
	case d.hold != nil && d.hold.Deposit > in.Price-t.Allowed:
		return v, refuse("allowed", say.New("exchange.deposit", "with the deposit of {{.Deposit}} it is more than the price; give some of that back first", "Deposit", s.currency.Format(d.hold.Deposit)))
	}
	v.Money = in.Price - t.Allowed
	v.Price = v.Money + v.Exchange.Value
	d.sale.Price, d.sale.Exchange = v.Price, v.Exchange
	v.Words = s.exchangeWords(d.sale, t.Motor.Name())
	if guessed {
		v.Words = append(v.Words, say.New("exchange.guess", "What it is worth is the middle of your own band for such a motor as it stands: {{.Band}}", "Band", s.BandSentence(v.Band)))
	}
	return v, nil
}

// exchangeWords says how a price was paid with a motor.
func (s *Shop) exchangeWords(sale costing.Sale, taken string) []say.Sentence {
	f := s.currency.Format
	x := sale.Exchange
	pairs := []any{"Agreed", f(sale.Agreed()), "Money", f(sale.Money()), "Motor", taken, "Allowed", f(x.Allowed), "Worth", f(x.Value), "Price", f(sale.Price)}
	out := []say.Sentence{say.New("exchange.paid", "Agreed {{.Agreed}}: {{.Money}} in money, and {{.Motor}} allowed at {{.Allowed}}.", pairs...)}
	switch over := x.Over(); {
	case over > 0:
		out = append(out, say.New("exchange.over", "It is worth {{.Worth}}, so {{.Over}} of that is a discount: the sale counts at {{.Price}}, and the motor stands on the bench at {{.Worth}}.",
			append(pairs, "Over", f(over))...))
	case over < 0:
		out = append(out, say.New("exchange.under", "It is worth {{.Worth}}, {{.Under}} more than was allowed: the sale counts at {{.Price}}, and the motor stands on the bench at {{.Worth}}.",
			append(pairs, "Under", f(-over))...))
	default:
		out = append(out, say.New("exchange.even", "That is what it is worth: the sale counts at {{.Price}}, and the motor stands on the bench at {{.Worth}}.", pairs...))
	}
	return out
}

// SellInExchange sells a motor for money and another motor, which comes to the bench at what it is fairly
// worth. It returns the id of that motor. One undo takes all of it back; see [Shop.Sell] for what is refused.
func (s *Shop) SellInExchange(id string, in SaleInput, t TakeIn) (takenID string, err error) {
	d, err := s.deal(id, &in)
	if err != nil {
		return "", err
	}
	if _, err := s.exchanging(&d, in, t); err != nil {
		return "", err
	}
	taken := costing.Record{ID: shopfile.NewID(), Stage: costing.Bench, Motor: t.Motor, SeenOn: in.On, BoughtOn: in.On, Seller: in.Buyer,
		Source: "part exchange", Note: t.Note}
	return taken.ID, s.book(d, in, &taken)
}

// putTaken brings a motor taken in to the bench, at its fair value.
func putTaken(tx *shopfile.Tx, taken *costing.Record, sale *costing.Sale) error {
	if err := tx.PutRecord(taken); err != nil {
		return err
	}
	sale.Exchange.MotorID = taken.ID
	worth := sale.Exchange.Value
	return tx.PutLine(&costing.Line{MotorID: taken.ID, Kind: costing.Purchase, On: sale.Sold, Text: "part exchange", Quantity: 1, Each: worth, Total: worth,
		Supplier: sale.Buyer, InKind: true})
}

// moveTaken moves the day on which a motor was taken in.
func moveTaken(tx *shopfile.Tx, taken costing.Record, from, to day.Day) error {
	if taken.BoughtOn == from {
		taken.BoughtOn = to
	}
	if taken.SeenOn == from {
		taken.SeenOn = to
	}
	for _, l := range taken.Lines {
		if l.InKind {
			l.On = to
			if err := tx.PutLine(&l); err != nil {
				return err
			}
		}
	}
	return tx.PutRecord(&taken)
}

// TakenInFor is the motor that was sold against one taken in, and false where it was not taken in.
func (s *Shop) TakenInFor(takenID string) (costing.Record, bool) {
	for _, r := range s.contents.Records {
		if r.Sale != nil && r.Sale.Exchange.MotorID == takenID {
			return r, true
		}
	}
	return costing.Record{}, false
}

// ChangeExchange puts right what was allowed for a motor taken in and what it is fairly worth. The money
// stays as it was paid: the price of the sale and the cost of the motor follow what it is worth.
func (s *Shop) ChangeExchange(id string, allowed, worth money.Amount) error {
	r, err := s.stage(id, "change the part exchange of", costing.Sold)
	if err != nil {
		return err
	}
	if r.Sale == nil || r.Sale.Exchange.MotorID == "" {
		return fmt.Errorf("change the part exchange of %s: no motor was taken in against it", title(r))
	}
	switch {
	case allowed <= 0:
		return refuse("allowed", say.New("exchange.allowed", "say what the buyer is given for it"))
	case worth <= 0:
		return refuse("worth", say.New("exchange.worth", "say what it is fairly worth; it must be more than nothing"))
	}
	taken, err := s.Record(r.Sale.Exchange.MotorID)
	if err != nil {
		return err
	}
	sale := *r.Sale
	sale.Price = sale.Money() + worth
	sale.Exchange.Allowed, sale.Exchange.Value = allowed, worth
	what := say.New("undo.exchange", "part exchange for {{.Motor}}", "Motor", title(r))
	return s.write(what, "", "", func(tx *shopfile.Tx) error {
		for _, l := range taken.Lines {
			if l.InKind {
				l.Each, l.Total = worth, worth
				if err := tx.PutLine(&l); err != nil {
					return err
				}
			}
		}
		return tx.PutSale(id, &sale)
	})
}

// mayGiveBack refuses to take a sale back when the motor taken in against it is no longer as it came.
func (s *Shop) mayGiveBack(r costing.Record) error {
	if r.Sale == nil || r.Sale.Exchange.MotorID == "" {
		return nil
	}
	taken, err := s.Record(r.Sale.Exchange.MotorID)
	if err != nil {
		return err
	}
	touched := taken.Stage != costing.Bench || len(taken.Lines) != 1 || len(taken.Sessions)+len(taken.Bids)+len(taken.Holds) > 0 || taken.Sale != nil
	for _, p := range s.contents.Pieces {
		touched = touched || p.DonorID == taken.ID || p.MotorID == taken.ID
	}
	for _, m := range s.contents.Moves {
		touched = touched || m.MotorID == taken.ID
	}
	if touched || s.contents.Clock.MotorID == taken.ID {
		return fmt.Errorf("take back the sale of %s: %s was taken in against it and has work, costs or a sale of its own by now; take those back first", title(r), title(taken))
	}
	return nil
}
