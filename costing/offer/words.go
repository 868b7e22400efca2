package offer

import (
	"strconv"

	"skegworth/costing"
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

// warn says what the figures rest on that may not be so.
func (o Offer) warn(in Input) []say.Sentence {
	var all []say.Sentence
	if in.Plan.Parts == (costing.ThreePoint{}) {
		all = append(all, say.New("offer.no-parts", "No parts are planned: this holds only if it needs none."))
	}
	if o.draws.minutes == 0 {
		all = append(all, say.New("offer.no-hours", "No hours of yours are planned, so pay per hour is not known and sets no limit."))
	}
	if in.Spent > 0 {
		all = append(all, say.New("offer.spent", "{{.Spent}} spent on it already is gone whether you buy it or not; it is not in these figures.",
			"Spent", o.currency.Format(in.Spent)))
	}
	return all
}

// missed says what a way out rests on that may not be so.
func (o Offer) missed(q Question) []say.Sentence {
	var all []say.Sentence
	if o.draws.minutes == 0 {
		all = append(all, say.New("offer.no-hours", "No hours of yours are planned, so pay per hour is not known and sets no limit."))
	}
	if q.Spent > 0 {
		all = append(all, say.New("offer.spent", "{{.Spent}} spent on it already is gone whether you buy it or not; it is not in these figures.",
			"Spent", o.currency.Format(q.Spent)))
	}
	return all
}

func notesOf(n int) []say.Sentence {
	return append(notesFor(n),
		say.New("offer.note-doubts", "What is wrong with it is drawn along with the rest: as many outcomes of each case as its chance says, each with the work of its own job cards."),
		say.New("offer.note-same", "Every way out is worked out on the same outcomes, so that they differ by what they are and not by luck."))
}

func notes() []say.Sentence { return notesFor(outcomes) }

func notesFor(n int) []say.Sentence {
	return []say.Sentence{
		say.New("offer.note-draws", "Worked out over {{.Outcomes}} equally likely outcomes of resale price and parts, the same ones every time.",
			"Outcomes", strconv.Itoa(n)),
		say.New("offer.note-triangle", "Low, likely and high are read as a triangle, and parts are taken to have nothing to do with the price it brings: common practice, no more."),
		say.New("offer.note-tails", "Resale prices beyond the outer half per cent of the band at either end are held at that point, or their mean would have no end."),
	}
}
