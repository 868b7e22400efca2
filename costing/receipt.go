package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Receipt is one purchase on one piece of paper: several things, with freight and tax on them all.
type Receipt struct {
	ID       string
	Version  int64
	Supplier string
	On       day.Day
	Number   string       // as printed on it
	Freight  money.Amount // brought to the shop, on everything
	Tax      money.Amount // on everything
	TaxBack  money.Amount // of Tax, what is recovered: owed to the shop and never a cost (IAS 2 para 11)
	Lot      money.Amount // one price for everything together; 0 where each thing has its own
	Due      day.Day      // to be paid by; 0 when it is not known
	PaidOn   day.Day      // 0 while it is owed
	Note     string
}

// Goes is where a thing bought goes.
type Goes string

const (
	ToMotor    Goes = "motor"    // onto a motor's cost sheet, as the line of the same id
	ToCore     Goes = "core"     // a core charge on a motor, as the line of the same id: no share of freight or tax
	ToShelf    Goes = "shelf"    // onto the shelf, as the move of the same id
	ToPiece    Goes = "piece"    // a thing by itself, as the piece of the same id: a boat, a trailer, a spare powerhead
	ToKeep     Goes = "kept"     // for private use: drawings
	ToExpense  Goes = "expense"  // tools and whatever else is no cost of a motor
	ToOverhead Goes = "overhead" // the workshop's own bills: rent, power, waste
)

// Destinations are all there are, in the order a form offers them.
var Destinations = []Goes{ToMotor, ToCore, ToShelf, ToPiece, ToKeep, ToExpense, ToOverhead}

// Item is one thing on a receipt. What is sent back is an item of its own, with amounts below nothing and
// the first one's id in Undoes.
type Item struct {
	ID        string
	Version   int64
	ReceiptID string
	Undoes    string
	Goes      Goes
	On        day.Day
	Text      string
	Quantity  float64
	Unit      string
	Net       money.Amount // its own price, before freight and tax
	Landed    money.Amount // with its shares of freight and of the tax that is not recovered: what it cost
	TaxBack   money.Amount // its share of the tax that is recovered
	Value     money.Amount // of a lot: what it would sell for by itself
	Chance    float64      // of a lot: the chance that it sells, 0 to 1
	MotorID   string
	GoodID    string
}

// Paid for the item: Landed and TaxBack.
func (i Item) Paid() money.Amount { return i.Landed + i.TaxBack }

// Mirrored tells whether the item stands somewhere else too, under its own id: as a line, a move or a
// piece.
func (g Goes) Mirrored() bool { return g == ToMotor || g == ToCore || g == ToShelf || g == ToPiece }
