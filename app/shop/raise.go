package shop

import (
	"slices"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// RaiseAnswer is what could be done to a motor and what each would add to the middle of its band, the
// most worth first.
type RaiseAnswer struct {
	Lines  []MoneyLine
	Best   say.Sentence // the first line's money; empty when there is none
	Note   say.Sentence // how the lines are to be read, or why there are none
	Unsaid say.Sentence // what must be said first to have more lines; empty when nothing
}

// Raise tells what would raise the price of a motor as it stands, sold today.
func (s *Shop) Raise(id string) (RaiseAnswer, error) {
	r, err := s.Record(id)
	if err != nil {
		return RaiseAnswer{}, err
	}
	market, err := s.Market()
	if err != nil {
		return RaiseAnswer{}, err
	}
	all, err := market.Improvements(r.Motor, s.Today())
	if err != nil {
		return RaiseAnswer{}, err
	}
	var a RaiseAnswer
	for _, i := range all {
		a.Lines = append(a.Lines, MoneyLine{What: i.Name, Money: i.Mid, Text: s.signed(i.Mid), Rests: s.raiseRests(r, i)})
	}
	a.Note = say.New("raise.none", "Nothing is left that this could put a figure to: it is at its best in state and looks, and all that may go with it does.")
	if len(all) > 0 {
		a.Note = say.New("raise.note", "Each line by itself, to the middle of the band, before what it costs.")
		if slices.ContainsFunc(all, func(i valuation.Improvement) bool { return i.Field == "state" }) {
			a.Note = say.New("raise.note.state", "Each line by itself, to the middle of the band, before what it costs. Lines of state do not add to each other: each goes from the state it is in now.")
		}
		a.Best = say.New("raise.best", "at the most {{.Money}}", "Money", s.signed(all[0].Mid))
	}
	switch state, looks := r.Motor.State == "", r.Motor.Looks == 0; {
	case state && looks:
		a.Unsaid = say.New("raise.unsaid", "State and looks are not said: say them to see what better ones would add.")
	case state:
		a.Unsaid = say.New("raise.state", "The state is not said: say it to see what a better one would add.")
	case looks:
		a.Unsaid = say.New("raise.looks", "The looks are not said: say them to see what a step would add.")
	}
	return a, nil
}

// raiseRests is the range of one line, what it rests on, and what the plan gives it.
func (s *Shop) raiseRests(r costing.Record, i valuation.Improvement) say.Sentence {
	basis := rests(i.Prior, i.Sales)
	if claim := i.State == valuation.Serviced || i.State == valuation.Rebuilt; i.Prior && claim {
		basis = say.New("raise.claim", "mostly the trade prior, which discounts a claim: buyers cannot see it")
	}
	out := say.New("raise.rests", "eight times in ten {{.Low}} to {{.High}}; {{.Basis}}", "Low", s.signed(i.Low), "High", s.signed(i.High), "Basis", basis)
	plan := PlanOf(r)
	if i.Field != "state" || i.State != plan.State {
		return out
	}
	parts, hours := plannedCost(plan)
	if parts == 0 && hours == 0 {
		return out
	}
	return say.New("raise.planned", "{{.Rests}}. Your plan gives it {{.Parts}} in parts and outside work and {{.Hours}} h of yours, {{.Time}} at your rate",
		"Rests", out, "Parts", s.currency.Whole(parts), "Hours", hours.String(), "Time", s.currency.Whole(hours.At(s.Settings().OwnRate)))
}

// plannedCost is what a plan expects of parts and outside work, and of own time.
func plannedCost(p costing.Plan) (parts money.Amount, own costing.Hours) {
	return money.Round(p.Parts.Mean()), costing.Hours(p.Hours.Mean() * 60)
}
