package shop

import (
	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/paper"
	"skegworth/valuation/say"
)

// prospectPage is what to pay for a motor, on one page.
func (s *Shop) prospectPage(r costing.Record) (paper.Page, error) {
	v, err := s.Appraise(r.ID)
	if err != nil {
		return nil, err
	}
	settings := s.Settings()
	p := paper.Prospect{Record: r, PowerUnit: settings.PowerUnit, Pressure: settings.Pressure, Answer: v.Answer, Limit: v.Limit,
		Worth: v.Worth, Ready: v.Ready, Warnings: v.Warnings, Notes: v.Notes}
	before, _ := offer.TrialsFor(r.Motor)
	for _, t := range before {
		if c, ok := r.CheckOf(t, costing.Before); !ok || c.Blank() {
			p.Unmade = append(p.Unmade, t)
		}
	}
	if !v.Ready {
		return p, nil
	}
	p.Band, p.Top, p.Thin, p.At = v.Resale, v.Top, v.Offer.TooThin, v.Best.At.Price
	p.SoldAs = say.New("page.sold-as", "sold as {{.State}} on about {{.Day}}", "State", v.Sold.State.Label(), "Day", v.SoldOn.String())
	for _, w := range v.Ways {
		row := paper.Way{Name: w.Exit.Name(), Best: w.Best, Low: w.Low, High: w.High, Costs: w.Cost(), Hours: w.Answer.Offer.Hours,
			Profit: w.At.BeforeOwnTime, Loss: offer.Chance(w.At.Loss), Days: w.Days, Top: max(0, s.currency.Floor(w.Answer.Offer.Top)), Thin: w.Answer.Offer.TooThin}
		row.PerHour, row.PerHourKnown = w.At.PerHour()
		p.Ways = append(p.Ways, row)
	}
	bars, err := s.HingeBars(v)
	if err != nil {
		return nil, err
	}
	for _, b := range bars {
		p.Hinges = append(p.Hinges, paper.Hinge{Name: b.Name, Low: b.Low, High: b.High})
	}
	return p, nil
}
