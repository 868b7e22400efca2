package offer

import (
	"strconv"

	"skegworth/valuation/say"
)

// Reason says what keeps the top price from being more, and the shop's own line for it.
func (o Offer) Reason() say.Sentence {
	profit, hour := o.currency.Short(o.settings.Profit), o.currency.Short(o.settings.PerHour)
	risk := InTen(o.settings.Risk)
	switch {
	case o.TooThin && o.Binds == ByRisk:
		return say.New("offer.thin-risk", "Too thin: even for nothing, the chance of a loss is over your line of {{.Line}}.", "Line", risk)
	case o.TooThin && o.Binds == ByHour:
		return say.New("offer.thin-hour", "Too thin: even for nothing, an hour of yours earns less than your line of {{.Line}}.", "Line", hour)
	case o.TooThin:
		return say.New("offer.thin-profit", "Too thin: even for nothing, the expected profit is under your line of {{.Line}}.", "Line", profit)
	case o.Binds == ByRisk:
		return say.New("offer.by-risk", "What limits it: the chance of a loss; your line is {{.Line}}.", "Line", risk)
	case o.Binds == ByHour:
		return say.New("offer.by-hour", "What limits it: the pay for an hour of yours; your line is {{.Line}}.", "Line", hour)
	default:
		return say.New("offer.by-profit", "What limits it: the expected profit; your line is {{.Line}} before your own time.", "Line", profit)
	}
}

// missed says what a way out rests on that may not be so.
func (o Offer) missed(q Question) []say.Sentence {
	var all []say.Sentence
	if o.draws.minutes.Sign() == 0 {
		all = append(all, say.New("offer.no-hours", "No hours of yours are planned, so pay per hour is not known and sets no limit."))
	}
	if q.Spent > 0 {
		all = append(all, say.New("offer.spent", "{{.Spent}} spent on it already is gone whether you buy it or not; it is not in these figures.",
			"Spent", o.currency.Format(q.Spent)))
	}
	return all
}

func notesOf(n int) []say.Sentence {
	return []say.Sentence{
		say.New("offer.note-draws", "Worked out over {{.Outcomes}} outcomes, the same ones every time.", "Outcomes", strconv.Itoa(n)),
		say.New("offer.note-doubts", "All that may be wrong with it, whether it comes back and whether its dearest parts sell are gone through together; each such case counts by its exact chance, with the work of its own job cards."),
		say.New("offer.note-triangle", "Low, likely and high are read as a triangle, and work is taken to have nothing to do with the price it brings: common practice, no more."),
		say.New("offer.note-tails", "Resale prices beyond the outer half per cent of the band at either end are held at that point, or their mean would have no end."),
		say.New("offer.note-same", "Every way out meets the same cases with the same chances, so that they differ by what they are and not by luck."),
		say.New("offer.note-holding", "Holding is the cash paid for it and put into it for as long as it is tied up, at the shop's yearly cost of money, and its place for as long."),
	}
}
