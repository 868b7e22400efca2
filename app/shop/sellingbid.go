package shop

import (
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// SaveBid writes down an offer that somebody made for a motor, or changes the one with its id.
func (s *Shop) SaveBid(b costing.Bid) error {
	r, err := s.Record(b.MotorID)
	if err != nil {
		return err
	}
	if b.ID == "" {
		if r, err = s.stage(b.MotorID, "take an offer for", costing.Bench, costing.Finished, costing.Listed); err != nil {
			return err
		}
	}
	b.On = orToday(b.On, s)
	if err := s.checkBid(r, b); err != nil {
		return err
	}
	what := say.New("undo.bid", "offer for {{.Motor}}", "Motor", title(r))
	coalesce := ""
	if b.ID != "" {
		coalesce = "bid:" + b.ID
	}
	return s.write(what, coalesce, b.MotorID, func(tx *shopfile.Tx) error { return tx.PutBid(&b) })
}

func (s *Shop) checkBid(r costing.Record, b costing.Bid) error {
	if b.Amount < 0 || b.Amount == 0 && strings.TrimSpace(b.Trade) == "" {
		return refuse("amount", say.New("selling.bid.amount", "an offer is of money, of something in exchange, or of both"))
	}
	if err := s.sellingDay(r, b.On); err != nil {
		return err
	}
	if r.Sale != nil && r.Sale.Sold != 0 && b.On > r.Sale.Sold {
		return refuse("day", say.New("selling.bid.sold", "it was sold on {{.Sold}}; nobody offers for it after", "Sold", s.dayText(r.Sale.Sold)))
	}
	if b.AnsweredOn != 0 && b.AnsweredOn < b.On {
		return refuse("answered", say.New("selling.bid.answered", "the offer was made on {{.Day}} and cannot be answered before", "Day", s.dayText(b.On)))
	}
	if b.AnsweredOn > s.Today() {
		return refuse("answered", say.New("selling.future", "{{.Day}} is not here yet", "Day", s.dayText(b.AnsweredOn)))
	}
	return nil
}

// AnswerBid writes down what became of an offer, on a day (0 is today); [costing.BidOpen] opens it again.
func (s *Shop) AnswerBid(motorID, bidID string, answer costing.BidAnswer, on day.Day) error {
	b, r, err := s.bid(motorID, bidID)
	if err != nil {
		return err
	}
	b.Answer, b.AnsweredOn = answer, orToday(on, s)
	if answer == costing.BidOpen {
		b.AnsweredOn = 0
	}
	if err := s.checkBid(r, b); err != nil {
		return err
	}
	what := say.New("undo.bid.answer", "answer to an offer for {{.Motor}}", "Motor", title(r))
	return s.write(what, "", motorID, func(tx *shopfile.Tx) error { return tx.PutBid(&b) })
}

// RemoveBid takes an offer out that was written down by mistake.
func (s *Shop) RemoveBid(motorID, bidID string) error {
	b, r, err := s.bid(motorID, bidID)
	if err != nil {
		return err
	}
	what := say.New("undo.unbid", "removal of an offer for {{.Motor}}", "Motor", title(r))
	return s.write(what, "", motorID, func(tx *shopfile.Tx) error { return tx.DeleteBid(b.ID) })
}

func (s *Shop) bid(motorID, bidID string) (costing.Bid, costing.Record, error) {
	r, err := s.Record(motorID)
	if err != nil {
		return costing.Bid{}, r, err
	}
	for _, b := range r.Bids {
		if b.ID == bidID {
			return b, r, nil
		}
	}
	return costing.Bid{}, r, fmt.Errorf("find the offer: %w", ErrUnknown)
}
