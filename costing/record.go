// Package costing tells what a motor really costs: every line, every hour, the shelf, and what a year
// of them comes to.
package costing

import (
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Stage is where a motor stands on its way through the shop.
type Stage string

const (
	Prospect Stage = "prospect" // may be bought
	Passed   Stage = "passed"   // looked at and left
	Bench    Stage = "bench"    // bought, being worked on
	Finished Stage = "finished" // ready, not yet offered
	Listed   Stage = "listed"   // offered for sale
	Sold     Stage = "sold"
	Broken   Stage = "broken"  // taken apart for its parts
	Kept     Stage = "kept"    // left for private use
	Lost     Stage = "lost"    // written off
	History  Stage = "history" // a past sale known by its price alone; never in the year's figures
)

// Stages in the order a motor meets them.
var Stages = []Stage{Prospect, Passed, Bench, Finished, Listed, Sold, Broken, Kept, Lost, History}

// Owned tells whether a motor at this stage stands in the shop as stock.
func (s Stage) Owned() bool { return s == Bench || s == Finished || s == Listed || s == Broken }

// Record is all the shop knows of one motor.
type Record struct {
	ID      string
	Version int64 // counts changes of the row; a change made on an older one is refused
	Stage   Stage
	Motor   valuation.Motor
	Tag     string // the shop's own tag number
	Stand   string // where it stands
	Note    string

	SeenOn     day.Day      // first looked at
	SellerAsks money.Amount // the seller's asking price
	Seller     string
	Source     string // where it was found
	BoughtOn   day.Day
	FinishedOn day.Day
	ListedOn   day.Day      // first day of the latest spell for sale; 0 when it never was, or was withdrawn
	Ask        money.Amount // our latest asking price
	LeftOn     day.Day      // day it was broken, kept or written off
	Plan       Plan
	Keeping    Keeping
	Targets    Lines // its own lines, instead of the shop's
	Buying     Buy
	Papers     Papers
	Passing    Passing
	BundleID   string // the lot it is offered in, "" by itself
	OwnWords   string // the shop's own, added to its listing

	Margin      valuation.Answer // bought so that the margin scheme may be used; not said: unless tax on the purchase was recovered
	Consignment Consignment
	Away        string // another's shop where it stands to be sold; it is stock all the same

	Lines    []Line
	Sessions []Session
	Jobs     []Job     // its plan, job card by job card
	Snags    []Snag    // open and done
	Checks   []Check   // before the work and after it
	Guesses  []Guess   // what may be wrong with it, as tapped
	Asks     []AskStep // our asking prices with their days; see [Record.AskHistory]
	Bids     []Bid     // offers received
	Holds    []Hold    // for buyers, open and settled
	Sale     *Sale     // nil until sold
}

// Name is what the shop calls the motor: "Halvard 90, 2003".
func (r Record) Name() string { return r.Motor.Name() }

// AsSale is the record in the form the market learns from, and false when it is not sold.
func (r Record) AsSale() (valuation.Sale, bool) {
	if r.Sale == nil {
		return valuation.Sale{}, false
	}
	return valuation.Sale{
		ID: r.ID, Motor: r.Motor, Sold: r.Sale.Sold, Price: r.Sale.Price, Listed: r.ListedOn, Asked: r.Ask,
		Channel: r.Sale.Channel, Note: r.Sale.Note, LeftOut: r.Sale.LeftOut, LeftOutWhy: r.Sale.LeftOutWhy,
	}, true
}

// Sale is how a motor left for money.
type Sale struct {
	ID         string
	Version    int64
	Sold       day.Day
	Price      money.Amount // without sales tax and before fees: money, and the fair value of a motor taken in
	Channel    string
	Buyer      string
	Contact    string // how to reach the buyer
	Note       string
	Included   Included
	Freight    money.Amount // charged to the buyer beside the price: taken in, and no part of the price history
	Deposit    money.Amount // of the price, paid before under a hold
	Method     Payment      // how the rest was paid
	ClearedOn  day.Day      // the money is surely there; 0 not yet, or nobody said
	Exchange   Exchange
	LeftOut    bool // not learned from
	LeftOutWhy string
	Source     string    // fingerprint of the imported row, so that a file taken twice does not double
	Package    string    // shared by all that was sold together for one price; "" when it was sold alone
	Scheme     TaxScheme // how it is taxed; "" as the shop's sales of that day are
}

// Plan is the intended way out of a motor and what it is thought to take.
type Plan struct {
	State   valuation.State // state in which it will be sold
	Parts   ThreePoint      // parts, consumables and outside work, minor units
	Hours   ThreePoint      // own bench hours
	Selling money.Amount    // fixed cost of selling: listing, delivery
	Trip    float64         // distance driven to fetch it and back, in the shop's unit
	Days    int             // days on the bench
}

// ThreePoint is a guess given as low, likely and high. A likely value alone stands for all three.
type ThreePoint struct{ Low, Likely, High float64 }

// Session is time worked on one motor.
type Session struct {
	ID      string
	Version int64
	MotorID string
	On      day.Day
	Time    Hours
	Task    string
	Paid    bool         // paid to somebody; own time otherwise
	Rate    money.Amount // per hour, as it was then
	JobID   string       // the job of the motor's plan that it was for
}

// Clock is the running stopwatch, at most one in a shop. Start is Unix seconds.
type Clock struct {
	MotorID string
	Task    string
	Start   int64
	JobID   string       // the job of the motor's plan that it runs for
	Paid    bool         // it runs for somebody who is paid
	Rate    money.Amount // what they are paid per hour; own time has the rate of its day
	Kept    int64        // when somebody last said that it is to run on, Unix seconds
}

// Running tells whether the stopwatch runs.
func (c Clock) Running() bool { return c.MotorID != "" }
