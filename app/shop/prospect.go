package shop

import (
	"strings"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Verdict is the answer to "should I buy this, and for how much at the most?".
type Verdict struct {
	Record   costing.Record
	Answer   say.Sentence
	Limit    say.Sentence // what limits the top price
	Ready    bool         // false while needed fields are blank; then only Answer is set
	Offer    offer.Offer
	Top      money.Amount  // the offer's top price in whole units, as it is said
	AtAsking offer.Outcome // when the seller's price is known
	Resale   valuation.Band
	Exit     costing.Plan // the plan as used: as the shop's own work would have it
	Worth    say.Sentence // the resale band in words
	Warnings []say.Sentence
	Near     []valuation.Comparable
}

// PlanOf is the plan of a motor, job cards and all, with its blanks filled: sold in its present state unless
// said otherwise.
func PlanOf(r costing.Record) costing.Plan {
	p := r.WorkPlanned()
	if p.State == "" {
		p.State = r.Motor.State
	}
	return p
}

// resold is a prospect as it is meant to be sold, and the day on which it can be.
func (s *Shop) resold(r costing.Record) (valuation.Motor, day.Day) {
	plan, m := PlanOf(r), r.Motor
	m.State = plan.State
	return m, s.Today() + day.Day(max(0, plan.Days))
}

// Appraise answers for one prospect, by id.
func (s *Shop) Appraise(id string) (Verdict, error) {
	r, err := s.Record(id)
	if err != nil {
		return Verdict{}, err
	}
	expected, thought := s.Expected(r)
	v := Verdict{Record: r, Exit: expected}
	if blank := missing(r.Motor); len(blank) > 0 {
		v.Answer = say.New("offer.missing", "Four things give a first answer: power, year, stroke and state. Still blank: {{.Fields}}.",
			"Fields", strings.Join(blank, ", "))
		return v, nil
	}
	subject, on := s.resold(r)
	v.Resale, err = s.Worth(subject, on)
	if err != nil {
		return v, err
	}
	v.Offer, err = offer.Appraise(offer.Input{Band: v.Resale, Plan: v.Exit, Settings: s.Settings(), Asking: r.SellerAsks,
		Spent: r.Sheet(0, s.Settings().OwnRate).Total})
	if err != nil {
		return v, err
	}
	v.Ready = true
	v.Worth = s.BandSentence(v.Resale)
	v.Limit = v.Offer.Reason()
	v.Warnings = append(append(v.Warnings, v.Resale.Warnings()...), v.Offer.Warnings...)
	if w := s.overrunUsed(expected, thought); !w.Empty() {
		v.Warnings = append(v.Warnings, w)
	}
	v.Near, err = s.Comparables(subject, on, 5)
	v.Top = s.currency.Floor(v.Offer.Top)
	v.Answer = s.verdict(r, v.Offer, v.Top)
	if r.SellerAsks > 0 {
		v.AtAsking = v.Offer.At(r.SellerAsks)
	}
	return v, err
}

// verdict is the answer in one breath.
func (s *Shop) verdict(r costing.Record, o offer.Offer, top money.Amount) say.Sentence {
	whole := func(a money.Amount) string { return s.currency.Whole(a) }
	asking := r.SellerAsks
	switch {
	case o.TooThin:
		return say.New("offer.thin", "Leave it: at no price does this meet your own lines.")
	case asking <= 0:
		return say.New("offer.top", "Pay up to {{.Top}}.", "Top", whole(top))
	}
	chance := offer.Chance(o.At(asking).Loss)
	if asking <= top {
		return say.New("offer.good", "Pay up to {{.Top}}. At {{.Asking}} it meets your lines; you lose money {{.Chance}}.",
			"Top", whole(top), "Asking", whole(asking), "Chance", chance)
	}
	return say.New("offer.dear", "Pay up to {{.Top}}. At {{.Asking}} you lose money {{.Chance}}.",
		"Top", whole(top), "Asking", whole(asking), "Chance", chance)
}
