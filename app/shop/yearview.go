package shop

import (
	"fmt"
	"time"

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

	Of   review.Figure  // the figure of the year that it is, "" for none
	Less bool           // it is taken off here
	Made []review.Entry // what makes it, where it is no figure of the year
	Rate bool           // it is the profit for an own hour
	Time bool           // it is the own hours worked in the period
}

// Opens tells whether there is something to see behind the line; see [Shop.Behind].
func (l YearLine) Opens() bool { return l.Of != "" || len(l.Made) > 0 || l.Rate || l.Time }

// statement gathers lines of money and hours.
type statement struct {
	currency money.Currency
	review   *review.Review
	lines    []YearLine
}

// figure is a line of a figure of the year.
func (t *statement) figure(name say.Sentence, f review.Figure) {
	t.lines = append(t.lines, YearLine{Name: name, Figure: t.currency.Format(t.review.Figure(f)), Of: f})
}

// less is a line of a figure that is taken off.
func (t *statement) less(name say.Sentence, f review.Figure) {
	t.lines = append(t.lines, YearLine{Name: name, Figure: t.currency.Format(-t.review.Figure(f)), Of: f, Less: true})
}

// some is a line only where there is something to tell.
func (t *statement) some(name say.Sentence, f review.Figure) {
	if t.review.Figure(f) != 0 {
		t.figure(name, f)
	}
}

// someLess is [statement.less] only where there is something to tell.
func (t *statement) someLess(name say.Sentence, f review.Figure) {
	if t.review.Figure(f) != 0 {
		t.less(name, f)
	}
}

// made is a line of what is no figure of the year, only where there is something to tell.
func (t *statement) made(name say.Sentence, a money.Amount, of []review.Entry) {
	if a != 0 {
		t.lines = append(t.lines, YearLine{Name: name, Figure: t.currency.Format(a), Made: of})
	}
}

func (t *statement) sum(name say.Sentence, f review.Figure) {
	t.figure(name, f)
	t.lines[len(t.lines)-1].Sum = true
}

// Earned is the statement from sales to what is left for own time.
func (s *Shop) Earned(y Year) []YearLine {
	r := y.Review
	t := &statement{currency: s.currency, review: &r}
	t.figure(say.New("earned.sales", "Sales"), review.Sales)
	t.some(say.New("earned.commissions", "Commissions on motors of others"), review.Commissions)
	t.some(say.New("earned.freight", "Freight charged to buyers"), review.Freight)
	t.someLess(say.New("earned.refunds", "Refunds, whenever the motor was sold"), review.Refunds)
	t.someLess(say.New("earned.tax-inside", "Tax inside prices"), review.TaxInside)
	t.sum(say.New("earned.net", "Net sales"), review.NetSales)
	t.less(say.New("earned.cost", "Cost of sales"), review.CostOfSales)
	gross := say.New("earned.gross", "Gross margin")
	if rate, ok := r.MarginRate(); ok {
		gross = say.New("earned.gross-rate", "Gross margin, {{.Rate}} % of net sales", "Rate", percent(rate))
	}
	t.sum(gross, review.GrossMargin)
	t.some(say.New("earned.deposits", "Deposits kept of buyers who did not come"), review.OtherIncome)
	t.less(say.New("earned.selling", "Selling"), review.Selling)
	t.less(say.New("earned.after", "After the sale"), review.AfterSale)
	t.someLess(say.New("earned.never", "Motors looked at and not bought"), review.NeverBought)
	t.someLess(say.New("earned.lost", "Motors written off"), review.WrittenOff)
	t.someLess(say.New("earned.down", "Motors and goods written down"), review.WrittenDown)
	t.someLess(say.New("earned.used", "Shelf goods used on no motor"), review.ShelfUsed)
	t.someLess(say.New("earned.missed", "Shelf goods that counts missed or found"), review.StockDifferences)
	t.someLess(say.New("earned.warranty", "Provided for warranty still to run"), review.Warranty)
	t.someLess(say.New("earned.bills", "Tools, and workshop bills not shared over motors"), review.Bills)
	t.sum(say.New("earned.before", "Profit before own time"), review.BeforeOwnTime)
	t.less(say.New("earned.owntime", "Own time: {{.Hours}} h, at its rates", "Hours", r.OwnHours.String()), review.OwnTime)
	t.sum(say.New("earned.afterown", "Profit after own time"), review.AfterOwnTime)
	if perHour, ok := r.PerOwnHour(); ok {
		t.lines = append(t.lines, YearLine{Name: say.New("earned.perhour", "Profit before own time, for each of those hours"), Figure: s.currency.Format(perHour), Rate: true})
	}
	t.lines = append(t.lines, YearLine{Name: say.New("earned.worked", "Beside this: own hours worked in the period, on motors sold or not"),
		Figure: r.WorkedHours.String() + " h", Time: true})
	t.some(say.New("earned.drawings", "Beside this: motors, parts and goods kept for private use, at what they cost"), review.Drawings)
	t.some(say.New("earned.taxback", "Beside this: tax on receipts that you get back"), review.TaxBack)
	t.some(say.New("earned.owedtoyou", "Beside this: core charges owed to you at the end"), review.OwedToYou)
	t.some(say.New("earned.held", "Beside this: deposits you held at the end, owed to buyers until the sale"), review.DepositsOwed)
	t.made(say.New("earned.takenin", "Beside this: motors taken in against prices, in the sales at what they are worth"), r.TakenIn, s.entriesTakenIn(r))
	t.made(say.New("earned.overallowed", "Beside this: allowed for them beyond that, a discount that is off the sales already"), r.OverAllowed, s.entriesOverAllowed(r))
	t.some(say.New("earned.tax-added", "Beside this: tax added to prices"), review.TaxAdded)
	t.some(say.New("earned.tax-owed", "Beside this: tax on sales not paid over at the end"), review.TaxOwed)
	t.some(say.New("earned.due-owners", "Beside this: owed at the end to owners of motors sold for them"), review.DueToOwners)
	t.some(say.New("earned.warranty-owed", "Beside this: provided for warranty at the end"), review.ClosingProvision)
	t.some(say.New("earned.put-in", "Beside this: put in by you"), review.PutIn)
	t.made(say.New("earned.to-write-down", "Beside this: stock at the end carries beyond what it will bring"), r.ToWriteDown, s.entriesToWriteDown(r))
	t.made(say.New("earned.to-take-back", "Beside this: of earlier write-downs that may be taken back"), r.ToTakeBack, s.entriesToTakeBack(r))
	t.some(say.New("earned.owedbyyou", "Beside this: receipts you had not paid at the end"), review.OwedByYou)
	return t.lines
}

