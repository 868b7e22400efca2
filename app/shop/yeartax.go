package shop

import (
	"errors"
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// TaxRules say how the shop's sales are taxed, from which day on, the earliest first.
func (s *Shop) TaxRules() []costing.TaxRule {
	return append([]costing.TaxRule(nil), s.contents.TaxRules...)
}

// SaveTaxRule keeps how sales are taxed from a day on, at the shop's own rate: 0.2 is twenty per cent. A rule
// of the same day takes the other's place.
func (s *Shop) SaveTaxRule(r costing.TaxRule) error {
	switch {
	case r.From == 0:
		return errors.New("from: say the day it starts on")
	case r.Scheme == costing.TaxNone:
		r.Rate = 0
	case r.Scheme != costing.TaxAdded && r.Scheme != costing.TaxMargin:
		return errors.New("tax: choose none, added to the price, or on the margin")
	case !(r.Rate > 0 && r.Rate <= 1):
		return errors.New("rate: write it as a share of the price above 0 and up to 100 %")
	}
	for _, other := range s.contents.TaxRules {
		if r.ID == "" && other.From == r.From {
			r.ID, r.Version = other.ID, other.Version
		}
	}
	return s.write(say.New("undo.tax-rule", "tax on sales from {{.Day}}", "Day", s.dayText(r.From)), "", "",
		func(tx *shopfile.Tx) error { return tx.PutTaxRule(&r) })
}

// DeleteTaxRule removes a rule: the one before it then goes on.
func (s *Shop) DeleteTaxRule(r costing.TaxRule) error {
	return s.write(say.New("undo.tax-rule", "tax on sales from {{.Day}}", "Day", s.dayText(r.From)), "", "",
		func(tx *shopfile.Tx) error { return tx.DeleteTaxRule(r.ID) })
}

// WithoutTax takes the tax out of a price that was typed with it inside, by the rule of a day: what is left
// is the price to write down, where tax is added at sale. By the other rules a price is what the buyer pays.
func (s *Shop) WithoutTax(price money.Amount, on day.Day) (net, tax money.Amount) {
	rule := costing.TaxRuleOn(s.contents.TaxRules, on)
	if rule.Scheme != costing.TaxAdded {
		return price, 0
	}
	tax = costing.TaxInside(price, rule.Rate)
	return price - tax, tax
}

// SaleTaxOf is the tax on the sale of a motor; on none that was not sold.
func (s *Shop) SaleTaxOf(r costing.Record) costing.SaleTax {
	return costing.TaxOf(&r, s.contents.TaxRules, costing.RecoveredOn(s.contents.Items))
}

// SetSaleScheme says how one sale is taxed; "" is as the shop's sales of that day are.
func (s *Shop) SetSaleScheme(id string, scheme costing.TaxScheme) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	if r.Sale == nil {
		return fmt.Errorf("tax: %s has not been sold", title(r))
	}
	sale := *r.Sale
	sale.Scheme = scheme
	return s.write(say.New("undo.sale-tax", "tax on the sale of {{.Motor}}", "Motor", title(r)), "", id,
		func(tx *shopfile.Tx) error { return tx.PutSale(id, &sale) })
}

// SetMarginGoods says whether a motor was bought so that the margin scheme may be used for it: from somebody
// who charged no tax on it. "" leaves it to the receipt: unless tax on the purchase is recovered.
func (s *Shop) SetMarginGoods(id string, a valuation.Answer) error {
	return s.Change(id, "margin", func(r *costing.Record) { r.Margin = a })
}

// PassOn writes down money passed on: tax on sales, or what the owner of a motor that was sold for him is
// due.
func (s *Shop) PassOn(p costing.Settlement) error {
	p.Note = strings.TrimSpace(p.Note)
	p.On = orToday(p.On, s)
	if p.Amount == 0 || p.Amount > costing.MostPaid || p.Amount < -costing.MostPaid {
		return errors.New("amount: write what was paid, and not that much")
	}
	if p.On > s.Today() {
		return fmt.Errorf("day: %s is still to come", s.dayText(p.On))
	}
	label := say.New("undo.tax-paid", "tax paid over")
	if p.Kind == costing.OwnerPaid {
		r, err := s.Record(p.MotorID)
		if err != nil {
			return err
		}
		if due := s.DueToOwner(r); p.Amount > due {
			return fmt.Errorf("amount: %s is due to %s for %s", s.currency.Format(due), r.Consignment.Owner, title(r))
		}
		label = say.New("undo.owner-paid", "money passed on for {{.Motor}}", "Motor", title(r))
	} else if p.Kind != costing.TaxPaid || p.MotorID != "" {
		return errors.New("to: say whether it went to the tax office or to the owner of a motor")
	}
	return s.write(label, "", "", func(tx *shopfile.Tx) error { return tx.PutSettlement(&p) })
}

// Settlements are all money passed on, the earliest first.
func (s *Shop) Settlements() []costing.Settlement {
	return append([]costing.Settlement(nil), s.contents.Settlements...)
}

// DeleteSettlement removes money passed on that was entered by mistake.
func (s *Shop) DeleteSettlement(p costing.Settlement) error {
	return s.write(say.New("undo.passed-on", "money passed on"), "", "", func(tx *shopfile.Tx) error { return tx.DeleteSettlement(p.ID) })
}
