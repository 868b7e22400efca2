package shop

import (
	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// WayLines is the working of one way out of a prospect: what it brings, what each job is thought to take,
// what else it costs and how long it holds the cash, the top price under each line of the shop's, and the
// lowest of them last.
func (s *Shop) WayLines(v Verdict, exit offer.Exit) []MoneyLine {
	for _, w := range v.Ways {
		if w.Exit == exit {
			return s.wayLines(w)
		}
	}
	return nil
}

func (s *Shop) wayLines(w WayRow) []MoneyLine {
	c, a := s.currency, w.Answer
	line := func(what say.Sentence, m money.Amount, rests say.Sentence) MoneyLine {
		return MoneyLine{What: what, Money: m, Text: c.Whole(m), Rests: rests}
	}
	var out []MoneyLine
	sold := say.New("way.brings.parts", "its parts together, as far as they sell; eight times in ten between {{.Low}} and {{.High}}", "Low", c.Whole(w.Low), "High", c.Whole(w.High))
	if w.Exit.Whole() {
		sold = say.New("way.brings.whole", "sold as {{.State}}; eight times in ten between {{.Low}} and {{.High}}", "State", w.State.Label(), "Low", c.Whole(w.Low), "High", c.Whole(w.High))
	}
	out = append(out, line(say.New("way.brings", "brings, expected"), a.Offer.Resale, sold))
	if a.Offer.Fees > 0 {
		out = append(out, line(say.New("way.fees", "marketplace fee"), -a.Offer.Fees, say.Sentence{}))
	}
	out = append(out, line(say.New("way.costs", "work and the rest together"), -a.Offer.Costs,
		say.New("way.costs.rests", "with what may be found, trips, selling and comebacks, each at its chance; {{.Hours}} hours of yours", "Hours", a.Offer.Hours.Said())))
	for _, job := range a.Work {
		name := say.New("way.job", "of it: {{.Job}}", "Job", job.Name)
		switch {
		case w.Planned:
			name = say.New("way.planned", "of it: the work as you planned it")
		case job.Name == stripWork:
			name = say.New("way.strip", "of it: taking it apart")
		}
		out = append(out, line(name, -money.Round(job.Parts.Mean()),
			say.New("way.job.hours", "parts; {{.Hours}} hours of yours", "Hours", costing.Hours(job.Hours.Mean()*60).Said())))
	}
	if a.Comeback.Chance > 0 {
		rests := say.New("way.comeback.start", "{{.Chance}}; common practice, from memory", "Chance", offer.Chance(a.Comeback.Chance))
		if a.Comeback.Own > 0 {
			rests = say.New("way.comeback.own", "{{.Chance}}; {{.Own}} own {{if eq .Own 1}}sale{{else}}sales{{end}} in that state behind it", "Chance", offer.Chance(a.Comeback.Chance), "Own", a.Comeback.Own)
		}
		out = append(out, line(say.New("way.comeback", "of it: a comeback, where there is one"), -a.Comeback.Cost, rests))
	}
	out = append(out,
		line(say.New("way.holding", "holding it until it is paid for"), -w.At.Holding, say.New("way.holding.rests", "money and space for {{.Days}} days: {{.Bench}} on the bench, {{.Sell}} to sell{{if .Waits}}, and waiting for the season{{end}}",
			"Days", w.Days, "Bench", a.Days.Bench, "Sell", a.Days.Sell, "Waits", a.Days.Waits)))
	if buying := w.At.Fee + w.At.Tax; buying > 0 {
		out = append(out, line(say.New("way.buying", "buyer's fee and tax"), -buying, say.Sentence{}))
	}
	at := say.New("way.at", "if you paid {{.Price}}; loses money {{.Chance}}", "Price", c.Whole(w.At.Price), "Chance", offer.Chance(w.At.Loss))
	out = append(out, line(say.New("way.profit", "profit before own time"), w.At.BeforeOwnTime, at))
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
