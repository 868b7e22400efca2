package shopfile

import (
	"context"

	"skegworth/costing"
)

// What selling leaves behind beside the sale: asking prices with their days, offers received, holds.
var (
	asks = define(table{name: "asks", thing: "asking price",
		refs:  map[string]string{"motor_id": "motors"},
		fresh: func() row { return askRow(new(costing.AskStep)) }})
	bids = define(table{name: "bids", thing: "offer received",
		refs:  map[string]string{"motor_id": "motors"},
		fresh: func() row { return bidRow(new(costing.Bid)) }})
	holds = define(table{name: "holds", thing: "hold",
		refs:  map[string]string{"motor_id": "motors"},
		fresh: func() row { return holdRow(new(costing.Hold)) }})
)

func askRow(a *costing.AskStep) row {
	return row{&a.ID, &a.Version, []field{
		mustRef("motor_id", &a.MotorID),
		date("asked_on", &a.On),
		whole("ask", &a.Ask),
		text("offered_at", &a.Where),
		text("note", &a.Note),
	}, func() string { return called("asking price", a.On.String()) }}
}

func bidRow(b *costing.Bid) row {
	return row{&b.ID, &b.Version, []field{
		mustRef("motor_id", &b.MotorID),
		date("made_on", &b.On),
		whole("amount", &b.Amount),
		text("made_by", &b.From),
		text("channel", &b.Channel),
		text("trade", &b.Trade),
		text("note", &b.Note),
		word("answer", &b.Answer, costing.BidAnswers),
		date("answered_on", &b.AnsweredOn),
	}, func() string { return called("offer received", b.From) }}
}

func holdRow(h *costing.Hold) row {
	return row{&h.ID, &h.Version, []field{
		mustRef("motor_id", &h.MotorID),
		date("taken_on", &h.On),
		date("until_day", &h.Until),
		text("buyer", &h.Buyer),
		text("contact", &h.Contact),
		text("note", &h.Note),
		whole("deposit", &h.Deposit),
		word("paid_by", &h.Method, costing.Payments),
		date("cleared_on", &h.ClearedOn),
		word("outcome", &h.Outcome, costing.HoldOutcomes),
		date("settled_on", &h.SettledOn),
		whole("kept", &h.Kept),
	}, func() string { return called("hold", h.Buyer) }}
}

// readSellingOf gives each record its asking prices, offers and holds.
func readSellingOf(ctx context.Context, q reader, at map[string]*costing.Record, where string, args ...any) error {
	asked, err := all(ctx, q, asks, askRow, where, args...)
	if err != nil {
		return err
	}
	for _, run := range runs(asked, func(a costing.AskStep) string { return a.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Asks = run
		}
	}
	made, err := all(ctx, q, bids, bidRow, where, args...)
	if err != nil {
		return err
	}
	for _, run := range runs(made, func(b costing.Bid) string { return b.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Bids = run
		}
	}
	held, err := all(ctx, q, holds, holdRow, where, args...)
	if err != nil {
		return err
	}
	for _, run := range runs(held, func(h costing.Hold) string { return h.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Holds = run
		}
	}
	return nil
}

// PutAsk writes an asking price with its day.
func (tx *Tx) PutAsk(a *costing.AskStep) error { return tx.put(asks, askRow(a)) }

// DeleteAsk removes an asking price.
func (tx *Tx) DeleteAsk(id string) error { return tx.drop(asks, id) }

// PutBid writes an offer received.
func (tx *Tx) PutBid(b *costing.Bid) error { return tx.put(bids, bidRow(b)) }

// DeleteBid removes an offer received.
func (tx *Tx) DeleteBid(id string) error { return tx.drop(bids, id) }

// PutHold writes a hold for a buyer.
func (tx *Tx) PutHold(h *costing.Hold) error { return tx.put(holds, holdRow(h)) }

// DeleteHold removes a hold.
func (tx *Tx) DeleteHold(id string) error { return tx.drop(holds, id) }
