package review

import (
	"time"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// tax books the tax on a sale: apart from revenue, and owed until it is paid over.
func (y *yearbook) tax(t costing.SaleTax, on day.Day, e Entry) {
	y.post(TaxOwed, t.Tax(), e)
	if y.Period.Has(on) {
		y.post(TaxInside, t.Inside, e)
		y.post(TaxAdded, t.Added, e)
	}
}

// taxed books the tax on the sale of a motor, whenever it was, up to the period's end.
func (y *yearbook) taxed(m *life) {
	if m.Sale == nil || m.Sale.Sold == 0 || m.Sale.Sold > y.Period.To {
		return
	}
	e := m.sale("sold")
	e.On, e.Kind = m.Sale.Sold, say.New("entry.tax", "tax")
	y.tax(costing.TaxOf(m.Record, y.in.TaxRules, y.recovered), m.Sale.Sold, e)
}

// settled takes what was passed on off what is owed.
func (y *yearbook) settled() {
	name := make(map[string]string)
	for i := range y.in.Records {
		if r := &y.in.Records[i]; r.Consigned() {
			name[r.ID] = r.Name()
		}
	}
	for _, s := range y.in.Settlements {
		if s.On > y.Period.To {
			continue
		}
		e := Entry{On: s.On, What: OfMotor, OfID: s.MotorID, Of: name[s.MotorID], ID: s.ID, Kind: say.New("entry.passed-on", "paid over"), Text: s.Note}
		to := TaxOwed
		if s.Kind == costing.OwnerPaid {
			to = DueToOwners
		}
		y.post(to, -s.Amount, e)
	}
}

// TaxPeriod is the tax of a month, a quarter or a year.
type TaxPeriod struct {
	Period  Period
	OnSales money.Amount // added to prices and inside them
	Back    money.Amount // recovered of receipts
	Due     money.Amount // OnSales - Back
}

// TaxPeriods are the stretches of so many months that the period falls into, with the tax of each: they add
// up to TaxAdded + TaxInside and to TaxBack. Months is 1, 3 or 12; the last stretch ends with the period.
func (r Review) TaxPeriods(months int) []TaxPeriod {
	if months < 1 || r.Period.To < r.Period.From {
		return nil
	}
	var out []TaxPeriod
	from := r.Period.From.Time()
	for n := 0; ; n += months {
		p := Period{From: monthOn(from, n), To: monthOn(from, n+months) - 1}
		if p.From > r.Period.To {
			break
		}
		p.To = min(p.To, r.Period.To)
		out = append(out, TaxPeriod{Period: p})
	}
	add := func(f Figure, to func(*TaxPeriod) *money.Amount) {
		for _, e := range r.postings[f] {
			for i := range out {
				if out[i].Period.Has(e.on) {
					*to(&out[i]) += e.amount
				}
			}
		}
	}
	add(TaxAdded, func(t *TaxPeriod) *money.Amount { return &t.OnSales })
	add(TaxInside, func(t *TaxPeriod) *money.Amount { return &t.OnSales })
	add(TaxBack, func(t *TaxPeriod) *money.Amount { return &t.Back })
	for i := range out {
		out[i].Due = out[i].OnSales - out[i].Back
	}
	return out
}

// monthOn is the first day so many months after a day, which is taken to the month's end where it has fewer
// days.
func monthOn(from time.Time, months int) day.Day {
	first := time.Date(from.Year(), from.Month()+time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return day.FromTime(first.AddDate(0, 0, min(from.Day(), last)-1))
}

// Commission is a motor of somebody else's that was sold in the period.
type Commission struct {
	ID, Name, Owner string
	Sold            day.Day
	Price           money.Amount // what the buyer paid
	Commission      money.Amount // of it the shop's
	Due             money.Amount // of it the owner's
	Freight         money.Amount
	SaleTax         costing.SaleTax
}

// commission books the sale of a motor that is somebody else's.
func (y *yearbook) commission(m *life) {
	if m.Sale == nil || m.Sale.Sold == 0 || m.Sale.Sold > y.Period.To {
		return
	}
	e := m.sale("sold")
	e.On = m.Sale.Sold
	y.post(DueToOwners, m.DueToOwner(), e)
	if !y.Period.Has(m.Sale.Sold) {
		return
	}
	y.post(Commissions, m.Revenue(), e)
	y.post(Freight, m.Sale.Freight, e)
	y.ForOthers = append(y.ForOthers, Commission{ID: m.ID, Name: m.name, Owner: m.Consignment.Owner, Sold: m.Sale.Sold, Price: m.Sale.Price,
		Commission: m.Revenue(), Due: m.DueToOwner(), Freight: m.Sale.Freight, SaleTax: costing.TaxOf(m.Record, y.in.TaxRules, y.recovered)})
}

// forOther is the kind that a cost on a motor of somebody else's counts as: it is a cost of earning the
// commission.
func forOther(k costing.Kind) costing.Kind {
	if g := k.Group(); g.Carried() {
		return costing.Listing
	}
	return k
}
