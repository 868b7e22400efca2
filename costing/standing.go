package costing

import "skegworth/valuation/day"

// Way is how a motor left the shop's stock.
type Way string

const (
	StillHere Way = ""     // bought and not gone, or never bought
	BySale    Way = "sold" // its carrying amount is cost of sales
	ByKeeping Way = "kept" // its carrying amount is drawings
	ByLoss    Way = "lost" // its carrying amount is written off
)

// EverBought tells whether the motor ever became the shop's: a prospect and one passed by never did. A
// sale settles it whatever the stage says. A motor known from the price history alone never stood in
// the shop's books, so it counts as not bought; nor did one that is somebody else's.
func (r Record) EverBought() bool {
	if r.Stage == History || r.Consigned() {
		return false
	}
	return r.Sale != nil || (r.Stage != Prospect && r.Stage != Passed)
}

// Left tells when and how the motor left stock. A broken motor has not left: what is still on it is
// stock until it is charged to other motors, sold or written off. A motor kept or written off without
// a day left on the day of the last thing known of it, and known is then false.
func (r Record) Left() (on day.Day, by Way, known bool) {
	if !r.EverBought() {
		return 0, StillHere, true
	}
	if r.Sale != nil {
		if r.Sale.Sold == 0 {
			return 0, StillHere, false // sold, but in no year that can be named
		}
		return r.Sale.Sold, BySale, true
	}
	switch r.Stage {
	case Kept:
		by = ByKeeping
	case Lost:
		by = ByLoss
	default:
		return 0, StillHere, true
	}
	if r.LeftOn != 0 {
		return r.LeftOn, by, true
	}
	return max(r.lastDay(), r.BoughtOn, 1), by, false
}

// Entered is the day from which the motor's costs stand in stock: the day it was bought; without one,
// the day of its purchase line, or of the first thing known of it. It is never later than the day it
// left. Costs dated earlier, such as the trip to look at it, enter with it. known is false when there
// was no day bought to go by; the day is then 1 if nothing at all is dated.
func (r Record) Entered() (on day.Day, known bool) {
	on, known = r.BoughtOn, r.BoughtOn != 0
	if !known {
		on = r.firstDay()
	}
	if left, by, _ := r.Left(); by != StillHere {
		on = min(on, left)
	}
	return max(on, 1), known
}

// firstDay is the day of the purchase line, or else the earliest day of any line or session.
func (r Record) firstDay() day.Day {
	var first day.Day
	earlier := func(on day.Day) {
		if on != 0 && (first == 0 || on < first) {
			first = on
		}
	}
	for i := range r.Lines {
		if r.Lines[i].Kind == Purchase {
			earlier(r.Lines[i].On)
		}
	}
	if first != 0 {
		return first
	}
	for i := range r.Lines {
		earlier(r.Lines[i].On)
	}
	for i := range r.Sessions {
		earlier(r.Sessions[i].On)
	}
	return first
}

// lastDay is the latest day of any line or session.
func (r Record) lastDay() day.Day {
	var last day.Day
	for i := range r.Lines {
		last = max(last, r.Lines[i].On)
	}
	for i := range r.Sessions {
		last = max(last, r.Sessions[i].On)
	}
	return last
}
