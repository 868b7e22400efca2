package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Result is what a sold motor came to. It is always given three ways: before own time, after own time,
// and per own hour.
type Result struct {
	Price    money.Amount // without sales tax and before fees
	Freight  money.Amount // charged to the buyer beside the price
	Refunds  money.Amount // given back to the buyer
	Tax      money.Amount // inside the price by the margin scheme for second-hand goods, where the year's figures are drawn up
	ForOwner money.Amount // of the price of a motor that was somebody else's: no revenue
	NetSale  money.Amount // Price + Freight - Refunds - Tax - ForOwner

	CostOfSale  money.Amount // its carrying amount when it was sold
	WrittenDown money.Amount // of what it cost, lost before the sale
	Selling     money.Amount
	AfterSale   money.Amount
	Costs       money.Amount // CostOfSale + WrittenDown + Selling + AfterSale

	BeforeOwnTime money.Amount // NetSale - Costs
	OwnHours      Hours
	OwnTime       money.Amount // what those hours are worth at their rates
	AfterOwnTime  money.Amount // BeforeOwnTime - OwnTime
}

// Result of a motor that was sold on or before a day, counting what was known by then; day 0 takes
// everything. It is false when the motor had not been sold.
func (r Record) Result(until day.Day, ownRate money.Amount) (Result, bool) {
	if r.Sale == nil || (until != 0 && r.Sale.Sold > until) {
		return Result{}, false
	}
	x := r.Sale.Result(r.Sheet(until, ownRate))
	if x.ForOwner = r.DueToOwner(); x.ForOwner != 0 {
		x.NetSale -= x.ForOwner
		x.BeforeOwnTime -= x.ForOwner
		x.AfterOwnTime -= x.ForOwner
	}
	return x, true
}

// ResultOf sets a price against a cost sheet.
func ResultOf(price money.Amount, s Sheet) Result { return Sale{Price: price}.Result(s) }

// Result sets what the sale brought against the motor's cost sheet.
func (s Sale) Result(sheet Sheet) Result {
	x := Result{
		Price: s.Price, Freight: s.Freight, Refunds: sheet.Refunds, NetSale: s.Price + s.Freight - sheet.Refunds,
		CostOfSale: sheet.Carried, WrittenDown: sheet.WrittenDown, Selling: sheet.Selling, AfterSale: sheet.AfterSale,
		Costs:    sheet.Carried + sheet.WrittenDown + sheet.Selling + sheet.AfterSale,
		OwnHours: sheet.OwnHours, OwnTime: sheet.OwnTime,
	}
	x.BeforeOwnTime = x.NetSale - x.Costs
	x.AfterOwnTime = x.BeforeOwnTime - x.OwnTime
	return x
}

// PerOwnHour is the profit before own time for each own hour, and false when no own hours are written
// down.
func (x Result) PerOwnHour() (money.Amount, bool) { return PerHour(x.BeforeOwnTime, x.OwnHours) }

// Margin is profit before own time as a share of the net sale, and false when nothing was taken.
func (x Result) Margin() (float64, bool) { return ratio(x.BeforeOwnTime, x.NetSale) }

// Markup is profit before own time as a share of the costs, and false when it cost nothing.
func (x Result) Markup() (float64, bool) { return ratio(x.BeforeOwnTime, x.Costs) }

// Missing says of each figure that could not be worked out why not.
func (x Result) Missing() []say.Sentence {
	var all []say.Sentence
	if _, ok := x.PerOwnHour(); !ok {
		all = append(all, NoOwnHours)
	}
	if _, ok := x.Margin(); !ok {
		all = append(all, say.New("result.no-margin", "No margin: nothing was left of the sale price."))
	}
	if _, ok := x.Markup(); !ok {
		all = append(all, say.New("result.no-markup", "No mark-up: no costs are written down."))
	}
	return all
}

// NoOwnHours stands where money per own hour would.
var NoOwnHours = say.New("result.no-own-hours", "Pay per hour is not known: no hours of yours are written down.")

// PerHour is an amount for each hour, to the nearest minor unit, and false when there are no hours.
func PerHour(a money.Amount, h Hours) (money.Amount, bool) {
	if h <= 0 {
		return 0, false
	}
	return money.Round(float64(a) / h.Float()), true
}

// ratio of two amounts, false when the second is not more than nothing.
func ratio(a, of money.Amount) (float64, bool) {
	if of <= 0 {
		return 0, false
	}
	return float64(a) / float64(of), true
}

// Taxed is the result with a tax that is inside its price taken out.
func (x Result) Taxed(inside money.Amount) Result {
	x.Tax += inside
	x.NetSale -= inside
	x.BeforeOwnTime -= inside
	x.AfterOwnTime -= inside
	return x
}