// CostOfSales is the schedule of how stock turned into cost of sales, and under it where what went out of
// stock went.
func (s *Shop) CostOfSales(y Year) (in, out []YearLine) {
	t, u := &statement{currency: s.currency, review: &y.Review}, &statement{currency: s.currency, review: &y.Review}
	t.figure(say.New("schedule.open-motors", "Opening stock: motors and donors"), review.OpeningMotors)
	t.figure(say.New("schedule.open-shelf", "Opening stock: shelf"), review.OpeningShelf)
	t.some(say.New("schedule.open-things", "Opening stock: boats, trailers and the like"), review.OpeningThings)
	t.sum(say.New("schedule.opening", "Opening stock"), review.Opening)
	t.figure(say.New("schedule.bought", "Motors bought and brought in"), review.Bought)
	t.some(say.New("schedule.things", "Boats, trailers and the like bought"), review.Things)
	t.figure(say.New("schedule.parts", "Parts"), review.Parts)
	t.figure(say.New("schedule.consumables", "Consumables not from the shelf"), review.Consumables)
	t.figure(say.New("schedule.shelf", "Shelf goods bought"), review.ShelfBought)
	t.figure(say.New("schedule.labour", "Paid labour"), review.PaidLabour)
	t.figure(say.New("schedule.other", "Outside work and workshop overhead"), review.Other)
	t.less(say.New("schedule.close-motors", "Less closing stock: motors and donors"), review.ClosingMotors)
	t.less(say.New("schedule.close-shelf", "Less closing stock: shelf"), review.ClosingShelf)
	t.someLess(say.New("schedule.close-things", "Less closing stock: boats, trailers and the like"), review.ClosingThings)
	t.sum(say.New("schedule.left", "Went out of stock"), review.Left)

	u.figure(say.New("schedule.sold", "Cost of sales: the motors and parts sold"), review.CostOfSales)
	u.some(say.New("schedule.kept", "Drawings: motors, parts and goods kept for private use"), review.StockDrawings)
	u.some(say.New("schedule.lost", "Motors written off"), review.WrittenOff)
	u.some(say.New("schedule.down", "Motors and goods written down"), review.WrittenDown)
	u.some(say.New("schedule.used", "Shelf goods used on no motor"), review.ShelfUsed)
	u.some(say.New("schedule.expensed", "Shelf goods used after a sale or on motors not bought, counted there"), review.ShelfExpensed)
	u.some(say.New("schedule.missed", "Shelf goods that counts missed or found"), review.StockDifferences)
	u.sum(say.New("schedule.left", "Went out of stock"), review.Left)
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
	t := &statement{currency: s.currency, review: &y.Review}
	for i, step := range y.Review.Bridge {
		if i == 0 || step.Amount != 0 {
			t.lines = append(t.lines, s.bridgeLine(y.Review, step))
		}
	}
	t.sum(say.New("earned.before", "Profit before own time"), review.BeforeOwnTime)
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
