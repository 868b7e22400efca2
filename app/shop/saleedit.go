package shop

import (
	"strings"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// SetSaleFact changes one fact about a motor that was sold, from text as people write it; see
// [valuation.Motor.SetIn]. The power is in the shop's own unit. The error names the field.
func (s *Shop) SetSaleFact(id, field, text string) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	m := r.Motor
	if err := m.SetIn(field, text, s.Settings().PowerUnit == "kW"); err != nil {
		return err
	}
	return s.ChangeSale(id, field, func(r *costing.Record) { r.Motor = m })
}

// SetSalePrice changes what a motor was sold for, from text as people write amounts.
func (s *Shop) SetSalePrice(id, text string) error {
	a, err := s.currency.Parse(text)
	if err != nil {
		return refuse("price", say.New("sale.price.form", "\"{{.Given}}\" is not an amount; write it such as {{.Example}}",
			"Given", strings.TrimSpace(text), "Example", s.currency.Format(1480*s.currency.PerUnit())))
	}
	return s.ChangeSale(id, "price", func(r *costing.Record) { r.Sale.Price = a })
}

// SetSaleDay changes when a motor was sold.
func (s *Shop) SetSaleDay(id string, on day.Day) error {
	return s.ChangeSale(id, "sold", func(r *costing.Record) { r.Sale.Sold = on })
}
