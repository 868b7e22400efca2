package asking

import "skegworth/valuation/money"

// Outcome is what an ask comes to when every buyer is taken who offers the walk-away price of his day.
type Outcome struct {
	Ask    money.Amount
	Net    money.Amount // expected, after fees, selling costs and holding; on the last day it goes for what is given on the spot
	Price  money.Amount // expected, from a buyer
	Days   float64      // expected until it is gone
	Low    int          // days within which one motor in ten is sold to a buyer
	Mid    int          // half of them
	High   int          // nine in ten
	Chance float64      // that a buyer comes by the last day
	Last   int          // the last day looked ahead to; Low, Mid and High are held to it

	soldBy []float64 // the chance of a sale to a buyer, by day
	walk   float64   // today's walk-away price in minor units
	net    float64
}

// SoldWithin is the chance that it is sold to a buyer within so many days.
func (o Outcome) SoldWithin(days int) float64 {
	if days < 0 || len(o.soldBy) == 0 {
		return 0
	}
	return o.soldBy[min(days, len(o.soldBy)-1)]
}

// at works out what an ask comes to that is left from today on.
func (w *waiting) at(ask float64, r *room) Outcome { return w.along([]leg{{0, ask}}, r) }

// along works out what asks come to that follow each other.
func (w *waiting) along(legs []leg, r *room) Outcome {
	w.policy(legs, r)
	o := Outcome{Ask: money.Round(legs[0].ask), Last: w.last, walk: r.floor[0], soldBy: make([]float64, w.last+1)}
	unsold := r.unsold
	total := 0.0
	for j := range w.worlds {
		unsold[j] = w.worlds[j].weight
		o.net += unsold[j] * r.value[0][j]
		total += unsold[j]
	}
	o.net /= total
	sold, paid := 0.0, 0.0
	for d := 0; d+1 < len(w.days); d++ {
		before, left, stood := sold, 0.0, 0.0
		for j := range unsold {
			if r.gives[d] {
				unsold[j] = 0
			}
			stood += unsold[j]
			sold += unsold[j] * r.sells[d][j]
			paid += unsold[j] * r.takes[d][j]
			if unsold[j] *= 1 - r.sells[d][j]; unsold[j] < nobody {
				unsold[j] = 0
			}
			left += unsold[j]
		}
		step := w.days[d+1] - w.days[d]
		for k := range step {
			o.soldBy[w.days[d]+k] = (before + (sold-before)*float64(k)/float64(step)) / total
		}
		o.Days += float64(step) * (left + (stood-left)*float64(step-1)/float64(2*step)) / total
	}
	o.soldBy[w.last] = sold / total
	o.Chance = sold / total
	o.Net = money.Round(o.net)
	if sold > 0 {
		o.Price = money.Round(paid / sold)
	}
	o.Low, o.Mid, o.High = o.within(0.1), o.within(0.5), o.within(0.9)
	return o
}

// nobody is a chance so small that it is none; what is smaller still is slow to reckon with.
const nobody = 1e-15

// within is the first day by which a share q is sold, or the last one.
func (o Outcome) within(q float64) int {
	for d, chance := range o.soldBy {
		if chance >= q {
			return d
		}
	}
	return o.Last
}
