package shop

import (
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// SaleDue says what a sale comes to before it is booked: how a motor taken in counts, what is still to be paid
// and what is left. t is nil where no motor is taken in.
func (s *Shop) SaleDue(id string, in SaleInput, t *TakeIn) ([]say.Sentence, error) {
	in.WithSnags = true // the booking asks about them
	d, err := s.deal(id, &in)
	if err != nil {
		return nil, err
	}
	var out []say.Sentence
	if t != nil {
		v, err := s.exchanging(&d, in, *t)
		if err != nil {
			return nil, err
		}
		out = append(out, v.Words...)
	}
	f, sale := s.currency.Format, d.sale
	pairs := []any{"Due", f(sale.Due()), "Deposit", f(sale.Deposit), "Freight", f(sale.Freight)}
	switch {
	case sale.Deposit > 0 && sale.Freight > 0:
		out = append(out, say.New("due.both", "{{.Due}} is still to be paid: the deposit of {{.Deposit}} is part of the price, and the freight of {{.Freight}} comes on top.", pairs...))
	case sale.Deposit > 0:
		out = append(out, say.New("due.deposit", "{{.Due}} is still to be paid: the deposit of {{.Deposit}} is part of the price.", pairs...))
	case sale.Freight > 0:
		out = append(out, say.New("due.freight", "{{.Due}} is to be paid, the freight of {{.Freight}} with it.", pairs...))
	case t != nil:
		out = append(out, say.New("due", "{{.Due}} is to be paid in money.", pairs...))
	}
	left := sale.Price + sale.Freight - in.Fee - in.Delivery - in.Listing - d.record.Sheet(0, s.Settings().OwnRate).Total
	if left < 0 {
		return append(out, say.New("due.loss", "That is {{.Loss}} less than went into it and into selling it, your own time not counted.", "Loss", f(-left))), nil
	}
	return append(out, say.New("due.left", "That leaves {{.Left}} for your own time.", "Left", f(left))), nil
}

// SaleCosts are the kinds of cost that a sale is booked with, see [SaleInput].
var SaleCosts = []costing.Kind{costing.MarketFee, costing.Delivery, costing.Listing}

var saleCostTexts = map[costing.Kind]string{costing.MarketFee: "fee", costing.Delivery: "delivery", costing.Listing: "listing"}

// SaleCost is what selling a motor cost of one kind.
func (s *Shop) SaleCost(r costing.Record, kind costing.Kind) money.Amount {
	var sum money.Amount
	for _, l := range r.Lines {
		if l.Kind == kind {
			sum += l.Total
		}
	}
	return sum
}

// SetSaleCost puts right what selling a motor cost of one kind. Where several lines make it up, they are
// changed one by one.
func (s *Shop) SetSaleCost(id string, kind costing.Kind, amount money.Amount) error {
	r, err := s.stage(id, "change the costs of selling", costing.Sold)
	if err != nil {
		return err
	}
	var lines []costing.Line
	for _, l := range r.Lines {
		if l.Kind == kind {
			lines = append(lines, l)
		}
	}
	switch {
	case amount < 0:
		return refuse(string(kind), say.New("selling.cost", "it cannot be less than nothing"))
	case len(lines) > 1:
		return &valuation.FieldError{Field: string(kind), Why: say.New("sale.cost.several", "{{.Count}} lines make it up; change them one by one in the motor's costs", "Count", len(lines))}
	case len(lines) == 1 && amount == 0:
		return s.DeleteLine(lines[0])
	case len(lines) == 1:
		l := lines[0]
		l.Each, l.Total, l.Quantity = amount, amount, 1
		return s.SaveLine(l)
	case amount == 0:
		return nil
	}
	return s.SaveLine(costing.Line{MotorID: id, Kind: kind, On: r.Sale.Sold, Text: saleCostTexts[kind], Quantity: 1, Each: amount, Total: amount})
}

// ToClear says of a sale whose money is not known to be there what money, from whom and since when.
func (s *Shop) ToClear(r costing.Record) say.Sentence {
	sale := r.Sale
	pairs := []any{"Motor", title(r), "Due", s.currency.Format(sale.Due()), "Method", sale.Method.Name(), "Buyer", sale.Buyer, "Day", s.dayText(sale.Sold)}
	if sale.Buyer == "" {
		return say.New("toclear", "{{.Motor}}: {{.Due}} by {{.Method}}, sold on {{.Day}}", pairs...)
	}
	return say.New("toclear.buyer", "{{.Motor}}: {{.Due}} by {{.Method}} from {{.Buyer}}, sold on {{.Day}}", pairs...)
}
