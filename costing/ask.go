package costing

import (
	"cmp"
	"slices"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// AskStep is our asking price from a day on. One that asks nothing withdraws the motor from sale.
type AskStep struct {
	ID      string
	Version int64
	MotorID string
	On      day.Day
	Ask     money.Amount // 0 withdraws it
	Where   string       // offered there, as the shop calls it; "" not said
	Note    string
}

// Withdrawn tells whether the motor is off sale from that day on.
func (a AskStep) Withdrawn() bool { return a.Ask == 0 }

// AskHistory is every asking price of the motor with its day, the oldest first. Where none was written down
// step by step it is the one that the motor was offered at, from the day it was offered; none when that day
// is not known.
func (r Record) AskHistory() []AskStep {
	if len(r.Asks) == 0 {
		if r.ListedOn == 0 || r.Ask <= 0 {
			return nil
		}
		return []AskStep{{MotorID: r.ID, On: r.ListedOn, Ask: r.Ask}}
	}
	out := slices.Clone(r.Asks)
	slices.SortFunc(out, byAskDay)
	return out
}

func byAskDay(a, b AskStep) int { return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.ID, b.ID)) }

// SpellEnd is how a spell for sale ended.
type SpellEnd string

const (
	OnSale     SpellEnd = ""          // it has not ended
	EndedSold  SpellEnd = "sold"      // by the sale
	EndedEarly SpellEnd = "withdrawn" // taken off sale, or out of stock, without one
)

// Spell is a stretch of days during which a motor was for sale without a break.
type Spell struct {
	From  day.Day
	To    day.Day // the day it ended; 0 while it has not
	End   SpellEnd
	Steps []AskStep // at least one, the first on From; none withdraws
}

// First and Last are the asking prices that it started and ended with.
func (s Spell) First() money.Amount { return s.Steps[0].Ask }

// Last is the asking price at its end, or now.
func (s Spell) Last() money.Amount { return s.Steps[len(s.Steps)-1].Ask }

// AskOn is what was asked at the end of a day, 0 when it was not for sale then.
func (s Spell) AskOn(on day.Day) money.Amount {
	var ask money.Amount
	for _, step := range s.Steps {
		if step.On <= on && (s.To == 0 || on <= s.To) {
			ask = step.Ask
		}
	}
	return ask
}

// Days from its start to its end, or to today while it has not ended.
func (s Spell) Days(today day.Day) int {
	end := s.To
	if end == 0 {
		end = today
	}
	return max(0, int(end-s.From))
}

// Spells are the stretches for sale, the oldest first. Prices dated after the sale are passed over.
func (r Record) Spells() []Spell {
	var out []Spell
	open := false
	for _, a := range r.AskHistory() {
		switch {
		case r.Sale != nil && r.Sale.Sold != 0 && a.On > r.Sale.Sold:
		case a.Withdrawn() && open:
			last := &out[len(out)-1]
			last.To, last.End, open = a.On, EndedEarly, false
		case a.Withdrawn():
		case open:
			last := &out[len(out)-1]
			last.Steps = append(last.Steps, a)
		default:
			out, open = append(out, Spell{From: a.On, Steps: []AskStep{a}}), true
		}
	}
	if !open {
		return out
	}
	last := &out[len(out)-1]
	newest := last.Steps[len(last.Steps)-1].On
	switch {
	case r.Sale != nil:
		last.To, last.End = max(r.Sale.Sold, newest), EndedSold
	case r.Stage != Listed:
		last.To, last.End = max(r.LeftOn, newest), EndedEarly
	}
	return out
}

// ForSale is the spell that goes on now, and false when the motor is not offered.
func (r Record) ForSale() (Spell, bool) {
	all := r.Spells()
	if len(all) == 0 || all[len(all)-1].End != OnSale {
		return Spell{}, false
	}
	return all[len(all)-1], true
}

// Restep is a history of asking prices with one more, which takes the place of one of the same day. What
// withdraws a motor that is not for sale then says nothing, and is left out.
func Restep(all []AskStep, a AskStep) []AskStep {
	var out []AskStep
	placed := false
	for _, old := range all {
		if old.On == a.On {
			a.ID, a.Version, placed = old.ID, old.Version, true
			old = a
		}
		out = append(out, old)
	}
	if !placed {
		out = append(out, a)
	}
	return tidySteps(out)
}

// Unstep is a history of asking prices without one of them.
func Unstep(all []AskStep, id string) []AskStep {
	return tidySteps(slices.DeleteFunc(slices.Clone(all), func(a AskStep) bool { return a.ID == id }))
}

func tidySteps(all []AskStep) []AskStep {
	slices.SortFunc(all, byAskDay)
	var out []AskStep
	for _, a := range all {
		if a.Withdrawn() && (len(out) == 0 || out[len(out)-1].Withdrawn()) {
			continue
		}
		out = append(out, a)
	}
	return out
}

// FollowAsks gives the record a history of asking prices, and the day and price that follow from it: the
// first day of the last spell, none when it is withdrawn, and the last price that was asked.
func (r *Record) FollowAsks(all []AskStep) {
	r.Asks, r.ListedOn = all, 0
	for _, a := range all {
		switch {
		case a.Withdrawn():
			r.ListedOn = 0
		case r.ListedOn == 0:
			r.ListedOn, r.Ask = a.On, a.Ask
		default:
			r.Ask = a.Ask
		}
	}
}

// Correct brings the history in line with a first day of its last spell and a last price that were put
// right by hand; the history of a record that has none written down step by step follows by itself. A spell
// that would begin on the day the one before ended goes on from that one.
func (r *Record) Correct() {
	if len(r.Asks) == 0 {
		return
	}
	from, ask := r.ListedOn, r.Ask
	if from == 0 || ask <= 0 {
		r.Asks = nil
		return
	}
	start := 0 // of the last spell
	all := r.AskHistory()
	for i, a := range all {
		if a.Withdrawn() && i+1 < len(all) {
			start = i + 1
		}
	}
	earlier, last := slices.Clone(all[:start]), slices.DeleteFunc(slices.Clone(all[start:]), AskStep.Withdrawn)
	for len(last) > 1 && last[1].On <= from {
		last = last[1:]
	}
	last[0].On, last[len(last)-1].Ask = from, ask
	r.FollowAsks(tidySteps(append(slices.DeleteFunc(earlier, func(a AskStep) bool { return a.On >= from }), last...)))
}
