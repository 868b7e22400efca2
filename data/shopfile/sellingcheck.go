package shopfile

import (
	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// sellingFaults are asking prices that the motor itself tells otherwise, holds and deposits that its sale
// does not agree with, and motors taken in that do not stand on the bench at what they were taken for.
func sellingFaults(c Contents) []say.Sentence {
	var out []say.Sentence
	takenFor := map[string]money.Amount{}
	for i := range c.Records {
		if s := c.Records[i].Sale; s != nil && s.Exchange.MotorID != "" {
			takenFor[s.Exchange.MotorID] += s.Exchange.Value
		}
	}
	for i := range c.Records {
		r := &c.Records[i]
		thing := capital(called("motor", r.Name()))
		tell := func(wrong bool, s say.Sentence) {
			if wrong {
				out = append(out, s)
			}
		}
		tell(!asksAgree(r), say.New("check.asks", "{{.Thing}} tells another asking price than the history of its prices.", "Thing", thing))
		tell(!holdsAgree(r), say.New("check.holds", "{{.Thing}} has a hold or a deposit that does not agree with how it stands.", "Thing", thing))
		var inKind money.Amount
		for _, l := range r.Lines {
			if l.InKind {
				inKind += l.Total
			}
		}
		tell(inKind != takenFor[r.ID], say.New("check.taken", "{{.Thing}} does not stand at what it was taken in for.", "Thing", thing))
	}
	return out
}

// asksAgree tells whether the record's own day and price follow from its history, where it has one.
func asksAgree(r *costing.Record) bool {
	if len(r.Asks) == 0 {
		return true
	}
	follows := *r
	all := r.AskHistory()
	for i := 1; i < len(all); i++ {
		if all[i].On == all[i-1].On {
			return false
		}
	}
	follows.FollowAsks(all)
	return follows.ListedOn == r.ListedOn && follows.Ask == r.Ask
}

// holdsAgree tells whether at most one hold is open, on a motor in stock, whether what is settled has its
// day and no more was kept than paid, and whether the sale has the deposits of the holds that it ended.
func holdsAgree(r *costing.Record) bool {
	open := 0
	var applied money.Amount
	for _, h := range r.Holds {
		switch h.Outcome {
		case costing.HoldOpen:
			open++
			if h.SettledOn != 0 || h.Kept != 0 {
				return false
			}
			continue
		case costing.HoldSold:
			applied += h.Deposit
			if r.Sale == nil || h.SettledOn != r.Sale.Sold {
				return false
			}
		}
		if h.SettledOn < h.On || h.SettledOn == 0 || h.Kept < 0 || h.Kept > h.Deposit || h.Kept > 0 && h.Outcome != costing.HoldNoShow {
			return false
		}
	}
	if open > 1 || open == 1 && r.Sale != nil {
		return false
	}
	return r.Sale == nil || r.Sale.Deposit == applied
}
