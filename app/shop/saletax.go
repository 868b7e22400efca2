package shop

import (
	"skegworth/costing"
	"skegworth/valuation/say"
)

// TaxesSales tells whether there is any tax to choose on the sale of a motor: the shop has had a rule for it,
// or the sale itself says one.
func (s *Shop) TaxesSales(r costing.Record) bool {
	return len(s.contents.TaxRules) > 0 || r.Sale != nil && r.Sale.Scheme != ""
}

// SaleTaxWords says what tax there is on the sale of a motor, and why the margin scheme was not used where
// it was asked for.
func (s *Shop) SaleTaxWords(r costing.Record) say.Sentence {
	t := s.SaleTaxOf(r)
	c := s.currency
	asked := r.Sale != nil && r.Sale.Scheme == costing.TaxMargin || r.Sale != nil && r.Sale.Scheme == "" &&
		costing.TaxRuleOn(s.contents.TaxRules, r.Sale.Sold).Scheme == costing.TaxMargin
	switch {
	case t.Added > 0 && asked:
		return say.New("sale.tax.not-margin", "{{.Tax}} on top of the price: it was not bought so that the margin alone may be taxed", "Tax", c.Format(t.Added))
	case t.Added > 0:
		return say.New("sale.tax.added", "{{.Tax}} on top of the price", "Tax", c.Format(t.Added))
	case t.Inside > 0:
		return say.New("sale.tax.inside", "{{.Tax}} inside the price, on {{.Base}}", "Tax", c.Format(t.Inside), "Base", c.Format(t.Base))
	case t.Scheme == costing.TaxMargin:
		return say.New("sale.tax.no-margin", "nothing: it left no margin to tax")
	case t.Scheme == costing.TaxAdded && t.Rate == 0 && r.Sale != nil:
		return say.New("sale.tax.no-rate", "nothing: the shop had no rate on the day of the sale")
	}
	return say.New("sale.tax.none", "no tax on this sale")
}
