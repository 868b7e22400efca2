package shop

import (
	"errors"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/say"
)

// refuse is an error that names the field it is about.
func refuse(field string, why say.Sentence) error {
	return &valuation.FieldError{Field: field, Why: why}
}

// checkSale tells what could not be about a sale. What was already so before the change is let pass, so
// that a list taken in from elsewhere can be mended one cell at a time.
func (s *Shop) checkSale(before, r costing.Record) error {
	if err := r.Motor.Check(); err != nil {
		return err
	}
	switch {
	case r.Sale.Price <= 0:
		return refuse("price", say.New("sale.price", "a sale's price must be more than nothing"))
	case r.Sale.Sold == 0:
		return refuse("sold", say.New("sale.sold", "a sale needs its day"))
	case r.Sale.LeftOut && strings.TrimSpace(r.Sale.LeftOutWhy) == "":
		return refuse("reason", say.New("sale.reason", "say why this sale is left out"))
	}
	if err := blanked(before.Motor, r.Motor); err != nil {
		return err
	}
	if err := s.checkTerms(before, r); err != nil {
		return err
	}
	if r.Ask < 0 {
		return refuse("asked", say.New("sale.asked", "an asking price cannot be less than nothing"))
	}
	if before.Sale != nil && r.Sale.Sold == before.Sale.Sold && r.Motor.Year == before.Motor.Year && r.ListedOn == before.ListedOn {
		return nil
	}
	switch {
	case r.Sale.Sold > s.Today()+1: // the list may come from across the date line
		return refuse("sold", say.New("sale.future", "{{.Day}} is in the future", "Day", r.Sale.Sold.String()))
	case r.Stage == costing.Sold && r.Sale.Sold < r.BoughtOn:
		return refuse("sold", say.New("sale.before-bought", "it was bought on {{.Bought}} and cannot be sold before", "Bought", r.BoughtOn.String()))
	case s.heldAfter(r) != 0:
		return refuse("sold", say.New("sale.deposit-day", "its deposit was taken on {{.Day}}, and it cannot be sold before", "Day", s.dayText(s.heldAfter(r))))
	case r.ListedOn > r.Sale.Sold:
		return refuse("listed", say.New("sale.listed", "it was sold on {{.Sold}} and cannot be offered after", "Sold", r.Sale.Sold.String()))
	}
	return r.Motor.CheckOn(r.Sale.Sold)
}

// blanked tells whether a fact that nothing can be learned without was taken away.
func blanked(before, now valuation.Motor) error {
	var lacks *valuation.FieldError
	if err := now.Needed(); errors.As(err, &lacks) && lacks.Field != "state" && before.Text(lacks.Field) != "" {
		return err
	}
	return nil
}

// checkNew tells what a past sale entered by hand lacks. The state alone of the four facts that matter
// most may be missing.
func (s *Shop) checkNew(r costing.Record) error {
	if r.Sale.Sold == 0 {
		return refuse("sold", say.New("sale.sold", "a sale needs its day"))
	}
	if r.Sale.Price <= 0 {
		return refuse("price", say.New("sale.price", "a sale's price must be more than nothing"))
	}
	var lacks *valuation.FieldError
	if err := r.Motor.Needed(); errors.As(err, &lacks) && lacks.Field != "state" {
		return err
	}
	return s.checkSale(costing.Record{}, r)
}

// withSale tells whether a line was booked together with the sale: a fee or a delivery on its day.
func withSale(r costing.Record, l costing.Line) bool {
	return r.Sale != nil && l.Kind.Group() == costing.Selling && l.On == r.Sale.Sold
}

// moveSelling moves the lines booked with a sale along with its day, so that taking the sale back still
// finds them, and the hold and the motor taken in that go with it.
func (s *Shop) moveSelling(tx *shopfile.Tx, before, r costing.Record) error {
	if before.Sale.Sold == r.Sale.Sold {
		return nil
	}
	for _, l := range before.Lines {
		if withSale(before, l) {
			l.On = r.Sale.Sold
			if err := tx.PutLine(&l); err != nil {
				return err
			}
		}
	}
	return s.moveTerms(tx, before, r)
}
