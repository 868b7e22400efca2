package shop

import (
	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// WayLines is the working of one way out of a prospect, in whole units: what it brings, what it takes, what
// was paid, and what that leaves, which is the sum of the lines above it; under the line of the work what
// that is made of, to the unit too. Then the top price under each line of the shop's, and the lowest of them
// last.
func (s *Shop) WayLines(v Verdict, exit offer.Exit) []MoneyLine {
	a, err := s.appraise(v.Record)
	if err != nil {
		return nil
	}
	for i, w := range v.Ways {
		if w.Exit == exit && i < len(a.ask.Ways) {
			return s.wayLines(w, a.ask, a.ask.Ways[i])
		}
	}
	return nil
}

// takes is something that a way out takes, exactly.
type takes struct {
	what, rests say.Sentence
	money       money.Amount
}

func (s *Shop) wayLines(w WayRow, q offer.Question, way offer.Way) []MoneyLine {
	c, a := s.currency, w.Answer
	line := func(what say.Sentence, m money.Amount, rests say.Sentence) MoneyLine {
		return MoneyLine{What: what, Money: m, Text: c.Whole(m), Rests: rests}
	}
	sold := say.New("way.brings.parts", "its parts together, as far as they sell; eight times in ten between {{.Low}} and {{.High}}", "Low", c.Whole(w.Low), "High", c.Whole(w.High))
	if w.Exit.Whole() {
		sold = say.New("way.brings.whole", "sold as {{.State}}; eight times in ten between {{.Low}} and {{.High}}", "State", w.State.Label(), "Low", c.Whole(w.Low), "High", c.Whole(w.High))
	}
	costs := takes{say.New("way.costs", "work and the rest together"),
		say.New("way.costs.rests", "made of what follows, {{.Hours}} hours of yours", "Hours", a.Offer.Hours.Said()), a.Offer.Costs - q.Buying.Known}
	all := []takes{
		{say.New("way.fees", "marketplace fee"), say.Sentence{}, a.Offer.Fees},
		costs,
		{say.New("way.buying", "buyer's fee and tax"), say.Sentence{}, w.At.Fee + w.At.Tax + q.Buying.Known},
		{say.New("way.holding", "holding it until it is sold"), s.holdsCash(w), w.At.Holding},
	}
	brings, profit, paid := s.nearest(a.Offer.Resale), s.nearest(w.At.BeforeOwnTime), s.nearest(w.At.Price)
	out := []MoneyLine{line(say.New("way.brings", "brings, expected"), brings, sold)}
	for i, m := range s.fitted(brings-paid-profit, all) {
		if m != 0 {
			out = append(out, line(all[i].what, -m, all[i].rests))
		}
		if i == 1 {
			of := s.takesOf(w, q, way, costs.money)
			for j, part := range s.fitted(m, of) {
				if part != 0 || !of[j].rests.Empty() {
					out = append(out, line(say.New("way.of", "of it: {{.What}}", "What", of[j].what), -part, of[j].rests))
				}
			}
		}
	}
	out = append(out, line(say.New("way.paid", "price paid"), -paid, say.Sentence{}))
	out = append(out, line(say.New("way.profit", "profit before own time"), profit,
		say.New("way.left", "what is left of it all; loses money {{.Chance}}", "Chance", offer.Chance(w.At.Loss))))
	if hour, ok := w.At.PerHour(); ok {
		out = append(out, line(say.New("way.hour", "for an hour of yours"), hour, say.Sentence{}))
	}
	for _, l := range a.Offer.Limits {
		out = append(out, MoneyLine{What: l.Limit.Name(), Money: l.Price, Text: s.topText(l.Price)})
	}
	top := a.Offer.Top
	if a.Offer.TooThin {
		top = -1
	}
	return append(out, MoneyLine{What: say.New("way.top", "top price for this way out"), Money: a.Offer.Top, Text: s.topText(top), Rests: a.Offer.Reason()})
}

// takesOf is what the work and the rest are made of: what is neither a job, a trip, the selling, a comeback
// nor looking around is the work on what may be found.
func (s *Shop) takesOf(w WayRow, q offer.Question, way offer.Way, all money.Amount) []takes {
	var out []takes
	for _, job := range w.Answer.Work {
		name := say.New("way.job", "{{.Job}}", "Job", job.Name)
		switch {
		case w.Planned:
			name = say.New("way.planned", "the work as you planned it")
		case job.Name == stripWork:
			name = say.New("way.strip", "taking it apart")
		}
		out = append(out, takes{name, say.New("way.job.hours", "parts; {{.Hours}} hours of yours", "Hours", costing.Hours(job.Hours.Mean()*60).Said()), money.Round(job.Parts.Mean())})
	}
	back := takes{what: say.New("way.comeback", "a comeback, at its chance")}
	if x := w.Answer.Comeback; x.Chance > 0 {
		back.money = x.Cost.Times(x.Chance)
		back.rests = say.New("way.comeback.start", "{{.Cost}} {{.Chance}}; common practice, from memory", "Cost", s.currency.Whole(x.Cost), "Chance", offer.Chance(x.Chance))
		if x.Own > 0 {
			back.rests = say.New("way.comeback.own", "{{.Cost}} {{.Chance}}; {{.Own}} own {{if eq .Own 1}}sale{{else}}sales{{end}} in that state behind it",
				"Cost", s.currency.Whole(x.Cost), "Chance", offer.Chance(x.Chance), "Own", x.Own)
		}
	}
	out = append(out, back,
		takes{say.New("way.selling", "selling it"), say.Sentence{}, way.Selling},
		takes{say.New("way.trip", "fetching it"), say.Sentence{}, q.Settings.TripCost(q.Trip)},
		takes{say.New("way.looks", "its share of looking at motors you did not buy"), say.Sentence{}, q.Looks})
	for _, t := range out {
		all -= t.money
	}
	if all > s.currency.PerUnit()/2 {
		out = append(out, takes{say.New("way.found", "work on what may be found, each at its chance"), say.Sentence{}, all})
	}
	return out
}

func (s *Shop) holdsCash(w WayRow) say.Sentence {
	return say.New("way.holding.rests", "money and space for {{.Days}} days: {{.Bench}} on the bench, {{.Sell}} to sell{{if .Waits}}, and waiting for the season{{end}}",
		"Days", w.Days, "Bench", w.Answer.Days.Bench, "Sell", w.Answer.Days.Sell, "Waits", w.Answer.Days.Waits)
}

// nearest is an amount in whole units, as it is shown.
func (s *Shop) nearest(a money.Amount) money.Amount {
	p := s.currency.PerUnit()
	return money.Round(float64(a)/float64(p)) * p
}

// fitted are amounts in whole units that come to the sum given, each within a unit of what it is.
func (s *Shop) fitted(sum money.Amount, of []takes) []money.Amount {
	p := s.currency.PerUnit()
	out, by := make([]money.Amount, len(of)), make([]float64, len(of))
	for i, t := range of {
		out[i], by[i] = s.nearest(t.money), float64(max(0, t.money))
	}
	if parts, err := money.Share(sum/p, by); err == nil && sum >= 0 {
		for i := range parts {
			out[i] = parts[i] * p
		}
	}
	return out
}

// Cost is all that a way out takes beside the price paid, at the price asked about.
func (w WayRow) Cost() money.Amount {
	return w.Answer.Costs + w.Answer.Fees + w.At.Fee + w.At.Tax + w.At.Holding
}

// stripWork names the work of taking a motor apart among the work of a way out.
const stripWork = "strip"

// topText is a top price, or that there is none.
func (s *Shop) topText(price money.Amount) string {
	if price < 0 {
		return say.New("way.never", "at no price").String()
	}
	return s.currency.Whole(s.currency.Floor(price))
}
