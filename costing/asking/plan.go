package asking

import (
	"math"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Step is an ask and the day from which to ask it, should the motor still be there.
type Step struct {
	On  day.Day
	Ask money.Amount
}

// How a plan is made: the ask is looked at again every so many days, for half a year; it is lowered when a
// lower one is by so much the better, and by no less than a part of it, since a drop that nobody notices
// brings nobody.
const (
	reviewEvery = 14
	planFor     = 182
	leastDrop   = 0.03
	leastGain   = 0.004
	deepestDrop = 0.30
	dropsLooked = 0.02
	mostSteps   = 6
)

// plan tells when to drop the ask to what, should the motor be unsold by then. It looks again at each review
// with what standing unsold has told.
func (l *Learned) plan(w *waiting, ask money.Amount, unit money.Amount) []Step {
	steps := []Step{{w.today, ask}}
	worlds := append([]world(nil), w.worlds...)
	now, r := w, w.room()
	for ahead := reviewEvery; ahead < w.last && ahead <= planFor && len(steps) < mostSteps; ahead += reviewEvery {
		// The worlds as they look after another while unsold at the present ask.
		before, ln := float64(steps[len(steps)-1].Ask), math.Log(float64(steps[len(steps)-1].Ask))
		total := 0.0
		for j := range worlds {
			x := &worlds[j]
			was := x.unsold(x.gathered)
			x.gathered += now.ripens[now.place(reviewEvery)][j] * math.Exp(-x.dear*(ln-x.worth))
			if was > 0 {
				x.weight *= x.unsold(x.gathered) / was
			}
			total += x.weight
		}
		if !(total > 0) {
			break
		}
		for j := range worlds {
			worlds[j].weight /= total
		}
		now = l.waiting(worlds, w.terms, w.today+day.Day(ahead), w.last-ahead)
		here := now.at(before, r)
		bestNet, best := here.net*(1+leastGain), money.Amount(0)
		for drop := leastDrop; drop <= deepestDrop; drop += dropsLooked {
			low, _ := asked(before*(1-drop), unit)
			o := now.at(float64(low), r)
			if o.net <= bestNet {
				if best > 0 {
					break
				}
				if drop > 3*leastDrop {
					break
				}
				continue
			}
			bestNet, best = o.net, low
		}
		if best > 0 {
			steps = append(steps, Step{now.today, best})
		}
	}
	return steps
}

// legs are the steps of a plan as days from today.
func legs(plan []Step) []leg {
	out := make([]leg, len(plan))
	for i, s := range plan {
		out[i] = leg{int(s.On - plan[0].On), float64(s.Ask)}
	}
	return out
}
