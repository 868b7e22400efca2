package review

import (
	"math"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// moneyDays is money times the days that it was tied up, minor units. Whole, so that large amounts which come
// and go leave no crumb: what they come to is right as long as it fits, whatever they pass through.
type moneyDays int64

// tie notes a cost that stood in stock from a day on, up to the end of the day before it left; gone is 0
// while it is there.
func (y *yearbook) tie(a money.Amount, from, gone day.Day) {
	last := y.until
	if gone != 0 {
		last = min(last, gone-1)
	}
	if n := last - max(from, y.Period.From) + 1; n > 0 {
		y.tied += moneyDays(a) * moneyDays(n)
	}
}

// CashReturn is what a year of profit before own time is of the cash tied up in stock: profit / average
// carrying amount x 365 / days. The average is over every day of the period that is over, of motors, shelf
// and things at cost; false where nothing was tied up.
func (r Review) CashReturn() (float64, bool) {
	if r.CashTied <= 0 || r.Days <= 0 {
		return 0, false
	}
	return float64(r.BeforeOwnTime) / float64(r.CashTied) * 365 / float64(r.Days), true
}

// CashReturn of one motor: profit before own time x 365 / the sum of each cost times the days from when it
// was spent to the sale, a day at least; false where nothing was tied up.
func (m MotorResult) CashReturn() (float64, bool) {
	if m.cashDays <= 0 {
		return 0, false
	}
	return float64(m.BeforeOwnTime) * 365 / float64(m.cashDays), true
}

// cashDays is a motor's cost times the days until it was sold, a day at least for each.
func (y *yearbook) cashDays(m *life) (sum moneyDays) {
	add := func(on day.Day, a money.Amount) {
		if !m.AfterSold(on) {
			sum += moneyDays(a) * moneyDays(max(1, m.left-m.on(on)))
		}
	}
	for i := range m.Lines {
		if l := &m.Lines[i]; l.Kind.Group().Carried() {
			add(l.On, l.Total)
		}
	}
	for i := range m.Sessions {
		if w := &m.Sessions[i]; w.Paid {
			add(w.On, w.Worth(0))
		}
	}
	return sum
}

// Beside is a figure of two periods.
type Beside struct {
	Figure      Figure
	Now, Before money.Amount
}

// Change is the difference.
func (b Beside) Change() money.Amount { return b.Now - b.Before }

// Rate is the change as a share of what it was before, false where it was nothing.
func (b Beside) Rate() (float64, bool) {
	if b.Before == 0 {
		return 0, false
	}
	return float64(b.Change()) / math.Abs(float64(b.Before)), true
}

// Against sets the figures of a period beside those of another, mostly the year before, in the order of a
// report; those that are nothing in both are left out.
func (r Review) Against(before Review) []Beside {
	var out []Beside
	for _, f := range Figures {
		if b := (Beside{f, r.Figure(f), before.Figure(f)}); b.Now != 0 || b.Before != 0 {
			out = append(out, b)
		}
	}
	return out
}

// Estimate is what was thought that motors would take, beside what they took up to the sale.
type Estimate struct {
	Motors                    int           // that had an estimate
	PlannedParts, ActualParts money.Amount  // parts, consumables and outside work
	PlannedHours, ActualHours costing.Hours // own and paid
}

// estimate adds one motor sold to the estimates, where it had a plan.
func (y *yearbook) estimate(m *life) Estimate {
	plan := m.WorkPlanned()
	e := Estimate{Motors: 1, PlannedParts: money.Round(plan.Parts.Mean()), PlannedHours: costing.Hours(math.Round(plan.Hours.Mean() * 60))}
	if e.PlannedParts == 0 && e.PlannedHours == 0 {
		return Estimate{}
	}
	for i := range m.Lines {
		if l := &m.Lines[i]; l.Kind.Group().Worked() && !m.AfterSold(l.On) {
			e.ActualParts += l.Total
		}
	}
	for i := range m.Sessions {
		if w := &m.Sessions[i]; !m.AfterSold(w.On) {
			e.ActualHours += w.Time
		}
	}
	y.Estimates.Motors++
	y.Estimates.PlannedParts += e.PlannedParts
	y.Estimates.ActualParts += e.ActualParts
	y.Estimates.PlannedHours += e.PlannedHours
	y.Estimates.ActualHours += e.ActualHours
	return e
}

// Trips are the trips dated in the period: to look at motors and to fetch them.
type Trips struct {
	Count     int
	Cost      money.Amount
	Carried   money.Amount // by motors that were bought: in their cost
	NotBought money.Amount // to motors that were not: an expense
}
