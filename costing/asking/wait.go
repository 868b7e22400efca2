package asking

import (
	"math"
	"slices"

	"skegworth/valuation/day"
)

// terms are what a sale and waiting for it cost, in minor units.
type terms struct {
	fee    float64 // share of the price
	fixed  float64 // with any sale
	perDay float64 // of holding
}

// net is what a price leaves.
func (t terms) net(price float64) float64 { return price*(1-t.fee) - t.fixed }

// gross is the price that leaves so much.
func (t terms) gross(net float64) float64 { return (net + t.fixed) / (1 - t.fee) }

// waiting is a motor in many worlds that waits for its buyer from today until a last day, on which it goes
// for what is given on the spot.
type waiting struct {
	terms
	worlds []world
	today  day.Day
	last   int         // days from today
	days   []int       // the days looked at, from today: each one at first, one a week later on, and the last
	ripens [][]float64 // by day looked at and world: baseline days gathered by then at worth, from today on
	spot   []float64   // net of what is given on the spot, by world
}

// daily is for how many days each is looked at.
const daily = 56

// looked are the days looked at until a last one.
func looked(last int) []int {
	var out []int
	for d := 0; d < last; {
		out = append(out, d)
		if d < daily {
			d++
		} else {
			d += 7
		}
	}
	return append(out, last)
}

func (l *Learned) waiting(worlds []world, t terms, today day.Day, last int) *waiting {
	w := &waiting{terms: t, worlds: worlds, today: today, last: max(0, last)}
	w.days = looked(w.last)
	n := len(worlds)
	w.ripens = make([][]float64, len(w.days))
	cells := make([]float64, len(w.days)*n)
	for k := range w.ripens {
		w.ripens[k], cells = cells[:n:n], cells[n:]
	}
	w.spot = make([]float64, n)
	inSeason, outOf := make([]float64, n), make([]float64, n)
	for j := range worlds {
		x := &worlds[j]
		w.spot[j] = math.Max(0, t.net(clearance*math.Exp(x.worth)))
		inSeason[j] = math.Exp(-x.start)
		outOf[j] = math.Exp(-x.start - x.slow)
	}
	for k := range len(w.days) - 1 {
		in, out := 0.0, 0.0
		for d := w.days[k]; d < w.days[k+1]; d++ {
			if l.slow != nil && l.slow(today+day.Day(d)) {
				out++
			} else {
				in++
			}
		}
		for j := range n {
			w.ripens[k+1][j] = w.ripens[k][j] + in*inSeason[j] + out*outOf[j]
		}
	}
	return w
}

// place is that of a day among those looked at, or of the next that is.
func (w *waiting) place(d int) int {
	k, _ := slices.BinarySearch(w.days, d)
	return min(k, len(w.days)-1)
}

// room is what one look at an ask works in; it is used over and over.
type room struct {
	value      [][]float64 // by day looked at and world: what waiting from that day on nets
	sells      [][]float64 // the chance that it is sold to a buyer on that day, or by the next looked at, when unsold before
	takes      [][]float64 // and the price, times that chance
	floor      []float64   // the walk-away price by day looked at
	gives      []bool      // whether it is let go on the spot at the day's begin
	middle     []float64   // by world: ln of what half the buyers would pay
	mean       []float64   // exp of that and half the square of its scatter
	atAsk      []float64   // chance that a buyer would pay the ask
	upTo       []float64   // chance that he would pay less, weighed by what
	unsold     []float64
	unsoldNext []float64
	pace       []float64 // by world: how fast baseline days count at the ask
	before     []float64 // by world: the chance of having met no buyer until today
	spot       []float64 // by world: what is given on the spot, by the worth or by the ask, whichever is less
	begun      []float64 // by world: baseline days gathered before the ask stood, less those of the days before it at its pace
}

// leg is an ask and the day from today on from which it stands.
type leg struct {
	from int
	ask  float64
}

func (w *waiting) room() *room {
	days, worlds := len(w.days), len(w.worlds)
	block := func() [][]float64 {
		rows, cells := make([][]float64, days), make([]float64, days*worlds)
		for d := range rows {
			rows[d], cells = cells[:worlds:worlds], cells[worlds:]
		}
		return rows
	}
	line := func() []float64 { return make([]float64, worlds) }
	return &room{value: block(), sells: block(), takes: block(), floor: make([]float64, days), gives: make([]bool, days),
		middle: line(), mean: line(), atAsk: line(), upTo: line(), unsold: line(), unsoldNext: line(),
		pace: line(), before: line(), begun: line(), spot: line()}
}

