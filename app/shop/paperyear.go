package shop

import (
	"fmt"

	"skegworth/data/paper"
)

// schedulePage is the year's schedule of cost of sales.
func (s *Shop) schedulePage(year int) (paper.Page, error) {
	y, err := s.Review(year)
	if err != nil {
		return nil, err
	}
	lines := func(from []YearLine) []paper.Line {
		out := make([]paper.Line, len(from))
		for i, l := range from {
			out[i] = paper.Line{Name: l.Name, Figure: l.Figure, Sum: l.Sum}
		}
		return out
	}
	in, out := s.CostOfSales(y)
	p := paper.Schedule{Year: s.YearName(year), Period: y.Review.Period.String(), Answer: y.Answer, In: lines(in), Out: lines(out), Identity: s.Identity(y),
		Earned: lines(s.Earned(y)), Bridge: lines(s.Bridge(y)), Warnings: y.Review.Warnings, Notes: y.Review.Notes, Disclaimer: y.Review.Disclaimer}
	for _, m := range s.Months(y) {
		p.Months = append(p.Months, paper.Month{Name: fmt.Sprintf("%d-%02d", m.Year, m.Month), Sold: fmt.Sprint(m.Sold),
			Sales: s.currency.Format(m.Sales), Profit: s.currency.Format(m.Profit)})
	}
	for _, m := range y.Review.Sold {
		row := paper.SoldMotor{Name: m.Name, Day: m.Sold.String(), NetSale: s.currency.Format(m.NetSale), Costs: s.currency.Format(m.Costs),
			Profit: s.currency.Format(m.BeforeOwnTime), Hours: m.OwnHours.String(), PerHour: "–"}
		if a, ok := m.PerOwnHour(); ok {
			row.PerHour = s.currency.Format(a)
		}
		p.Motors = append(p.Motors, row)
	}
	return p, nil
}
