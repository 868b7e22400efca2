package shop

import (
	"errors"
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// ErrHeld is wrapped by the errors of what a motor held for a buyer cannot do.
var ErrHeld = errors.New("sell it under that hold, or settle the hold first")

// SaveHold holds a motor for a buyer, with or without a deposit, or changes the open hold with its id. A
// motor is held for one buyer at a time.
func (s *Shop) SaveHold(h costing.Hold) error {
	r, err := s.stage(h.MotorID, "hold", costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return err
	}
	if open, held := r.OpenHold(); held && open.ID != h.ID {
		return refuse("buyer", say.New("selling.held", "it is held for {{.Buyer}} already", "Buyer", open.Buyer))
	}
	if h.ID != "" {
		if old, _, err := s.hold(h.MotorID, h.ID); err != nil {
			return err
		} else if old.Outcome != costing.HoldOpen {
			return refuse("buyer", say.New("selling.hold.settled", "that hold is settled; open it again first"))
		}
	}
	h.On = orToday(h.On, s)
	h.Outcome, h.SettledOn, h.Kept = costing.HoldOpen, 0, 0
	if err := s.checkHold(r, h); err != nil {
		return err
	}
	what := say.New("undo.hold", "hold of {{.Motor}} for {{.Buyer}}", "Motor", title(r), "Buyer", h.Buyer)
	coalesce := ""
	if h.ID != "" {
		coalesce = "hold:" + h.ID
	}
	return s.write(what, coalesce, h.MotorID, func(tx *shopfile.Tx) error { return tx.PutHold(&h) })
}

func (s *Shop) checkHold(r costing.Record, h costing.Hold) error {
	switch {
	case strings.TrimSpace(h.Buyer) == "":
		return refuse("buyer", say.New("selling.hold.buyer", "say for whom it is held"))
	case h.Deposit < 0:
		return refuse("deposit", say.New("selling.hold.deposit", "a deposit cannot be less than nothing"))
	case h.Until != 0 && h.Until < h.On:
		return refuse("until", say.New("selling.hold.until", "it is held from {{.Day}}, so not until a day before", "Day", s.dayText(h.On)))
	case h.ClearedOn > s.Today():
		return refuse("cleared", say.New("selling.future", "{{.Day}} is not here yet", "Day", s.dayText(h.ClearedOn)))
	}
	return s.sellingDay(r, h.On)
}

// HoldEnd is how a hold ends without a sale.
type HoldEnd struct {
	On     day.Day // 0 is today
	NoShow bool    // the buyer did not come: the deposit is kept; otherwise it is given back
	Kept   money.Amount
	Part   bool // only Kept of it is kept and the rest given back
}

// SettleHold ends an open hold without a sale. What is kept of the deposit is other income and no part of
// the price history.
func (s *Shop) SettleHold(motorID, holdID string, end HoldEnd) error {
	h, r, err := s.hold(motorID, holdID)
	if err != nil {
		return err
	}
	if h.Outcome != costing.HoldOpen {
		return refuse("hold", say.New("selling.hold.settled", "that hold is settled; open it again first"))
	}
	h.SettledOn = orToday(end.On, s)
	h.Outcome = costing.HoldReturned
	if end.NoShow {
		h.Outcome, h.Kept = costing.HoldNoShow, h.Deposit
		if end.Part {
			h.Kept = end.Kept
		}
	}
	if h.Kept < 0 || h.Kept > h.Deposit {
		return refuse("kept", say.New("selling.hold.kept", "the deposit was {{.Deposit}}; no more of it can be kept, nor less than nothing", "Deposit", s.currency.Format(h.Deposit)))
	}
	if h.SettledOn < h.On {
		return refuse("day", say.New("selling.hold.before", "it is held from {{.Day}}; that cannot end before", "Day", s.dayText(h.On)))
	}
	if err := s.sellingDay(r, h.SettledOn); err != nil {
		return err
	}
	what := say.New("undo.hold.end", "end of the hold of {{.Motor}} for {{.Buyer}}", "Motor", title(r), "Buyer", h.Buyer)
	return s.write(what, "", motorID, func(tx *shopfile.Tx) error { return tx.PutHold(&h) })
}

// ReopenHold takes back how a hold ended; one that ended with the sale is opened by taking the sale back.
func (s *Shop) ReopenHold(motorID, holdID string) error {
	h, r, err := s.hold(motorID, holdID)
	if err != nil {
		return err
	}
	if h.Outcome == costing.HoldSold || r.Sale != nil {
		return refuse("hold", say.New("selling.hold.sold", "the motor is sold; take the sale back first"))
	}
	if open, held := r.OpenHold(); held {
		return refuse("buyer", say.New("selling.held", "it is held for {{.Buyer}} already", "Buyer", open.Buyer))
	}
	h.Outcome, h.SettledOn, h.Kept = costing.HoldOpen, 0, 0
	what := say.New("undo.hold.again", "hold of {{.Motor}} for {{.Buyer}} again", "Motor", title(r), "Buyer", h.Buyer)
	return s.write(what, "", motorID, func(tx *shopfile.Tx) error { return tx.PutHold(&h) })
}

// RemoveHold takes a hold out that was written down by mistake, with its deposit, as if it had never been.
func (s *Shop) RemoveHold(motorID, holdID string) error {
	h, r, err := s.hold(motorID, holdID)
	if err != nil {
		return err
	}
	if h.Outcome == costing.HoldSold {
		return refuse("hold", say.New("selling.hold.sold", "the motor is sold; take the sale back first"))
	}
	what := say.New("undo.unhold", "removal of the hold of {{.Motor}} for {{.Buyer}}", "Motor", title(r), "Buyer", h.Buyer)
	return s.write(what, "", motorID, func(tx *shopfile.Tx) error { return tx.DeleteHold(h.ID) })
}

func (s *Shop) hold(motorID, holdID string) (costing.Hold, costing.Record, error) {
	r, err := s.Record(motorID)
	if err != nil {
		return costing.Hold{}, r, err
	}
	for _, h := range r.Holds {
		if h.ID == holdID {
			return h, r, nil
		}
	}
	return costing.Hold{}, r, fmt.Errorf("find the hold: %w", ErrUnknown)
}

// stopForHold refuses to let motors go that are held for a buyer.
func (s *Shop) stopForHold(verb string, ids ...string) error {
	for _, id := range ids {
		r, err := s.Record(id)
		if err != nil {
			continue
		}
		h, held := r.OpenHold()
		switch {
		case !held:
		case h.Deposit > 0:
			return fmt.Errorf("%s %s: it is held for %s, with a deposit of %s: %w", verb, title(r), h.Buyer, s.currency.Format(h.Deposit), ErrHeld)
		default:
			return fmt.Errorf("%s %s: it is held for %s: %w", verb, title(r), h.Buyer, ErrHeld)
		}
	}
	return nil
}

// HoldRow is an open hold with its motor.
type HoldRow struct {
	costing.Hold
	Motor   string
	Overdue bool
	Words   say.Sentence // for whom, until when, with what
}

// OpenHolds are the holds that are open, those whose last day is past or comes first at the front.
func (s *Shop) OpenHolds() []HoldRow {
	var dated, others []HoldRow
	for _, r := range s.contents.Records {
		h, held := r.OpenHold()
		if !held {
			continue
		}
		row := HoldRow{Hold: h, Motor: title(r), Overdue: h.Overdue(s.Today()), Words: s.holdWords(h)}
		if h.Until == 0 {
			others = append(others, row)
			continue
		}
		at := len(dated)
		for at > 0 && dated[at-1].Until > h.Until {
			at--
		}
		dated = append(dated[:at], append([]HoldRow{row}, dated[at:]...)...)
	}
	return append(dated, others...)
}

// holdWords says a hold: "Held for Rosa Lind until 12 May, deposit 150.00 by bank transfer, not cleared yet."
func (s *Shop) holdWords(h costing.Hold) say.Sentence {
	out := say.New("hold.for", "Held for {{.Buyer}} from {{.On}}", "Buyer", h.Buyer, "On", s.dayText(h.On))
	if h.Until != 0 {
		out = say.New("hold.until", "Held for {{.Buyer}} from {{.On}} until {{.Until}}", "Buyer", h.Buyer, "On", s.dayText(h.On), "Until", s.dayText(h.Until))
	}
	if h.Deposit > 0 {
		out = say.New("hold.deposit", "{{.Held}}, deposit {{.Deposit}}", "Held", out, "Deposit", s.currency.Format(h.Deposit))
		if h.Method != "" {
			out = say.New("hold.method", "{{.Held}} by {{.Method}}", "Held", out, "Method", h.Method.Name())
		}
		if h.Outcome == costing.HoldOpen && h.ClearedOn == 0 {
			out = say.New("hold.uncleared", "{{.Held}}, not known to be cleared", "Held", out)
		}
	}
	switch h.Outcome {
	case costing.HoldSold:
		return say.New("hold.end.sold", "{{.Held}}; sold to them on {{.Day}}", "Held", out, "Day", s.dayText(h.SettledOn))
	case costing.HoldReturned:
		if h.Deposit == 0 {
			return say.New("hold.end.let-go", "{{.Held}}; let go on {{.Day}}", "Held", out, "Day", s.dayText(h.SettledOn))
		}
		return say.New("hold.end.returned", "{{.Held}}; given back on {{.Day}}", "Held", out, "Day", s.dayText(h.SettledOn))
	case costing.HoldNoShow:
		if h.Kept == 0 {
			return say.New("hold.end.noshow", "{{.Held}}; nobody came by {{.Day}}", "Held", out, "Day", s.dayText(h.SettledOn))
		}
		return say.New("hold.end.kept", "{{.Held}}; nobody came by {{.Day}}, {{.Kept}} kept", "Held", out, "Day", s.dayText(h.SettledOn), "Kept", s.currency.Format(h.Kept))
	}
	if h.Overdue(s.Today()) {
		return say.New("hold.overdue", "{{.Held}}; that day is past", "Held", out)
	}
	return out
}