// policy works out backwards, from the last day to today, what waiting at asks nets in each world and from
// which price on a buyer is taken on each day: from what leaves no less than waiting on does, on the average
// over the worlds as they look to one who has not sold by then. It is never above the ask of
// the day. Where what is
// given on the spot is more than that average, the motor goes.
func (w *waiting) policy(legs []leg, r *room) {
	w.ready(r)
	at := len(legs) - 1
	w.stand(legs, at, r)
	ask := legs[at].ask
	end := len(w.days) - 1
	copy(r.value[end], r.spot)
	r.gives[end], r.floor[end] = true, 0
	w.metNone(end, r, r.unsoldNext)
	for d := end - 1; d >= 0; d-- {
		step := float64(w.days[d+1] - w.days[d])
		if at > 0 && w.days[d] < legs[at].from {
			at--
			w.stand(legs, at, r)
			ask = legs[at].ask
		}
		next := r.value[d+1]
		w.metNone(d, r, r.unsold)
		onward, weight := 0.0, 0.0
		for j := range w.worlds {
			here := w.worlds[j].weight * r.unsold[j]
			onward += here * next[j]
			weight += here
		}
		if !(weight > 0) { // surely sold by then
			copy(r.value[d], next)
			r.floor[d], r.gives[d] = r.floor[d+1], true
			r.unsold, r.unsoldNext = r.unsoldNext, r.unsold
			continue
		}
		floor := math.Max(0, math.Min(w.gross(onward/weight), ask))
		r.floor[d] = floor
		lnFloor := math.Log(math.Max(floor, 1e-9))
		value, sells, takes := r.value[d], r.sells[d], r.takes[d]
		waits, goes := 0.0, 0.0
		for j := range w.worlds {
			x := &w.worlds[j]
			came := 1.0
			if r.unsold[j] > 0 {
				came = math.Max(0, 1-r.unsoldNext[j]/r.unsold[j])
			}
			taken, price := r.taken(j, lnFloor, ask, x.scatter)
			sells[j] = came * taken
			takes[j] = came * price
			held := step - (step-1)*sells[j]/2 // who comes in the course of a week leaves half of it unpaid
			value[j] = math.Max(0, takes[j]*(1-w.fee)-sells[j]*w.fixed+(1-sells[j])*next[j]-w.perDay*held)
			here := x.weight * r.unsold[j]
			waits += here * value[j]
			goes += here * r.spot[j]
		}
		if r.gives[d] = goes >= waits; r.gives[d] {
			copy(value, r.spot)
			r.floor[d] = math.Min(math.Max(floor, w.gross(goes/weight)), ask)
		}
		r.unsold, r.unsoldNext = r.unsoldNext, r.unsold
	}
}

// taken is the chance that a buyer in a world would pay no less than a walk-away price, and what he then
// pays times that chance.
func (r *room) taken(j int, lnFloor, ask, scatter float64) (chance, price float64) {
	chance = below((r.middle[j] - lnFloor) / scatter)
	price = r.mean[j]*math.Max(0, r.upTo[j]-below((lnFloor-r.middle[j]-scatter*scatter)/scatter)) + ask*r.atAsk[j]
	return chance, price
}

// ready puts what does not depend on the asks.
func (w *waiting) ready(r *room) {
	for j := range w.worlds {
		r.before[j] = w.worlds[j].unsold(w.worlds[j].gathered)
	}
}

// stand makes ready for the days on which one of the asks stands.
func (w *waiting) stand(legs []leg, at int, r *room) {
	ln := math.Log(legs[at].ask)
	for j := range w.worlds {
		x := &w.worlds[j]
		m, s := x.wouldPay(ln), x.scatter
		r.middle[j] = m
		r.mean[j] = math.Exp(m + s*s/2)
		r.atAsk[j] = below((m - ln) / s)
		r.upTo[j] = below((ln - m - s*s) / s)
		r.spot[j] = math.Max(0, math.Min(w.spot[j], w.net(clearance*legs[at].ask)))
		r.pace[j] = math.Exp(-x.dear * (ln - x.worth))
		r.begun[j] = x.gathered - w.ripens[w.place(legs[at].from)][j]*r.pace[j]
		for k := range at {
			from, to := w.place(legs[k].from), w.place(legs[k+1].from)
			r.begun[j] += (w.ripens[to][j] - w.ripens[from][j]) * math.Exp(-x.dear*(math.Log(legs[k].ask)-x.worth))
		}
	}
}

// metNone puts the chances of having met no buyer from today until a day looked at.
func (w *waiting) metNone(d int, r *room, unsold []float64) {
	for j := range w.worlds {
		if r.before[j] <= 0 {
			unsold[j] = 0
			continue
		}
		unsold[j] = w.worlds[j].unsold(r.begun[j]+w.ripens[d][j]*r.pace[j]) / r.before[j]
	}
}
