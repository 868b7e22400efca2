package review

import (
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Figure names a figure of the schedule or of the statement of what was earned. A plain figure is the sum
// of its entries; the others are sums of plain ones.
type Figure string

// Plain figures.
const (
	OpeningMotors Figure = "opening-motors"
	OpeningShelf  Figure = "opening-shelf"
	OpeningThings Figure = "opening-things"

	Bought      Figure = "bought"
	Things      Figure = "things"
	Parts       Figure = "parts"
	Consumables Figure = "consumables"
	ShelfBought Figure = "shelf-bought"
	PaidLabour  Figure = "paid-labour"
	Other       Figure = "other"

	ClosingMotors Figure = "closing-motors"
	ClosingShelf  Figure = "closing-shelf"
	ClosingThings Figure = "closing-things"

	CostOfSales      Figure = "cost-of-sales"
	StockDrawings    Figure = "stock-drawings" // motors, pieces and goods kept
	KeptItems        Figure = "kept-items"     // on receipts, for private use from the start
	WrittenOff       Figure = "written-off"
	WrittenDown      Figure = "written-down"
	ShelfUsed        Figure = "shelf-used"
	ShelfExpensed    Figure = "shelf-expensed"
	StockDifferences Figure = "stock-differences"

	Sales       Figure = "sales"
	Commissions Figure = "commissions"
	Freight     Figure = "freight"
	TaxInside   Figure = "tax-inside" // of prices and commissions: no revenue
	Refunds     Figure = "refunds"
	Selling     Figure = "selling"
	AfterSale   Figure = "after-sale"
	NeverBought Figure = "never-bought"
	Bills       Figure = "bills"
	OtherIncome Figure = "other-income"
	OwnTime     Figure = "own-time"

	OwedToYou    Figure = "owed-to-you"
	DepositsOwed Figure = "deposits-owed"
	DueToOwners  Figure = "due-to-owners"
	TaxOwed      Figure = "tax-owed"  // on sales, at the end, less what was paid over
	TaxAdded     Figure = "tax-added" // on top of prices
	PutIn        Figure = "put-in"

	OpeningProvision Figure = "opening-provision" // for warranty still to run
	ClosingProvision Figure = "closing-provision"
	OwedByYou        Figure = "owed-by-you"
	TaxBack          Figure = "tax-back"
)

// Figures that are sums of others.
const (
	Opening       Figure = "opening"
	Spent         Figure = "spent"
	Closing       Figure = "closing"
	Left          Figure = "left"
	NetSales      Figure = "net-sales"
	GrossMargin   Figure = "gross-margin"
	OtherExpense  Figure = "other-expense"
	Expenses      Figure = "expenses"
	BeforeOwnTime Figure = "before-own-time"
	AfterOwnTime  Figure = "after-own-time"
	Drawings      Figure = "drawings"
	Warranty      Figure = "warranty" // what more is provided for than before
)

// Figures in the order a report prints them: the statement, the schedule, and what stands beside them.
var Figures = []Figure{
	Sales, Commissions, Freight, Refunds, TaxInside, NetSales, CostOfSales, GrossMargin, Selling, AfterSale, NeverBought, WrittenOff, WrittenDown, ShelfUsed,
	StockDifferences, Bills, Warranty, OtherExpense, Expenses, OtherIncome, BeforeOwnTime, OwnTime, AfterOwnTime,
	OpeningMotors, OpeningShelf, OpeningThings, Opening, Bought, Things, Parts, Consumables, ShelfBought, PaidLabour, Other, Spent,
	ClosingMotors, ClosingShelf, ClosingThings, Closing, StockDrawings, ShelfExpensed, Left,
	KeptItems, Drawings, OwedToYou, OwedByYou, TaxBack, DepositsOwed, DueToOwners, TaxAdded, TaxOwed, PutIn, OpeningProvision, ClosingProvision,
}

// term is a figure within a sum, taken off where less is set.
type term struct {
	figure Figure
	less   bool
}

func plus(all ...Figure) (out []term) {
	for _, f := range all {
		out = append(out, term{figure: f})
	}
	return out
}

func less(from []term, all ...Figure) []term {
	for _, f := range all {
		from = append(from, term{f, true})
	}
	return from
}

// sums says what each figure that is no plain one is made of.
var sums = map[Figure][]term{
	Opening:       plus(OpeningMotors, OpeningShelf, OpeningThings),
	Spent:         plus(Things, Parts, Consumables, ShelfBought, PaidLabour, Other),
	Closing:       plus(ClosingMotors, ClosingShelf, ClosingThings),
	Left:          plus(CostOfSales, StockDrawings, WrittenOff, WrittenDown, ShelfUsed, ShelfExpensed, StockDifferences),
	NetSales:      less(plus(Sales, Commissions, Freight), Refunds, TaxInside),
	GrossMargin:   less(plus(NetSales), CostOfSales),
	OtherExpense:  plus(NeverBought, WrittenOff, WrittenDown, ShelfUsed, StockDifferences, Bills, Warranty),
	Warranty:      less(plus(ClosingProvision), OpeningProvision),
	Expenses:      plus(Selling, AfterSale, OtherExpense),
	BeforeOwnTime: less(plus(GrossMargin, OtherIncome), Expenses),
	AfterOwnTime:  less(plus(BeforeOwnTime), OwnTime),
	Drawings:      plus(StockDrawings, KeptItems),
}

// Known tells whether there is such a figure.
func (f Figure) Known() bool { _, ok := figureNames[f]; return ok }

// Name of the figure as a report prints it.
func (f Figure) Name() say.Sentence { return figureNames[f] }

var figureNames = map[Figure]say.Sentence{
	OpeningMotors:    say.New("figure.opening-motors", "Opening stock: motors and donors"),
	OpeningShelf:     say.New("figure.opening-shelf", "Opening stock: shelf"),
	OpeningThings:    say.New("figure.opening-things", "Opening stock: boats, trailers and the like"),
	Opening:          say.New("figure.opening", "Opening stock"),
	Bought:           say.New("figure.bought", "Motors bought and brought in"),
	Things:           say.New("figure.things", "Boats, trailers and the like bought"),
	Parts:            say.New("figure.parts", "Parts"),
	Consumables:      say.New("figure.consumables", "Consumables not from the shelf"),
	ShelfBought:      say.New("figure.shelf-bought", "Shelf goods bought"),
	PaidLabour:       say.New("figure.paid-labour", "Paid labour"),
	Other:            say.New("figure.other", "Outside work and workshop overhead"),
	Spent:            say.New("figure.spent", "Spent beside the motors"),
	ClosingMotors:    say.New("figure.closing-motors", "Closing stock: motors and donors"),
	ClosingShelf:     say.New("figure.closing-shelf", "Closing stock: shelf"),
	ClosingThings:    say.New("figure.closing-things", "Closing stock: boats, trailers and the like"),
	Closing:          say.New("figure.closing", "Closing stock"),
	CostOfSales:      say.New("figure.cost-of-sales", "Cost of sales"),
	StockDrawings:    say.New("figure.stock-drawings", "Motors, parts and goods kept for private use"),
	KeptItems:        say.New("figure.kept-items", "On receipts for private use"),
	Drawings:         say.New("figure.drawings", "Drawings"),
	WrittenOff:       say.New("figure.written-off", "Motors written off"),
	WrittenDown:      say.New("figure.written-down", "Motors and goods written down"),
	ShelfUsed:        say.New("figure.shelf-used", "Shelf goods used on no motor"),
	ShelfExpensed:    say.New("figure.shelf-expensed", "Shelf goods used after a sale or on motors not bought"),
	StockDifferences: say.New("figure.stock-differences", "Shelf goods that counts missed or found"),
	Left:             say.New("figure.left", "Went out of stock"),
	Freight:          say.New("figure.freight", "Freight charged to buyers"),
	OtherIncome:      say.New("figure.other-income", "Deposits kept of buyers who did not come"),
	DepositsOwed:     say.New("figure.deposits-owed", "Owed by you: deposits of open holds"),
	Warranty:         say.New("figure.warranty", "Warranty provided for"),
	OpeningProvision: say.New("figure.opening-provision", "Provided for warranty at the start"),
	ClosingProvision: say.New("figure.closing-provision", "Provided for warranty at the end"),
	Commissions:      say.New("figure.commissions", "Commissions on motors of others"),
	TaxInside:        say.New("figure.tax-inside", "Tax inside prices"),
	TaxAdded:         say.New("figure.tax-added", "Tax added to prices"),
	DueToOwners:      say.New("figure.due-to-owners", "Owed by you: to owners of motors sold for them"),
	TaxOwed:          say.New("figure.tax-owed", "Owed by you: tax on sales"),
	PutIn:            say.New("figure.put-in", "Put in by you"),
	Sales:            say.New("figure.sales", "Sales"),
	Refunds:          say.New("figure.refunds", "Refunds"),
	NetSales:         say.New("figure.net-sales", "Net sales"),
	GrossMargin:      say.New("figure.gross-margin", "Gross margin"),
	Selling:          say.New("figure.selling", "Selling"),
	AfterSale:        say.New("figure.after-sale", "After the sale"),
	NeverBought:      say.New("figure.never-bought", "Motors looked at and not bought"),
	Bills:            say.New("figure.bills", "Tools, and workshop bills not shared over motors"),
	OtherExpense:     say.New("figure.other-expense", "Other expenses"),
	Expenses:         say.New("figure.expenses", "Expenses"),
	BeforeOwnTime:    say.New("figure.before-own-time", "Profit before own time"),
	OwnTime:          say.New("figure.own-time", "Own time"),
	AfterOwnTime:     say.New("figure.after-own-time", "Profit after own time"),
	OwedToYou:        say.New("figure.owed-to-you", "Owed to you: core charges"),
	OwedByYou:        say.New("figure.owed-by-you", "Owed by you: receipts not paid"),
	TaxBack:          say.New("figure.tax-back", "Tax on receipts that you get back"),
}

// Figure is the amount of a figure, 0 for one that there is not.
func (r Review) Figure(f Figure) money.Amount {
	terms, sum := sums[f]
	if !sum {
		return r.ledger.total[f]
	}
	var a money.Amount
	for _, t := range terms {
		if t.less {
			a -= r.Figure(t.figure)
		} else {
			a += r.Figure(t.figure)
		}
	}
	return a
}
