// Package review tells what a year really earned: sales, the schedule of cost of sales, every motor
// sold, and what still stands in the shop.
//
// The year is drawn up on the accrual basis, motors by specific identification and shelf goods by
// weighted average or first-in first-out (IAS 2 paras 23 and 25). Each cost counts once, in one year:
//
//   - what brings a motor to its place and condition stands in stock from the day it is bought and
//     becomes cost of sales on the day it is sold; what was spent earlier, such as the trip to look at
//     it, enters with it;
//   - selling costs, costs after a sale and refunds are the year's in which they are dated, whichever
//     year the motor was or will be sold in;
//   - lines of a motor that was never bought are the year's in which they are dated. Should it be bought
//     after all they become part of the motor, and a review of the earlier year then no longer shows
//     them;
//   - a motor kept for private use leaves as drawings, and one written off as a loss, both at what it
//     cost; what is spent on it later follows it;
//   - a motor broken for parts stays in stock at what has not been charged to other motors;
//   - a past sale known by its price alone is in none of the figures, because its costs are not known.
//
// It is cost as the shop wrote it down, not tax: it says so wherever it goes.
package review

import (
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Input is everything the shop knows, of every year.
type Input struct {
	Records  []costing.Record
	Goods    []costing.Good
	Moves    []costing.Move
	Receipts []costing.Receipt
	Items    []costing.Item
	Pieces   []costing.Piece

	TaxRules    []costing.TaxRule
	Settlements []costing.Settlement
	Closings    []costing.Closing // years that were closed

	Settings costing.Settings
	Today    day.Day // 0 when it does not matter: a period that is not over is then taken as over

	// Outlook tells what a motor in stock at the period's end is expected to bring, and false where that is
	// not known. With none, stock is not compared with what it will bring.
	Outlook func(motorID string) (Outlook, bool)
	// Comeback is what outstanding warranty is provided for by; with none, it is not.
	Comeback Comeback
}

// Review is one period of the shop.
type Review struct {
	Period   Period
	Currency money.Currency

	Sold  []MotorResult // motors sold in the period, by day of sale
	Best  []MotorResult // up to five with the most profit before own time, best first
	Worst []MotorResult // up to five with the least, worst first; none is in both

	PiecesSold []PieceResult // parts off donors and things sold by themselves, by day of sale
	ForOthers  []Commission  // motors of others sold in the period, by day of sale

	Schedule Schedule
	Earlier  *Earlier // how it opens after a year that was closed; nil where none was

	Sales       money.Amount // prices of the motors and pieces sold in the period
	Commissions money.Amount // on motors of others sold in the period
	Freight     money.Amount // charged to the buyers of motors sold in the period, beside their prices
	Refunds     money.Amount // given back in the period, whenever the motor was sold
	TaxInside   money.Amount // of prices by the margin scheme, and of commissions: no revenue
	NetSales    money.Amount // Sales + Commissions + Freight - Refunds - TaxInside

	CostOfSales money.Amount // of the schedule
	GrossMargin money.Amount // NetSales - CostOfSales

	Selling          money.Amount // dated in the period, of motors sold and unsold
	AfterSale        money.Amount // dated in the period; of it EarlierAfterSale
	EarlierAfterSale money.Amount // of motors sold in earlier periods
	NeverBought      money.Amount // lines of motors looked at and not bought
	WrittenOff       money.Amount // motors lost, at what they cost
	WrittenDown      money.Amount // taken off motors and goods in stock that would not bring what they cost
	ShelfUsed        money.Amount // drawn from the shelf and charged to no motor
	StockDifferences money.Amount // shelf stock that counts missed (+) or found (-)
	Bills            money.Amount // tools and the workshop's own bills, less what of them was shared over motors
	Warranty         money.Amount // provided for warranty still to run: more (+) or less (-) than at the period's start
	Expenses         money.Amount // Selling, AfterSale and OtherExpense

	OtherIncome money.Amount // deposits kept in the period of buyers who did not come; of no sale

	BeforeOwnTime money.Amount // GrossMargin + OtherIncome - Expenses

	SoldHours    costing.Hours // own hours on the motors sold, whenever they were worked
	OtherHours   costing.Hours // own hours whose money is among Expenses: after earlier sales, on motors never bought or lost
	OwnHours     costing.Hours // SoldHours + OtherHours: the hours that stand behind BeforeOwnTime
	OwnTime      money.Amount  // what these are worth
	AfterOwnTime money.Amount  // BeforeOwnTime - OwnTime
	WorkedHours  costing.Hours // own hours dated in the period, on motors sold or not: beside, in no other figure

	Drawings money.Amount // motors, parts and goods kept for private use, at what they cost: not an expense

	OwedToYou money.Amount // core charges that are out at the period's end: in no other figure
	OwedByYou money.Amount // on receipts not paid by the period's end: their costs count all the same
	TaxBack   money.Amount // tax of the period's receipts that is recovered: in no cost

	DepositsOwed money.Amount // of holds open at the period's end: owed to buyers, in no sales
	TaxAdded     money.Amount // on top of the period's prices: in no sales
	TaxOwed      money.Amount // on sales up to the period's end, less what was paid over by then
	DueToOwners  money.Amount // of motors sold for their owners by the period's end, less what was passed on
	WarrantyOwed money.Amount // provided for at the period's end
	PutIn        money.Amount // by the owner of the shop in the period: in stock and costs, and no money
	TakenIn      money.Amount // motors taken in against the period's prices, at their fair value: part of Sales, no money
	OverAllowed  money.Amount // what was allowed for them beyond that: a discount, off Sales already

	Bridge []Step // from the sold motors' own results to BeforeOwnTime

	ClosingStock []StockLine  // adds up to Schedule.Closing
	ToWriteDown  money.Amount // what the closing stock carries beyond what it will bring, line by line
	ToTakeBack   money.Amount // what may be taken back of earlier write-downs
	Ages         []Age        // the closing stock by the days held

	// Each adds up to the motors sold: ByExit by the state in which they were sold.
	ByMonth, ByMake, ByPower, ByStroke, ByExit, ByChannel []Cut

	Days       int          // of the period that are over
	CashTied   money.Amount // average carrying amount of the stock over those days
	Estimates  Estimate     // of the motors sold
	Trips      Trips
	BySupplier []Spend   // parts and shelf goods bought in the period
	GoodsUsed  []GoodUse // each good of the shelf that anything happened to or is there

	HistorySales int          // sales in the period that are known by price alone and not counted
	HistoryTotal money.Amount // what they fetched

	Warnings   []say.Sentence
	Notes      []say.Sentence // how it was drawn up
	Disclaimer say.Sentence   // that it is neither tax nor legal advice; never empty

	ledger // every figure with the entries that make it
}

// MotorResult is one motor sold in the period, counting what was known of it by the period's end.
type MotorResult struct {
	ID, Name, Tag string
	Motor         valuation.Motor
	Channel       string
	Bought        day.Day // 0 when it is not known
	Sold          day.Day
	DaysHeld      int  // from bought to sold
	DaysKnown     bool // false when the day it was bought is not known

	Sheet costing.Sheet
	costing.Result
	SaleTax  costing.SaleTax
	Estimate Estimate // Motors is 0 where nothing was planned
	cashDays moneyDays
}

// Step is one line of a reckoning that adds up.
type Step struct {
	Name   say.Sentence
	Amount money.Amount
}

// StockLine is one motor, donor or good that is in stock at the period's end, at cost.
type StockLine struct {
	ID, Name, Tag string
	What          StockKind
	Stage         costing.Stage // of a motor, as it is now
	Quantity      float64       // of a good
	Unit          string
	Cost          money.Amount
	Since         day.Day // bought; for a good, last bought
	Days          int     // from Since to the period's end, or to today when that is earlier
	DaysKnown     bool

	Away        string       // another's shop where the motor stands to be sold
	WrittenDown money.Amount // of a motor or thing: taken off so far, Cost is what is left
	Realisable  Realisable   // what it will bring; not known where nobody was asked
}

// StockKind is what kind of stock a line is.
type StockKind string

const (
	MotorStock StockKind = "motor"
	DonorStock StockKind = "donor" // broken for parts
	ShelfStock StockKind = "shelf"
	ThingStock StockKind = "thing" // no motor and not one of many alike: a boat, a trailer, a spare powerhead
)

// Cut is the motors sold that have something in common.
type Cut struct {
	Name   say.Sentence
	Sold   int
	Motors []string // the keys of the motors, by day of sale
	costing.Result
}

// MarginRate is the gross margin as a share of net sales, false when there were none.
func (r Review) MarginRate() (float64, bool) {
	if r.NetSales <= 0 {
		return 0, false
	}
	return float64(r.GrossMargin) / float64(r.NetSales), true
}

// OtherExpense is what the period lost beside selling and after-sale: NeverBought, WrittenOff,
// WrittenDown, ShelfUsed, StockDifferences, Bills and Warranty.
func (r Review) OtherExpense() money.Amount {
	return r.NeverBought + r.WrittenOff + r.WrittenDown + r.ShelfUsed + r.StockDifferences + r.Bills + r.Warranty
}

// PerOwnHour is profit before own time for each hour of OwnHours, false when there are none.
func (r Review) PerOwnHour() (money.Amount, bool) {
	return costing.PerHour(r.BeforeOwnTime, r.OwnHours)
}

// Schedule shows how stock turned into cost of sales. To the minor unit,
//
//	Opening + Bought + Spent - Closing = Left
type Schedule struct {
	OpeningMotors money.Amount // motors and donors, at cost
	OpeningShelf  money.Amount
	OpeningThings money.Amount // boats, trailers and the like
	Opening       money.Amount

	Bought      money.Amount // motors: price, tax, trips, freight
	Things      money.Amount // boats, trailers and the like that came with a lot
	Parts       money.Amount // a part off a donor adds to one motor and takes from another, so adds nothing here
	Consumables money.Amount // charged to motors and not drawn from the shelf
	ShelfBought money.Amount
	PaidLabour  money.Amount
	Other       money.Amount // outside work and workshop overhead

	ClosingMotors money.Amount
	ClosingShelf  money.Amount
	ClosingThings money.Amount
	Closing       money.Amount

	CostOfSales      money.Amount // carrying amounts of the motors and pieces sold
	Drawings         money.Amount // of motors, pieces and goods kept
	WrittenOff       money.Amount // of motors lost
	WrittenDown      money.Amount // taken off what is still in stock, or was until it was sold
	ShelfUsed        money.Amount // drawn and charged to no motor
	ShelfExpensed    money.Amount // drawn, or a thing fitted, after a sale or on motors never bought, whose expense it is
	StockDifferences money.Amount // counts: missed (+) or found (-)
}

// Spent is all that went into stock beside the motors bought: things, parts, consumables, shelf goods,
// paid labour and other.
func (s Schedule) Spent() money.Amount {
	return s.Things + s.Parts + s.Consumables + s.ShelfBought + s.PaidLabour + s.Other
}

// Left is everything that went out of stock: CostOfSales, and beside it Drawings, WrittenOff,
// WrittenDown, ShelfUsed, ShelfExpensed and StockDifferences, which are 0 in a plain year.
func (s Schedule) Left() money.Amount {
	return s.CostOfSales + s.Drawings + s.WrittenOff + s.WrittenDown + s.ShelfUsed + s.ShelfExpensed + s.StockDifferences
}
