package costing

import (
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Buy is what buying a motor takes beside its price. What is not known goes by the shop's usual rates.
type Buy struct {
	FeeKnown bool
	Fee      money.Amount // the buyer's fee of an auction or a dealer
	TaxKnown bool
	Tax      money.Amount // on the purchase, not recovered
}

// Papers are what a seller can show that the motor is theirs to sell.
type Papers struct {
	Signed     valuation.Answer // a receipt that the seller signs
	Search     Search
	SearchedOn day.Day
	SearchedAt string // where it was searched for: a register, the police
	Reference  string // under which the search is kept there
	Title      Title
	TitleNote  string
}

// Search is what a search among stolen goods came to; "" when none was made.
type Search string

const (
	SearchClear Search = "clear"
	SearchFound Search = "found"
)

// Searches in the order a form offers them.
var Searches = []Search{SearchClear, SearchFound}

// Title is how the title or a lien on it stands; "" when nobody asked.
type Title string

const (
	TitleClear Title = "clear"
	TitleDoubt Title = "doubt"
)

// Titles in the order a form offers them.
var Titles = []Title{TitleClear, TitleDoubt}

// Passing is why a motor was passed over, and what became of it elsewhere. The day is [Record.LeftOn].
type Passing struct {
	Why     Why
	Note    string
	Top     money.Amount // the most it was worth paying, as it stood on that day; 0 not worked out, or too thin
	Later   money.Amount // what it was seen to sell for elsewhere, 0 not known
	LaterOn day.Day      // when it was seen to be sold
}

// Why is a reason to pass a motor over.
type Why string

const (
	WhyPrice     Why = "price"
	WhyCondition Why = "condition"
	WhyPapers    Why = "papers"
	WhyGone      Why = "gone" // sold to somebody else
	WhyOther     Why = "other"
)

// Whys in the order a form offers them.
var Whys = []Why{WhyPrice, WhyCondition, WhyPapers, WhyGone, WhyOther}

// Bundle is several motors and things that a seller offers together: a lot. Its motors are the records that
// name it by their BundleID.
type Bundle struct {
	ID      string
	Version int64
	Name    string
	Asks    money.Amount // for all of it, 0 not known
	Trip    float64      // there and back, once for all of it, in the shop's unit
	Splits  bool         // the seller would part with some of it by itself
	Note    string
	Things  []BundleThing
}

// BundleThing is something in a lot that is no motor: a boat, a trailer, a box of parts.
type BundleThing struct {
	ID       string
	Version  int64
	BundleID string
	Name     string
	Worth    ThreePoint // what it sells for, minor units
	Chance   float64    // that it sells, 0 to 1
	Kept     bool       // not for sale: kept for the owner, who sets
	OwnWorth money.Amount
}
