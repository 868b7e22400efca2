package shop

import (
	"fmt"
	"time"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// YearRows are the years that hold anything, drawn up, the latest first.
func (s *Shop) YearRows() ([]Year, error) {
	var out []Year
	for _, n := range s.Years() {
		y, err := s.Review(n)
		if err != nil {
			return nil, err
		}
		out = append(out, y)
	}
	return out, nil
}

// AnyYear tells whether anything was ever bought for the shop, sold from it or put on its shelf: price
// history alone makes no year.
func (s *Shop) AnyYear() bool {
	for _, r := range s.contents.Records {
		if r.EverBought() || len(r.Lines) > 0 {
			return true
		}
	}
	return len(s.contents.Moves) > 0
}

// YearName names the year on a list: 2026, or 2026/27 where it does not start in January.
func (s *Shop) YearName(number int) string {
	if m := s.Settings().FiscalMonth; m > 1 && m <= 12 {
		return fmt.Sprintf("%d/%02d", number, (number+1)%100)
	}
	return fmt.Sprint(number)
}

// YearMonth is what the motors and parts sold in one month of a year brought, each over its whole life.
type YearMonth struct {
	Year   int
	Month  time.Month
	Sold   int
	Sales  money.Amount // prices
	Profit money.Amount // before own time
}

// Months are the twelve months of the year, in order, those without a sale too.
func (s *Shop) Months(y Year) []YearMonth {
	from := y.Review.Period.From.Time()
	out := make([]YearMonth, 12)
	for i := range out {
		m := time.Date(from.Year(), from.Month()+time.Month(i), 1, 0, 0, 0, 0, time.UTC)
		out[i].Year, out[i].Month = m.Year(), m.Month()
	}
	for _, sold := range y.Review.Sold {
		on := sold.Sold.Time()
		i := (on.Year()-from.Year())*12 + int(on.Month()-from.Month())
		if i < 0 || i >= len(out) {
			continue
		}
		out[i].Sold++
		out[i].Sales += sold.Price
		out[i].Profit += sold.BeforeOwnTime
	}
	for _, sold := range y.Review.PiecesSold {
		on := sold.Sold.Time()
		if i := (on.Year()-from.Year())*12 + int(on.Month()-from.Month()); i >= 0 && i < len(out) {
			out[i].Sales += sold.Price
			out[i].Profit += sold.BeforeOwnTime
		}
	}
	return out
}

// YearLine is one line of a statement: its name and its figure, written out.
type YearLine struct {
	Name   say.Sentence
	Figure string
	Sum    bool // closes the lines above it
}

// statement gathers lines of money and hours.
type statement struct {
	currency money.Currency
	lines    []YearLine
}

func (t *statement) money(name say.Sentence, a money.Amount) {
	t.lines = append(t.lines, YearLine{Name: name, Figure: t.currency.Format(a)})
}

// some is a line only where there is something to tell.
func (t *statement) some(name say.Sentence, a money.Amount) {
	if a != 0 {
		t.money(name, a)
	}
}

func (t *statement) sum(name say.Sentence, a money.Amount) {
	t.lines = append(t.lines, YearLine{Name: name, Figure: t.currency.Format(a), Sum: true})
}

func (t *statement) hours(name say.Sentence, h costing.Hours) {
	t.lines = append(t.lines, YearLine{Name: name, Figure: h.String() + " h"})
}

// Earned is the statement from sales to what is left for own time.
func (s *Shop) Earned(y Year) []YearLine {
	r, t := y.Review, &statement{currency: s.currency}
	t.money(say.New("earned.sales", "Sales"), r.Sales)
	t.some(say.New("earned.commissions", "Commissions on motors of others"), r.Commissions)
	t.some(say.New("earned.freight", "Freight charged to buyers"), r.Freight)
	t.some(say.New("earned.refunds", "Refunds, whenever the motor was sold"), -r.Refunds)
	t.some(say.New("earned.tax-inside", "Tax inside prices"), -r.TaxInside)
	t.sum(say.New("earned.net", "Net sales"), r.NetSales)
	t.money(say.New("earned.cost", "Cost of sales"), -r.CostOfSales)
	gross := say.New("earned.gross", "Gross margin")
	if rate, ok := r.MarginRate(); ok {
		gross = say.New("earned.gross-rate", "Gross margin, {{.Rate}} % of net sales", "Rate", percent(rate))
	}
	t.sum(gross, r.GrossMargin)
	t.some(say.New("earned.deposits", "Deposits kept of buyers who did not come"), r.OtherIncome)
	t.money(say.New("earned.selling", "Selling"), -r.Selling)
	t.money(say.New("earned.after", "After the sale"), -r.AfterSale)
	t.some(say.New("earned.never", "Motors looked at and not bought"), -r.NeverBought)
	t.some(say.New("earned.lost", "Motors written off"), -r.WrittenOff)
	t.some(say.New("earned.down", "Motors and goods written down"), -r.WrittenDown)
	t.some(say.New("earned.used", "Shelf goods used on no motor"), -r.ShelfUsed)
	t.some(say.New("earned.missed", "Shelf goods that counts missed or found"), -r.StockDifferences)
	t.some(say.New("earned.warranty", "Provided for warranty still to run"), -r.Warranty)
	t.some(say.New("earned.bills", "Tools, and workshop bills not shared over motors"), -r.Bills)
	t.sum(say.New("earned.before", "Profit before own time"), r.BeforeOwnTime)
	t.money(say.New("earned.owntime", "Own time: {{.Hours}} h, at its rates", "Hours", r.OwnHours.String()), -r.OwnTime)
	t.sum(say.New("earned.afterown", "Profit after own time"), r.AfterOwnTime)
	if perHour, ok := r.PerOwnHour(); ok {
		t.money(say.New("earned.perhour", "Profit before own time, for each of those hours"), perHour)
	}
	t.hours(say.New("earned.worked", "Beside this: own hours worked in the period, on motors sold or not"), r.WorkedHours)
	t.some(say.New("earned.drawings", "Beside this: motors, parts and goods kept for private use, at what they cost"), r.Drawings)
	t.some(say.New("earned.taxback", "Beside this: tax on receipts that you get back"), r.TaxBack)
	t.some(say.New("earned.owedtoyou", "Beside this: core charges owed to you at the end"), r.OwedToYou)
	t.some(say.New("earned.held", "Beside this: deposits you held at the end, owed to buyers until the sale"), r.DepositsOwed)
	t.some(say.New("earned.takenin", "Beside this: motors taken in against prices, in the sales at what they are worth"), r.TakenIn)
	t.some(say.New("earned.overallowed", "Beside this: allowed for them beyond that, a discount that is off the sales already"), r.OverAllowed)
	t.some(say.New("earned.tax-added", "Beside this: tax added to prices"), r.TaxAdded)
	t.some(say.New("earned.tax-owed", "Beside this: tax on sales not paid over at the end"), r.TaxOwed)
	t.some(say.New("earned.due-owners", "Beside this: owed at the end to owners of motors sold for them"), r.DueToOwners)
	t.some(say.New("earned.warranty-owed", "Beside this: provided for warranty at the end"), r.WarrantyOwed)
	t.some(say.New("earned.put-in", "Beside this: put in by you"), r.PutIn)
	t.some(say.New("earned.to-write-down", "Beside this: stock at the end carries beyond what it will bring"), r.ToWriteDown)
	t.some(say.New("earned.to-take-back", "Beside this: of earlier write-downs that may be taken back"), r.ToTakeBack)
	t.some(say.New("earned.owedbyyou", "Beside this: receipts you had not paid at the end"), r.OwedByYou)
	return t.lines
}

// CostOfSales is the schedule of how stock turned into cost of sales, and under it where what went out of
// stock went.
func (s *Shop) CostOfSales(y Year) (in, out []YearLine) {
	c, t, u := y.Review.Schedule, &statement{currency: s.currency}, &statement{currency: s.currency}
	t.money(say.New("schedule.open-motors", "Opening stock: motors and donors"), c.OpeningMotors)
	t.money(say.New("schedule.open-shelf", "Opening stock: shelf"), c.OpeningShelf)
	t.some(say.New("schedule.open-things", "Opening stock: boats, trailers and the like"), c.OpeningThings)
	t.sum(say.New("schedule.opening", "Opening stock"), c.Opening)
	t.money(say.New("schedule.bought", "Motors bought and brought in"), c.Bought)
	t.some(say.New("schedule.things", "Boats, trailers and the like bought"), c.Things)
	t.money(say.New("schedule.parts", "Parts"), c.Parts)
	t.money(say.New("schedule.consumables", "Consumables not from the shelf"), c.Consumables)
	t.money(say.New("schedule.shelf", "Shelf goods bought"), c.ShelfBought)
	t.money(say.New("schedule.labour", "Paid labour"), c.PaidLabour)
	t.money(say.New("schedule.other", "Outside work and workshop overhead"), c.Other)
	t.money(say.New("schedule.close-motors", "Less closing stock: motors and donors"), -c.ClosingMotors)
	t.money(say.New("schedule.close-shelf", "Less closing stock: shelf"), -c.ClosingShelf)
	t.some(say.New("schedule.close-things", "Less closing stock: boats, trailers and the like"), -c.ClosingThings)
	t.sum(say.New("schedule.left", "Went out of stock"), c.Left())

	u.money(say.New("schedule.sold", "Cost of sales: the motors and parts sold"), c.CostOfSales)
	u.some(say.New("schedule.kept", "Drawings: motors, parts and goods kept for private use"), c.Drawings)
	u.some(say.New("schedule.lost", "Motors written off"), c.WrittenOff)
	u.some(say.New("schedule.down", "Motors and goods written down"), c.WrittenDown)
	u.some(say.New("schedule.used", "Shelf goods used on no motor"), c.ShelfUsed)
	u.some(say.New("schedule.expensed", "Shelf goods used after a sale or on motors not bought, counted there"), c.ShelfExpensed)
	u.some(say.New("schedule.missed", "Shelf goods that counts missed or found"), c.StockDifferences)
	u.sum(say.New("schedule.left", "Went out of stock"), c.Left())
	return t.lines, u.lines
}

// Identity says the schedule in one line that can be checked in the head.
func (s *Shop) Identity(y Year) say.Sentence {
	c, f := y.Review.Schedule, s.currency.Format
	return say.New("schedule.identity", "{{.Opening}} opening + {{.Bought}} motors bought + {{.Spent}} spent - {{.Closing}} closing = {{.Left}} went out of stock, {{.Cost}} of it as cost of sales.",
		"Opening", f(c.Opening), "Bought", f(c.Bought), "Spent", f(c.Spent()), "Closing", f(c.Closing), "Left", f(c.Left()), "Cost", f(c.CostOfSales))
}

// Bridge leads from the results of the motors sold, each over its whole life, to the profit of the year;
// steps that are nothing are left out.
func (s *Shop) Bridge(y Year) []YearLine {
	t := &statement{currency: s.currency}
	for i, step := range y.Review.Bridge {
		if i == 0 {
			t.money(step.Name, step.Amount)
			continue
		}
		t.some(step.Name, step.Amount)
	}
	t.sum(say.New("earned.before", "Profit before own time"), y.Review.BeforeOwnTime)
	return t.lines
}

// StockName says what a line of the closing stock is: a motor with where it stands, a donor, a good.
func StockName(l review.StockLine) say.Sentence {
	switch l.What {
	case review.DonorStock:
		return say.New("stock.donor", "donor")
	case review.ThingStock:
		return say.New("stock.thing", "by itself")
	case review.ShelfStock:
		return say.New("stock.shelf", "shelf")
	}
	return l.Stage.Name()
}
