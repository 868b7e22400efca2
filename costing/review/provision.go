package review

import (
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Comeback tells the chance that a motor sold comes back within its whole warranty, and what that would
// cost, by what was known at the end of a day; false where nothing is known.
type Comeback func(r *costing.Record, until day.Day) (chance float64, cost money.Amount, ok bool)

// warranty provides for the warranty that is still to run (IAS 37 paras 14 and 36-40: the expected cost of
// many obligations): of each motor sold, chance x cost x the share of its warranty's days still to come. What
// it is more at the end of the period than at its start is an expense; less, it lowers them.
func (y *yearbook) warranty() {
	if y.in.Comeback == nil {
		return
	}
	for i := range y.in.Records {
		r := &y.in.Records[i]
		_, by, _ := r.Left()
		if by != costing.BySale || r.Motor.WarrantyDays <= 0 {
			continue
		}
		opening, closing := y.provided(r, y.Period.From-1), y.provided(r, y.Period.To)
		e := Entry{On: r.Sale.Sold, What: OfMotor, OfID: r.ID, ID: r.Sale.ID, Kind: say.New("entry.warranty", "warranty still to run")}
		if opening != 0 || closing != 0 {
			e.Of = r.Name()
		}
		y.post(OpeningProvision, opening, e)
		y.post(ClosingProvision, closing, e)
	}
}

func (y *yearbook) provided(r *costing.Record, until day.Day) money.Amount {
	days := r.Motor.WarrantyDays
	left := int(r.Sale.Sold) + days - int(until)
	if r.Sale.Sold > until || left <= 0 {
		return 0
	}
	chance, cost, ok := y.in.Comeback(r, until)
	if !ok {
		return 0
	}
	return money.Round(chance * float64(cost) * float64(left) / float64(days))
}
