package shop

import (
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// title is what a change calls a motor.
func title(r costing.Record) string {
	if name := r.Name(); name != "" {
		return name
	}
	return "the new motor"
}

// AddProspect writes down a motor that may be bought and returns its id.
func (s *Shop) AddProspect() (string, error) {
	r := costing.Record{Stage: costing.Prospect, SeenOn: s.Today()}
	err := s.write(say.New("undo.prospect", "new prospect"), "", "", func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
	return r.ID, err
}

// Change changes facts of one motor; field names what is changed, so that letters typed into one field
// are undone together. Motors that could not exist are refused with a sentence naming the field.
func (s *Shop) Change(id, field string, change func(*costing.Record)) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	before := r
	change(&r)
	if err := r.Motor.Check(); err != nil {
		return err
	}
	if err := s.followChange(before, &r); err != nil {
		return err
	}
	what := say.New("undo.change", "change of {{.Field}} on {{.Motor}}", "Field", field, "Motor", title(r))
	err = s.write(what, id+":"+field, id, func(tx *shopfile.Tx) error { return putAsks(tx, before, &r) })
	return anew(err, func() error { return s.Change(id, field, change) })
}

// Delete takes a motor and all its lines out of the shop file.
func (s *Shop) Delete(id string) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	if err := s.mayForget(r); err != nil {
		return err
	}
	return s.write(say.New("undo.delete", "removal of {{.Motor}}", "Motor", title(r)), "", "", func(tx *shopfile.Tx) error {
		return tx.DeleteRecord(id)
	})
}

// mayForget refuses to forget a motor that money of other things hangs on: parts that went between it and
// others, and receipts that it shares with them.
func (s *Shop) mayForget(r costing.Record) error {
	for _, l := range r.Lines {
		if _, there := s.pieceOfLine(l); there {
			return fmt.Errorf("remove %s: %s went between it and something else; put that back first", title(r), l.Text)
		}
		if it, there := s.itemOf(l.ID); there {
			return fmt.Errorf("remove %s: %s stands on a receipt with others; take that receipt back first", title(r), it.Text)
		}
	}
	if r.Sale != nil && r.Sale.Package != "" {
		return fmt.Errorf("remove %s: it was sold together with others; take that sale back first", title(r))
	}
	return s.mayForgetSelling(r)
}

// Purchase is what was agreed for a prospect.
type Purchase struct {
	On    day.Day
	Price money.Amount
	Fee   money.Amount // the buyer's: part of what the motor cost
	Tax   money.Amount // on the purchase, not recovered
	Trip  float64      // distance driven, in the shop's unit
}

// Buy moves a prospect to the bench and books its price, tax and trip. Where nothing was planned for it by
// hand, the best way out comes along as its plan, job card by job card, to hold the work against.
func (s *Shop) Buy(id string, p Purchase) error {
	r, err := s.stage(id, "buy", costing.Prospect, costing.Passed)
	if err != nil {
		return err
	}
	if p.Price < 0 || p.Fee < 0 || p.Tax < 0 || p.Trip < 0 {
		return fmt.Errorf("buy %s: price, fee, tax and trip cannot be less than nothing", title(r))
	}
	if p.On == 0 {
		p.On = s.Today()
	}
	jobs := s.planOfBest(&r)
	r.Stage, r.BoughtOn = costing.Bench, p.On
	lines := []costing.Line{{Kind: costing.Purchase, Text: "price", Total: p.Price, Each: p.Price, Quantity: 1}}
	if p.Fee > 0 {
		lines = append(lines, costing.Line{Kind: costing.Purchase, Text: "buyer's fee", Total: p.Fee, Each: p.Fee, Quantity: 1})
	}
	if p.Tax > 0 {
		lines = append(lines, costing.Line{Kind: costing.PurchaseTax, Text: "tax", Total: p.Tax, Each: p.Tax, Quantity: 1})
	}
	if p.Trip > 0 {
		rate := s.Settings().TripRate
		lines = append(lines, costing.Line{Kind: costing.Trip, Text: "trip", Quantity: p.Trip, Unit: s.Settings().Distance,
			Each: rate, Total: rate.Times(p.Trip)})
	}
	return s.write(say.New("undo.buy", "purchase of {{.Motor}}", "Motor", title(r)), "", id, func(tx *shopfile.Tx) error {
		if err := tx.PutRecord(&r); err != nil {
			return err
		}
		for i := range lines {
			lines[i].MotorID, lines[i].On = id, p.On
			if err := tx.PutLine(&lines[i]); err != nil {
				return err
			}
		}
		for i := range jobs {
			jobs[i].MotorID, jobs[i].On = id, p.On
			if err := tx.PutJob(&jobs[i]); err != nil {
				return err
			}
		}
		return nil
	})
}

