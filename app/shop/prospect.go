package shop

import (
	"slices"
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
	Exit     costing.Plan   // the plan as used: as the shop's own work would have it
	Worth    say.Sentence   // the resale band in words
	Warnings []say.Sentence // what the answer must not be read without
	Notes    []say.Sentence // what is good to know about how it came about
	Near     []valuation.Comparable

	Ways   []WayRow // every way out, on the same outcomes
	Best   WayRow   // the one that bears the highest price
	Doubts []DoubtRow
	Checks []CheckWorth    // not made yet, the most worth first
	First  say.Sentence    // which check to make first
	Sold   valuation.Motor // as Resale values it
	SoldOn day.Day
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
	a, err := s.appraise(r)
	if err != nil {
		return v, err
	}
	v.Ready = true
	v.Ways, v.Doubts = slices.Clone(a.ways), a.doubts
	v.Best = v.Ways[a.answer.Best]
	v.Offer = v.Best.Answer.Offer
	v.Top = s.currency.Floor(v.Offer.Top)
	price := v.Top
	if r.SellerAsks > 0 {
		price = r.SellerAsks
		v.AtAsking = v.Offer.At(price)
	}
	for i := range v.Ways {
		v.Ways[i].At = v.Ways[i].Answer.At(price)
	}
	v.Best.At = v.Offer.At(price)
	whole := v.Ways[0] // sold whole: as it stands, unless the best way out is one
	if v.Best.Exit.Whole() {
		whole = v.Best
	}
	v.Resale, v.Sold, v.SoldOn = whole.band, whole.subject, whole.Answer.Way.Days.SoldOn
	v.Exit.State, v.Exit.Days = whole.State, v.Best.Answer.Way.Days.Bench
	v.Worth = s.BandSentence(v.Resale)
	if v.Best.Answer.Unmended != nil {
		v.Worth = say.New("band.mended", "{{.Band}} Where something deep is found it goes as it stands, for less.", "Band", v.Worth)
	}
	v.Limit = v.Offer.Reason()
	if !v.Offer.TooThin {
		v.Limit = say.New("offer.best", "Best way out: {{.Exit}}. {{.Reason}}", "Exit", v.Best.Exit.Name(), "Reason", v.Offer.Reason())
	}
	stops := s.Stops(r)
	v.Warnings = append(v.Warnings, stops...)
	if open := s.Unanswered(r); !open.Empty() {
		v.Warnings = append(v.Warnings, open)
	}
	v.Warnings = append(v.Warnings, s.noRoom(v.Offer.Top)...)
	v.Warnings, v.Notes = append(v.Warnings, v.Resale.Warnings()...), slices.Clone(v.Offer.Warnings)
	if money := costOfMoneyNote(a.asked.Settings); !money.Empty() {
		v.Notes = append(v.Notes, money)
	}
	if looks := s.looksSentence(s.ownPast().looks); !looks.Empty() {
		v.Notes = append(v.Notes, looks)
	}
	if wait := s.waits(a.asked.Bench, v.Best); !wait.Empty() {
		v.Notes = append(v.Notes, wait)
	}
	if slices.ContainsFunc(v.Ways, func(w WayRow) bool { return w.Planned }) {
		if w := s.overrunUsed(expected, thought); !w.Empty() {
			v.Notes = append(v.Notes, w)
		}
	}
	if v.Best.Answer.Way.Days.Waits {
		v.Notes = append(v.Notes, say.New("offer.spring", "It would be ready out of season: sold when the next one begins, on about {{.Day}}, with your cash in it until then.", "Day", v.SoldOn.String()))
	}
	v.Checks = s.checkWorths(a, r, price)
	v.First = s.first(v.Checks)
	v.Near, err = s.Comparables(v.Sold, v.SoldOn, 5)
	v.Answer = s.verdict(r, v.Offer, v.Top)
	if len(stops) > 0 {
		v.Answer = say.New("offer.stop", "Do not buy until the serial plate and papers are cleared. Once they are: {{.Answer}}", "Answer", v.Answer)
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
