package asking

import (
	"math"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Decision is whether to take an offer made today.
type Decision struct {
	Offer   money.Amount
	Take    bool
	Net     money.Amount // what the offer leaves
	Waiting money.Amount // what waiting leaves on the average, its cost off
	More    float64      // the chance that waiting leaves more than the offer does
	Reserve int          // days to hold out before such an offer is good enough; 0 when it is today
	From    day.Day      // the day it is, the last one at the latest
}

// decide weighs an offer against waiting at an ask.
func (w *waiting) decide(ask, offer float64, r *room) Decision {
	w.policy([]leg{{0, ask}}, r)
	d := Decision{Offer: money.Round(offer), Net: money.Round(w.net(offer))}
	value, weights := 0.0, make([]float64, len(w.worlds))
	next := r.value[min(1, len(w.days)-1)]
	for j := range w.worlds {
		weights[j] = w.worlds[j].weight
		value += weights[j] * next[j]
	}
	d.Waiting = money.Round(value)
	d.Take = w.net(offer) >= value || offer >= ask
	d.More = w.more(ask, w.net(offer), weights, r)
	for k := 0; !d.Take && k+1 < len(w.days) && !r.gives[k] && r.floor[k] > offer; k++ {
		d.Reserve = w.days[k+1]
	}
	d.From = w.today + day.Day(d.Reserve)
	return d
}

// more is the chance that waiting from tomorrow on leaves more than a sum, holding costs off.
func (w *waiting) more(ask, than float64, weights []float64, r *room) float64 {
	chance := 0.0
	unsold := append([]float64(nil), weights...)
	for k := min(1, len(w.days)-1); ; k++ {
		cost := float64(w.days[k]) * w.perDay
		if k == len(w.days)-1 || r.gives[k] {
			for j := range unsold {
				if r.spot[j]-cost > than {
					chance += unsold[j]
				}
			}
			return chance
		}
		cost += w.perDay * float64(w.days[k+1]-w.days[k]+1) / 2
		need := w.gross(than + cost)
		from := math.Log(math.Max(1e-9, math.Max(need, r.floor[k])))
		lnFloor := math.Log(math.Max(1e-9, r.floor[k]))
		for j := range unsold {
			s := w.worlds[j].scatter
			if need <= ask && r.sells[k][j] > 0 {
				taken := below((r.middle[j] - lnFloor) / s)
				if taken > 0 {
					chance += unsold[j] * r.sells[k][j] * math.Min(1, below((r.middle[j]-from)/s)/taken)
				}
			}
			if unsold[j] *= 1 - r.sells[k][j]; unsold[j] < nobody {
				unsold[j] = 0
			}
		}
	}
}
