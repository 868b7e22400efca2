package asking

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/interp"

	"skegworth/valuation/money"
)

// Asks are looked at from lowest to highest, as parts of the motor's middle worth, at so many places. A
// curve is drawn through them.
const (
	lowestAsk  = 0.6
	highestAsk = 1.6
	knots      = 21
	curve      = 200
)

// Point is one ask of a curve.
type Point struct {
	Ask    money.Amount
	Net    money.Amount
	Days   float64 // expected until it is gone
	Mid    float64 // days within which half are sold, held to the last day
	Chance float64 // of a sale to a buyer by the last day
}

// looks works out what asks come to, on two threads.
func (w *waiting) looks(asks []float64) []Outcome {
	out := make([]Outcome, len(asks))
	const threads = 2
	var all sync.WaitGroup
	for k := range threads {
		all.Go(func() {
			r := w.room()
			for i := k; i < len(asks); i += threads {
				out[i] = w.at(asks[i], r)
			}
		})
	}
	all.Wait()
	return out
}

// knotAsks are where a curve about a middle is worked out.
func knotAsks(middle float64) []float64 {
	asks := make([]float64, knots)
	for i := range asks {
		asks[i] = middle * lowestAsk * math.Pow(highestAsk/lowestAsk, float64(i)/(knots-1))
	}
	return asks
}

// curveOf draws a curve through outcomes, monotone between each two.
func curveOf(outcomes []Outcome) []Point {
	x := make([]float64, len(outcomes))
	column := func(of func(Outcome) float64) func(float64) float64 {
		y := make([]float64, len(outcomes))
		for i, o := range outcomes {
			x[i], y[i] = math.Log(float64(o.Ask)), of(o)
		}
		var through interp.FritschButland
		if through.Fit(x, y) != nil {
			return func(float64) float64 { return y[0] }
		}
		return through.Predict
	}
	net := column(func(o Outcome) float64 { return o.net })
	days := column(func(o Outcome) float64 { return o.Days })
	mid := column(func(o Outcome) float64 { return o.median() })
	chance := column(func(o Outcome) float64 { return o.Chance })
	points := make([]Point, curve)
	for i := range points {
		ln := x[0] + (x[len(x)-1]-x[0])*float64(i)/(curve-1)
		points[i] = Point{Ask: money.Round(math.Exp(ln)), Net: money.Round(net(ln)), Days: days(ln), Mid: mid(ln), Chance: chance(ln)}
	}
	return points
}

// median is Mid to a part of a day.
func (o Outcome) median() float64 {
	for d, chance := range o.soldBy {
		if chance >= 0.5 && d > 0 {
			before := o.soldBy[d-1]
			return float64(d-1) + (0.5-before)/(chance-before)
		}
	}
	return float64(o.Last)
}

// best is the ask of the highest net among those looked at, made finer and then a figure as people ask it.
// The unit is the least amount that anybody asks in.
func (w *waiting) best(outcomes []Outcome, unit money.Amount, r *room) Outcome {
	nets := make([]float64, len(outcomes))
	asks := make([]float64, len(outcomes))
	for i, o := range outcomes {
		nets[i], asks[i] = o.net, float64(o.Ask)
	}
	most := asks[len(asks)-1]
	low, high := asked(vertex(asks, nets), unit)
	a := w.at(float64(low), r)
	if float64(high) <= most {
		if b := w.at(float64(high), r); b.net > a.net {
			return w.climb(b, +1, most, unit, r)
		}
	}
	return w.climb(a, -1, 0, unit, r)
}

// vertex is the ask of the highest net, made finer by the parabola through it and its neighbours in ln ask.
func vertex(asks, nets []float64) float64 {
	top := 0
	for i, v := range nets {
		if v > nets[top] {
			top = i
		}
	}
	at := math.Log(asks[top])
	if top > 0 && top < len(asks)-1 {
		before, here, after := nets[top-1], nets[top], nets[top+1]
		if bend := before - 2*here + after; bend < 0 {
			at += (math.Log(asks[top+1]) - at) * math.Max(-1, math.Min(0.5*(before-after)/bend, 1))
		}
	}
	return math.Exp(at)
}

// bestBy is the best ask to be gone within so many days, when every buyer is taken who leaves what is given
// on the spot, which is what is had on the last day. It is the least of those for that day and for all later
// ones looked at, so that a nearer day never raises it: on paper it does where many buyers are about to come.
func (w *waiting) bestBy(asks []float64, days int) float64 {
	nets := make([][]float64, len(w.days)) // by last day and ask
	for d := range nets {
		nets[d] = make([]float64, len(asks))
	}
	r := w.room()
	w.ready(r)
	still, taken, price := make([]float64, len(w.worlds)), make([]float64, len(w.worlds)), make([]float64, len(w.worlds))
	for k, ask := range asks {
		w.stand([]leg{{0, ask}}, 0, r)
		met, next := r.unsold, r.unsoldNext
		w.metNone(0, r, met)
		spot := 0.0
		for j := range w.worlds {
			spot += w.worlds[j].weight * r.spot[j]
		}
		floor := math.Log(math.Max(1e-9, math.Min(w.gross(spot), ask)))
		for j := range w.worlds {
			still[j] = w.worlds[j].weight
			taken[j], price[j] = r.taken(j, floor, ask, w.worlds[j].scatter)
		}
		got := 0.0 // from buyers, holding off
		for d := range w.days {
			nets[d][k] = got
			for j := range w.worlds {
				nets[d][k] += still[j] * r.spot[j]
			}
			if d+1 == len(w.days) {
				break
			}
			w.metNone(d+1, r, next)
			step := float64(w.days[d+1] - w.days[d])
			for j := range w.worlds {
				came := 1.0
				if met[j] > 0 {
					came = math.Max(0, 1-next[j]/met[j])
				}
				got += still[j] * (came*(price[j]*(1-w.fee)-taken[j]*w.fixed) - w.perDay*(step-(step-1)*came*taken[j]/2))
				if still[j] *= 1 - came*taken[j]; still[j] < nobody {
					still[j] = 0
				}
			}
			met, next = next, met
		}
	}
	best := math.Inf(1)
	for d := len(w.days) - 1; d >= max(1, w.place(days)); d-- {
		best = math.Min(best, vertex(asks, nets[d]))
	}
	return best
}

// climb goes on from figure to figure, up or down, while that nets more, and up to a most.
func (w *waiting) climb(from Outcome, way int, most float64, unit money.Amount, r *room) Outcome {
	for range curve {
		next := w.at(float64(figure(from.Ask, way, unit)), r)
		if next.net <= from.net || way > 0 && float64(next.Ask) > most {
			return from
		}
		from = next
	}
	return from
}

// figure is the next figure that people ask above a figure, or below it.
func figure(ask money.Amount, way int, unit money.Amount) money.Amount {
	if way > 0 {
		_, high := asked(float64(ask), unit)
		return high
	}
	low, _ := asked(float64(ask)-0.5, unit)
	return low
}

// asked are the figures below and above a price that people ask: 1,210, 2,850, 8,450.
func asked(price float64, unit money.Amount) (low, high money.Amount) {
	unit = max(unit, 1)
	size := math.Pow(10, math.Floor(math.Log10(math.Max(price, 1))))
	step := size / 20
	if price < 2*size {
		step = size / 100
	}
	whole := max(money.Round(step/float64(unit))*unit, unit)
	low = max(money.Amount(math.Floor(price/float64(whole)))*whole, whole)
	return low, low + whole
}