// planOfBest gives a motor without a plan of its own the state and the days of its best way out, and the
// jobs of its cards as the shop has them.
func (s *Shop) planOfBest(r *costing.Record) []costing.Job {
	planned := r.WorkPlanned()
	if planned.State != "" || planned.Parts != (costing.ThreePoint{}) || planned.Hours != (costing.ThreePoint{}) {
		return nil
	}
	v, err := s.Appraise(r.ID)
	if err != nil || !v.Ready || !v.Best.Exit.Whole() { // it is bought all the same
		return nil
	}
	r.Plan.State = v.Best.State
	if r.Plan.Days == 0 {
		r.Plan.Days = v.Best.Answer.Way.Days.Bench
	}
	var jobs []costing.Job
	for _, w := range v.Best.Answer.Work {
		for _, c := range s.contents.Cards {
			if c.Name == w.Name {
				j := costing.Job{CardID: c.ID, Name: c.Name, Pieces: c.Pieces(r.Motor)}
				j.Hours, j.Parts = c.Estimate(j.Pieces, s.consumables(c))
				jobs = append(jobs, j)
				break
			}
		}
	}
	return jobs
}

// Pass keeps a prospect that was looked at and left, without a reason: see [Shop.PassFor].
func (s *Shop) Pass(id string) error {
	if _, err := s.stage(id, "pass on", costing.Prospect); err != nil {
		return err
	}
	return s.PassFor(id, "", "")
}

// Reconsider makes a prospect again of one that was left.
func (s *Shop) Reconsider(id string) error {
	return s.move(id, "reconsider", costing.Prospect, func(r *costing.Record) { r.LeftOn, r.Passing = 0, costing.Passing{} }, costing.Passed)
}

// BackToBench takes a finished or offered motor back to the bench.
func (s *Shop) BackToBench(id string) error {
	r, err := s.stage(id, "take back", costing.Finished, costing.Listed)
	if err != nil {
		return err
	}
	now := r
	now.Stage, now.FinishedOn, now.ListedOn = costing.Bench, 0, 0
	if spell, on := r.ForSale(); on {
		day := max(s.Today(), spell.Steps[len(spell.Steps)-1].On)
		now.FollowAsks(costing.Restep(r.AskHistory(), costing.AskStep{MotorID: id, On: day}))
	}
	what := say.New("undo.stage", "move of {{.Motor}} to {{.Stage}}", "Motor", title(r), "Stage", string(costing.Bench))
	return s.write(what, "", id, func(tx *shopfile.Tx) error { return putAsks(tx, r, &now) })
}

// ListForSale offers a motor at an asking price. One straight from the bench with open snags is refused, see
// [ErrSnags]: [Shop.ListWithSnags] is the deliberate way.
func (s *Shop) ListForSale(id string, on day.Day, ask money.Amount) error {
	if err := s.stopForSnags("list", id); err != nil {
		return err
	}
	return s.ListWithSnags(id, on, ask)
}

// ListWithSnags offers a motor although snags are open; they stay open.
func (s *Shop) ListWithSnags(id string, on day.Day, ask money.Amount) error {
	return s.offerFrom(id, orToday(on, s), ask, "")
}

// Leave takes a motor out of the stock without a sale: broken for parts stays stock, kept is for private
// use, lost is written off.
func (s *Shop) Leave(id string, to costing.Stage, on day.Day) error {
	switch to {
	case costing.Broken, costing.Kept, costing.Lost:
	default:
		return fmt.Errorf("take the motor out of work: %q is no way to leave", to)
	}
	if r, err := s.Record(id); err == nil && r.Consigned() {
		return fmt.Errorf("take %s out of work: it is not the shop's own; give it back to its owner", title(r))
	}
	if err := s.stopForHold("take out of work", id); err != nil {
		return err
	}
	return s.move(id, "take out of work", to, func(r *costing.Record) { r.LeftOn = on }, costing.Bench, costing.Finished, costing.Listed)
}

// stage finds a motor and refuses it when it does not stand at one of the stages.
func (s *Shop) stage(id, verb string, from ...costing.Stage) (costing.Record, error) {
	r, err := s.Record(id)
	if err != nil {
		return r, err
	}
	for _, f := range from {
		if r.Stage == f {
			return r, nil
		}
	}
	return r, fmt.Errorf("%s %s: it stands as %s", verb, title(r), r.Stage)
}

func (s *Shop) move(id, verb string, to costing.Stage, change func(*costing.Record), from ...costing.Stage) error {
	r, err := s.stage(id, verb, from...)
	if err != nil {
		return err
	}
	r.Stage = to
	change(&r)
	return s.write(say.New("undo.stage", "move of {{.Motor}} to {{.Stage}}", "Motor", title(r), "Stage", string(to)), "", id,
		func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}
