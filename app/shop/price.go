package shop

import (
	"sort"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// ProspectRow is one prospect in the list.
type ProspectRow struct {
	Record costing.Record
	Ready  bool // enough is known for an answer
	Thin   bool // at no price does it meet the shop's lines
	Top    money.Amount
	Room   money.Amount // the top price less what the seller asks, when both are known
}

// Prospects are the motors that may be bought, the most promising first, and after them, newest first,
// those that were passed over.
func (s *Shop) Prospects() []ProspectRow {
	var rows []ProspectRow
	for _, r := range s.Records(costing.Prospect, costing.Passed) {
		row := ProspectRow{Record: r}
		if v, err := s.Appraise(r.ID); err == nil && v.Ready {
			row.Ready, row.Thin, row.Top = true, v.Offer.TooThin, v.Top
			if r.SellerAsks > 0 {
				row.Room = v.Top - r.SellerAsks
			}
		}
		rows = append(rows, row)
	}
	sort.SliceStable(rows, func(i, j int) bool {
		a, b := rows[i], rows[j]
		if passed := a.Record.Stage == costing.Passed; passed != (b.Record.Stage == costing.Passed) {
			return !passed
		}
		if a.Room != b.Room && a.Record.Stage != costing.Passed {
			return a.Room > b.Room
		}
		return a.Record.SeenOn > b.Record.SeenOn
	})
	return rows
}

// AtPrice says what paying a price would come to.
func (s *Shop) AtPrice(v Verdict, price money.Amount) say.Sentence {
	o := v.Offer.At(price)
	c := s.currency
	perHour, ok := o.PerHour()
	if !ok {
		return say.New("offer.at", "At {{.Price}}: {{.Profit}} before own time, eight times in ten {{.Low}} to {{.High}}; it loses money {{.Chance}}.",
			"Price", c.Whole(price), "Profit", c.Whole(o.BeforeOwnTime), "Low", c.Whole(o.Low), "High", c.Whole(o.High), "Chance", offer.Chance(o.Loss))
	}
	return say.New("offer.athours", "At {{.Price}}: {{.Profit}} before own time, eight times in ten {{.Low}} to {{.High}}, {{.PerHour}} per hour of yours; it loses money {{.Chance}}.",
		"Price", c.Whole(price), "Profit", c.Whole(o.BeforeOwnTime), "Low", c.Whole(o.Low), "High", c.Whole(o.High),
		"PerHour", c.Format(perHour), "Chance", offer.Chance(o.Loss))
}

// Curve is what each price up to a little beyond the interesting ones would come to.
func (s *Shop) Curve(v Verdict) []offer.Outcome {
	most := max(v.Top*3/2, v.Record.SellerAsks*5/4, v.Offer.Resale/2, s.currency.PerUnit()*100)
	return v.Offer.Curve(0, s.currency.Floor(most), 61)
}

// DateOrder is how the shop writes its days: "ymd", "dmy" or "mdy".
func (s *Shop) DateOrder() string {
	switch order := s.Preference("dates"); order {
	case "dmy", "mdy":
		return order
	}
	return "ymd"
}

// FeeOn is what a marketplace keeps of a price, at the shop's rate.
func (s *Shop) FeeOn(price money.Amount) money.Amount { return price.Times(s.Settings().FeeRate) }
