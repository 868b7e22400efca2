package shop

import (
	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// HingeBar is how far the top price of a prospect hangs on one thing.
type HingeBar struct {
	Name      say.Sentence
	Low, High money.Amount // the top price at its worse end and at its better; below 0 at no price
	From, To  say.Sentence // of what may be wrong, what it is at either end; empty otherwise
	Words     say.Sentence // the whole of it in one sentence
}

// HingeBars are what the top price of a prospect hangs on, the most first, for a picture.
func (s *Shop) HingeBars(v Verdict) ([]HingeBar, error) {
	if !v.Ready {
		return nil, nil
	}
	a, err := s.appraise(v.Record)
	if err != nil {
		return nil, err
	}
	words, err := s.Hinges(v)
	if err != nil {
		return nil, err
	}
	q := a.ask
	q.Draws = hingeDraws
	hinges, err := offer.Hinges(q, a.answer.Best)
	if err != nil {
		return nil, err
	}
	var out []HingeBar
	for i, h := range hinges {
		bar := HingeBar{Name: hingeName(h.Input), Low: s.currency.Floor(h.Low), High: s.currency.Floor(h.High), Words: words[i]}
		if h.From != "" {
			bar.Name, bar.From, bar.To = DoubtName(costing.DoubtKey(h.Input)), CaseName(costing.CaseKey(h.From)), CaseName(costing.CaseKey(h.To))
		}
		out = append(out, bar)
	}
	return out, nil
}
