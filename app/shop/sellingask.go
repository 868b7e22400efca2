package shop

import (
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// ChangeAsk asks another price for a motor that is for sale, from a day on (0 is today); a change on the
// same day takes the place of the first. where is how it is offered then, "" as before.
func (s *Shop) ChangeAsk(id string, ask money.Amount, on day.Day, where string) error {
	r, err := s.stage(id, "change the asking price of", costing.Listed)
	if err != nil {
		return err
	}
	on = orToday(on, s)
	if ask <= 0 {
		return refuse("asking price", say.New("selling.ask", "it must be more than nothing; to stop offering it, withdraw it from sale"))
	}
	if err := s.sellingDay(r, on); err != nil {
		return err
	}
	if spell, ok := r.ForSale(); ok && on < spell.From {
		return refuse("day", say.New("selling.not-offered", "it was not for sale on {{.Day}}", "Day", s.dayText(on)))
	}
	now := r
	now.FollowAsks(costing.Restep(r.AskHistory(), costing.AskStep{MotorID: id, On: on, Ask: ask, Where: where}))
	what := say.New("undo.ask", "asking price of {{.Motor}}", "Motor", title(r))
	return s.write(what, "", id, func(tx *shopfile.Tx) error { return putAsks(tx, r, &now) })
}

// Withdraw takes a motor off sale on a day (0 is today) for a reason, which may be "". It stands as finished.
func (s *Shop) Withdraw(id string, on day.Day, why string) error {
	r, err := s.stage(id, "withdraw", costing.Listed)
	if err != nil {
		return err
	}
	on = orToday(on, s)
	if err := s.sellingDay(r, on); err != nil {
		return err
	}
	if all := r.AskHistory(); len(all) > 0 && on < all[len(all)-1].On {
		return refuse("day", say.New("selling.asked-later", "its asking price was changed on {{.Day}}, so it was for sale then", "Day", s.dayText(all[len(all)-1].On)))
	}
	now := r
	now.Stage = costing.Finished
	now.FollowAsks(costing.Restep(r.AskHistory(), costing.AskStep{MotorID: id, On: on, Note: why}))
	what := say.New("undo.withdraw", "withdrawal of {{.Motor}} from sale", "Motor", title(r))
	return s.write(what, "", id, func(tx *shopfile.Tx) error { return putAsks(tx, r, &now) })
}

// OfferAgain offers a motor that was withdrawn, or any that is not for sale, from a day on (0 is today).
// One straight from the bench with open snags is refused, see [ErrSnags].
func (s *Shop) OfferAgain(id string, ask money.Amount, on day.Day, where string) error {
	if err := s.stopForSnags("list", id); err != nil {
		return err
	}
	return s.offerFrom(id, orToday(on, s), ask, where)
}

// offerFrom begins a spell for sale, or asks another price in the one that goes on.
func (s *Shop) offerFrom(id string, on day.Day, ask money.Amount, where string) error {
	r, err := s.stage(id, "list", costing.Finished, costing.Bench, costing.Listed)
	if err != nil {
		return err
	}
	if ask <= 0 {
		return refuse("asking price", say.New("selling.ask.none", "it must be more than nothing"))
	}
	if err := s.sellingDay(r, on); err != nil {
		return err
	}
	all := r.AskHistory()
	if n := len(all); r.Stage != costing.Listed && n > 0 && all[n-1].On > on {
		return refuse("day", say.New("selling.offered-before", "it was offered until {{.Day}}; it can be offered again from that day on", "Day", s.dayText(all[n-1].On)))
	}
	now := r
	now.Stage = costing.Listed
	now.FollowAsks(costing.Restep(all, costing.AskStep{MotorID: id, On: on, Ask: ask, Where: where}))
	what := say.New("undo.stage", "move of {{.Motor}} to {{.Stage}}", "Motor", title(r), "Stage", string(costing.Listed))
	return s.write(what, "", id, func(tx *shopfile.Tx) error { return putAsks(tx, r, &now) })
}

// ForgetAsk takes one asking price out of a motor's history that was written down by mistake.
func (s *Shop) ForgetAsk(id, stepID string) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	now := r
	now.FollowAsks(costing.Unstep(r.Asks, stepID))
	if len(now.Asks) == len(r.Asks) {
		return fmt.Errorf("find the asking price: %w", ErrUnknown)
	}
	if _, still := now.ForSale(); r.Stage == costing.Listed && !still {
		return refuse("asking price", say.New("selling.last-ask", "it is the only price the motor is for sale at; change it, or withdraw the motor from sale"))
	}
	what := say.New("undo.unask", "removal of an asking price of {{.Motor}}", "Motor", title(r))
	return s.write(what, "", id, func(tx *shopfile.Tx) error { return putAsks(tx, r, &now) })
}

// sellingDay refuses a day on which nobody could have sold or offered the motor.
func (s *Shop) sellingDay(r costing.Record, on day.Day) error {
	switch {
	case on > s.Today():
		return refuse("day", say.New("selling.future", "{{.Day}} is not here yet", "Day", s.dayText(on)))
	case on < r.BoughtOn:
		return refuse("day", say.New("selling.before-bought", "it was bought on {{.Bought}}, and could not be for sale before", "Bought", s.dayText(r.BoughtOn)))
	}
	return nil
}

// putAsks writes a record together with what changed in the history of its asking prices.
func putAsks(tx *shopfile.Tx, before costing.Record, now *costing.Record) error {
	if err := tx.PutRecord(now); err != nil {
		return err
	}
	kept := make(map[string]bool, len(now.Asks))
	for i := range now.Asks {
		kept[now.Asks[i].ID] = true
	}
	for _, old := range before.Asks {
		if !kept[old.ID] {
			if err := tx.DeleteAsk(old.ID); err != nil {
				return err
			}
		}
	}
	for i := range now.Asks {
		now.Asks[i].MotorID = now.ID
		if err := tx.PutAsk(&now.Asks[i]); err != nil {
			return err
		}
	}
	return nil
}

// followChange keeps the history of asking prices in line when the day or price of the record itself was
// changed: a new price of a motor for sale is asked from today on, anything else puts right what was
// written down.
func (s *Shop) followChange(before costing.Record, now *costing.Record) error {
	if before.Ask == now.Ask && before.ListedOn == now.ListedOn {
		return nil
	}
	if now.Stage != costing.Listed {
		now.Correct()
		return nil
	}
	if now.Ask <= 0 {
		return refuse("asking price", say.New("selling.ask", "it must be more than nothing; to stop offering it, withdraw it from sale"))
	}
	if before.ListedOn != now.ListedOn {
		now.Correct()
		return nil
	}
	now.FollowAsks(costing.Restep(before.AskHistory(), costing.AskStep{MotorID: now.ID, On: max(s.Today(), now.ListedOn), Ask: now.Ask}))
	return nil
}
