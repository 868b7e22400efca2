package offer

import (
	"cmp"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Hinge is how far a top price hangs on one input: what it is with the input at either end of its own
// range and all else as it is. It may be below nothing, where no price would do.
type Hinge struct {
	Input    string // "resale", "parts", "hours", "comebacks", or the key of a doubt
	From, To string // of a doubt the cases at either end
	Low      money.Amount
	High     money.Amount
}

// The ends of an input's range: one outcome in ten lies beyond each.
const hingeLow, hingeHigh = 0.1, 0.9

// fixed is a resale price that is known.
type fixed money.Amount

func (f fixed) Draws(n int) []money.Amount { return slices.Repeat([]money.Amount{money.Amount(f)}, n) }

// Hinges are what the top price of one way out hangs on, the most first.
func Hinges(q Question, way int) ([]Hinge, error) {
	top := func(w Way, doubts []Doubt) (money.Amount, error) {
		each := q
		each.Ways, each.Doubts = []Way{w}, doubts
		a, err := Compare(each)
		if err != nil {
			return 0, err
		}
		return a.Ways[0].Offer.lowest().Price, nil
	}
	w := q.Ways[way]
	var out []Hinge
	add := func(h Hinge, low, high Way) error {
		var err error
		if h.Low, err = top(low, q.Doubts); err != nil {
			return err
		}
		if h.High, err = top(high, q.Doubts); err != nil {
			return err
		}
		if h.Low > h.High {
			h.Low, h.High = h.High, h.Low
		}
		if h.Low != h.High {
			out = append(out, h)
		}
		return nil
	}
	priced := func(p float64) Way {
		c := w
		c.Resale, c.Unmended = at(w.Resale, p), at(w.Unmended, p)
		c.Pieces = slices.Clone(w.Pieces)
		for i := range c.Pieces {
			c.Pieces[i].Price = costing.ThreePoint{Likely: w.Pieces[i].Price.Quantile(p)}
		}
		return c
	}
	work := func(f func(*Work)) Way {
		c := w
		c.Work = slices.Clone(w.Work)
		hours, parts := total(w.Work, nil)
		job := Work{Hours: hours, Parts: parts}
		f(&job)
		for i := range c.Work { // the names stay, so that no case does a job again
			c.Work[i].Hours, c.Work[i].Parts = costing.ThreePoint{}, costing.ThreePoint{}
		}
		c.Work = append(c.Work, job)
		return c
	}
	sure := func(t costing.ThreePoint, p float64) costing.ThreePoint {
		return costing.ThreePoint{Likely: t.Quantile(p)}
	}
	none, always := w, w
	none.Comeback.Chance, always.Comeback.Chance = 0, 1
	for _, h := range []struct {
		input     string
		low, high Way
	}{
		{"resale", priced(hingeLow), priced(hingeHigh)},
		{"parts", work(func(j *Work) { j.Parts = sure(j.Parts, hingeLow) }), work(func(j *Work) { j.Parts = sure(j.Parts, hingeHigh) })},
		{"hours", work(func(j *Work) { j.Hours = sure(j.Hours, hingeLow) }), work(func(j *Work) { j.Hours = sure(j.Hours, hingeHigh) })},
		{"comebacks", none, always},
	} {
		if err := add(Hinge{Input: h.input}, h.low, h.high); err != nil {
			return nil, err
		}
	}
	for d, doubt := range q.Doubts {
		var h Hinge
		for c, this := range doubt.Cases {
			if this.Chance == 0 {
				continue
			}
			known := slices.Clone(q.Doubts)
			this.Chance = 1
			known[d].Cases = []Case{this}
			price, err := top(w, known)
			if err != nil {
				return nil, err
			}
			if h.Input == "" || price < h.Low {
				h.Low, h.From = price, doubt.Cases[c].Key
			}
			if h.Input == "" || price > h.High {
				h.High, h.To = price, doubt.Cases[c].Key
			}
			h.Input = doubt.Key
		}
		if h.Low != h.High {
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(a, b Hinge) int { return cmp.Compare(b.High-b.Low, a.High-a.Low) })
	return out, nil
}

func at(r Resale, p float64) Resale {
	if r == nil {
		return nil
	}
	const n = 1000
	d := r.Draws(n)
	return fixed(d[int(p*n)])
}
