package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Piece is a thing that is no motor and not one of many alike: a part on a donor, or a boat, a trailer, a
// spare powerhead that came with a lot.
//
// A piece on a donor has no cost of its own: its share stands on the donor until it comes off, and Cost is
// then what it took along. A piece that came by itself carries its Cost from the day it came.
type Piece struct {
	ID        string
	Version   int64
	DonorID   string // the motor it is or was on; "" for a thing by itself
	Name      string
	Value     money.Amount // what it would sell for by itself
	Chance    float64      // that it sells at all, 0 to 1
	Cost      money.Amount
	CameOn    day.Day // of a thing by itself
	Fate      Fate
	LeftOn    day.Day
	MotorID   string       // fitted to
	Price     money.Amount // sold for
	Fee       money.Amount // of the sale
	Channel   string
	Buyer     string
	Package   string // shared by all that was sold together for one price
	Note      string
	FromOwner bool // of a thing by itself: put in by the owner of the shop, at what it was worth
}

// Fate is what became of a piece.
type Fate string

const (
	StillThere Fate = ""
	Fitted     Fate = "fitted" // to a motor, which was charged its cost
	SoldAlone  Fate = "sold"
	KeptPiece  Fate = "kept" // for private use: drawings
	Scrapped   Fate = "lost" // its cost is written off
)

// Fates are all there are.
var Fates = []Fate{StillThere, Fitted, SoldAlone, KeptPiece, Scrapped}
