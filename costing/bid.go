package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Bid is an offer that somebody made for a motor of the shop's.
type Bid struct {
	ID      string
	Version int64
	MotorID string
	On      day.Day
	Amount  money.Amount // in money
	From    string       // who
	Channel string
	Trade   string // what they would give in part exchange, in words
	Note    string // conditions, or anything else said
	Answer  BidAnswer
	// AnsweredOn is the day of the answer, 0 while there is none.
	AnsweredOn day.Day
}

// BidAnswer is what became of an offer received.
type BidAnswer string

const (
	BidOpen     BidAnswer = ""
	BidDeclined BidAnswer = "declined"
	BidAccepted BidAnswer = "accepted"
	BidLapsed   BidAnswer = "lapsed" // neither side came back to it
)

// BidAnswers in the order a form offers them.
var BidAnswers = []BidAnswer{BidOpen, BidDeclined, BidAccepted, BidLapsed}

var bidNames = map[BidAnswer]string{BidDeclined: "declined", BidAccepted: "accepted", BidLapsed: "lapsed"}

// Name as a label: "declined".
func (a BidAnswer) Name() say.Sentence {
	if a == BidOpen {
		return say.New("bid.open", "open")
	}
	return label("bid.", string(a), bidNames[a])
}
