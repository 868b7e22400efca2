package shop

import (
	"cmp"
	"math"
	"slices"

	"skegworth/costing/asking"
	"skegworth/costing/offer"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

func sortMarks(marks []AskMark) {
	slices.SortStableFunc(marks, func(a, b AskMark) int { return cmp.Compare(a.On, b.On) })
}

// timeWords says days as people do: five days, three weeks, four months.
func timeWords(days float64) say.Sentence {
	n := int(math.Round(days))
	switch {
	case n <= 1:
		return say.New("time.day", "a day")
	case n < 14:
		return say.New("time.days", "{{.Count}} days", "Count", valuation.Count(n))
	case days < 66:
		return say.New("time.weeks", "{{.Count}} weeks", "Count", valuation.Count(int(math.Round(days/7))))
	}
	return say.New("time.months", "{{.Count}} months", "Count", valuation.Count(int(math.Round(days/30.4))))
}

// sayAsking puts an answer in words.
func (s *Shop) sayAsking(a *AskAnswer) {
	c, d := s.currency, a.Advice
	f := d.Follow
	pairs := []any{"Ask", c.Whole(d.Ask), "Walk", c.Whole(c.Floor(d.WalkAway)), "Price", c.Whole(s.rounded(f.Price)),
		"Time", timeWords(float64(f.Mid)), "Day", s.dayText(d.By), "Chance", offer.Chance(f.Chance)}
	switch {
	case d.By != 0 && f.Chance < 0.05:
		a.Answer = say.New("ask.answer.by-hardly", "Ask {{.Ask}}; a buyer by {{.Day}} would be luck. Walk away under {{.Walk}}.", pairs...)
	case d.By != 0:
		a.Answer = say.New("ask.answer.by", "Ask {{.Ask}} to have it gone by {{.Day}}: {{.Chance}} a buyer comes by then, at about {{.Price}}; walk away under {{.Walk}}.", pairs...)
	case f.Chance < 0.5:
		a.Answer = say.New("ask.answer.long", "Ask {{.Ask}}. More likely than not nobody pays enough within a year; walk away under {{.Walk}}.", pairs...)
	default:
		a.Answer = say.New("ask.answer.when", "Ask {{.Ask}}. It should be gone in about {{.Time}} at {{.Price}}; walk away under {{.Walk}}.", pairs...)
	}
	a.Span = s.spanWords(f)
	a.Spent = say.New("ask.spent", "You have {{.Spent}} in it, which {{.Even}} would bring back.", "Spent", c.Whole(a.Sheet.Total), "Even", c.Whole(d.BreakEven))
	if !d.Priced {
		a.Spent = say.New("ask.spent.only", "You have {{.Spent}} in it.", "Spent", c.Whole(a.Sheet.Total))
	}
	a.Second = append(a.Second, a.Span, a.Spent)
	if p := d.Present; p.Ask > 0 && p.Ask != d.Ask {
		a.Present = s.presentWords(d)
		a.Second = append(a.Second, a.Present)
	}
	for i, step := range d.Plan {
		switch {
		case i > 0:
			a.Plan = append(a.Plan, say.New("ask.plan", "If it is still there on {{.Day}}: ask {{.Ask}}.", "Day", s.dayText(step.On), "Ask", c.Whole(step.Ask)))
		case len(d.Plan) > 1:
			a.Plan = append(a.Plan, say.New("ask.plan.first", "The answer above follows a plan: today ask {{.Ask}}.", "Ask", c.Whole(step.Ask)))
		}
	}
	a.Behind = behindWords(d)
	a.Holding = s.holdingWords(d.Holding)
}

// rounded is an expected price as a person would say it, to a part in two hundred.
func (s *Shop) rounded(a money.Amount) money.Amount {
	unit := float64(s.currency.PerUnit())
	step := math.Pow(10, math.Floor(math.Log10(math.Max(float64(a)/unit, 1)))) / 100
	step = math.Max(1, step) * unit
	return money.Round(math.Round(float64(a)/step) * step)
}

// spanWords says between which days a buyer comes.
func (s *Shop) spanWords(o asking.Outcome) say.Sentence {
	switch {
	case o.SoldWithin(o.Last) < 0.5 && o.Last < 365:
		return say.New("ask.span.short", "In what is left of the time a buyer is less likely than none; unsold on the last day, it goes for what is given on the spot.")
	case o.SoldWithin(o.Last) < 0.9:
		return say.New("ask.span.open", "One time in ten a buyer comes within {{.Low}}; {{.Chance}} none pays enough, and it goes in the end for what is given on the spot.",
			"Low", timeWords(float64(o.Low)), "Chance", offer.Chance(1-o.Chance))
	}
	return say.New("ask.span", "Eight times in ten a buyer comes between {{.Low}} and {{.High}} from now.",
		"Low", timeWords(float64(o.Low)), "High", timeWords(float64(o.High)))
}

// presentWords says what leaving today's ask comes to.
func (s *Shop) presentWords(d asking.Advice) say.Sentence {
	c, p := s.currency, d.Present
	pairs := []any{"Ask", c.Whole(p.Ask), "Time", timeWords(float64(p.Mid)), "Less", c.Whole(max(0, d.Best.Net-p.Net)), "Chance", offer.Chance(p.Chance)}
	switch {
	case p.Chance < 0.5 && d.Best.Net-p.Net < money.Amount(c.PerUnit()):
		return say.New("ask.present.long-same", "You ask {{.Ask}} now: left at that, {{.Chance}} a buyer comes in the time looked ahead.", pairs...)
	case p.Chance < 0.5:
		return say.New("ask.present.long", "You ask {{.Ask}} now: left at that, {{.Chance}} a buyer comes in the time looked ahead, and it leaves {{.Less}} less on the average.", pairs...)
	}
	return say.New("ask.present", "You ask {{.Ask}} now: left at that it takes about {{.Time}}, and leaves {{.Less}} less on the average.", pairs...)
}

func behindWords(d asking.Advice) say.Sentence {
	pairs := []any{"All", d.Listings, "Sold", d.SoldListings}
	switch {
	case d.Listings == 0:
		return say.New("ask.behind.none", "No motor of your own was for sale yet with its day and price known: days to sell and haggling are common practice, from memory, and wide.")
	case d.Listings == 1:
		return say.New("ask.behind.one", "One motor of your own that was for sale stands behind days to sell and haggling; the rest is common practice, from memory.")
	case d.SoldListings == 0:
		return say.New("ask.behind.unsold", "{{.All}} motors of your own, none of them sold yet, stand behind days to sell; the rest is common practice, from memory.", pairs...)
	}
	return say.New("ask.behind", "{{.All}} motors of your own that were for sale, {{.Sold}} of them sold, stand behind days to sell and haggling. How much a dear ask slows a sale is mostly common practice, from memory.", pairs...)
}

func (s *Shop) holdingWords(h asking.Holding) say.Sentence {
	c := s.currency
	pairs := []any{"Total", c.Format(h.Total), "Space", c.Format(h.Space), "Money", c.Format(h.Money), "Ages", c.Format(h.Ages)}
	if h.Usual {
		return say.New("ask.holding.usual", "A day of waiting costs {{.Total}}: {{.Space}} for its place, {{.Money}} for the money it would bring, at the twelve per cent a year that is taken where the settings say nothing, and {{.Ages}} for getting older.", pairs...)
	}
	return say.New("ask.holding", "A day of waiting costs {{.Total}}: {{.Space}} for its place, {{.Money}} for the money it would bring, and {{.Ages}} for getting older.", pairs...)
}

// sayOffer puts a decision in words.
func (s *Shop) sayOffer(o OfferAnswer) OfferAnswer {
	c := s.currency
	gap := o.Net - o.Waiting
	pairs := []any{"Offer", c.Whole(o.Offer), "Net", c.Whole(o.Net), "Waiting", c.Whole(o.Waiting), "Gap", c.Whole(max(gap, -gap)),
		"More", offer.Chance(o.More), "Less", offer.Chance(1 - o.More), "Day", s.dayText(o.From), "Time", timeWords(float64(o.Reserve))}
	if o.Take {
		o.Answer = say.New("ask.offer.take", "Yes, take {{.Offer}}: it leaves {{.Net}}, and waiting is worth {{.Waiting}} after its costs, {{.Gap}} less.", pairs...)
		o.Second = say.New("ask.offer.take-sure", "Waiting would bring less {{.Less}}.", pairs...)
		return o
	}
	o.Answer = say.New("ask.offer.leave", "No, not for {{.Offer}}: it leaves {{.Net}}, and waiting is worth {{.Waiting}} after its costs, {{.Gap}} more.", pairs...)
	o.Second = say.New("ask.offer.leave-sure", "Waiting would bring more {{.More}}. You can hold out for {{.Time}}: from {{.Day}} on, unsold, such an offer is good enough.", pairs...)
	return o
}
