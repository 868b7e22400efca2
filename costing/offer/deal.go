package offer

import (
	"fmt"
	"math"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// dealing makes the outcomes of one way out.
type dealing struct {
	q          Question
	w          Way
	good, left []money.Amount // prices sold whole, ascending; left where something deep is left
	own        job            // work whatever is found
	work       [][]job        // by doubt and case
	common     []money.Amount // what the parts that nothing spoils bring together, ascending
	rest       []Part         // those that something spoils
	out        outlay
	space      money.Amount
}

// deal makes the outcomes of one way out.
func (q Question) deal(w Way, joint []cell) (WayAnswer, error) {
	n := q.Draws
	d := dealing{q: q, w: w}
	var err error
	if d.good, d.left, err = w.prices(n); err != nil {
		return WayAnswer{}, err
	}
	does := make(map[string]bool, len(w.Work))
	for _, j := range w.Work {
		does[j.Name] = true
	}
	d.own = jobOf(total(w.Work, nil))
	for _, doubt := range q.Doubts {
		var of []job
		for _, c := range doubt.Cases {
			j := jobOf(costing.ThreePoint{}, costing.ThreePoint{})
			if work, mended := c.mended(w.Reach); mended {
				j = jobOf(total(work, does))
			}
			of = append(of, j)
		}
		d.work = append(d.work, of)
	}
	d.together()
	d.out = outlay{q.Buying.FeeRate, q.Buying.TaxRate, q.Settings.CostOfMoney * float64(w.CashDays) / 365}
	d.space = q.Settings.SpaceADay.Times(float64(w.CashDays))

	cells := tellApart(d.alike(joint), w, n)
	points := 0
	for _, c := range cells {
		points += c.points
	}
	t := tally{cells: cells, net: make([]money.Amount, 0, points), of: make([]uint16, 0, points), sums: make([]sums, len(cells))}
	plain := len(w.Pieces) == 0 && d.left == nil // sold by its band, whatever is found
	if !plain {
		t.sold = make([]money.Amount, 0, points)
	}
	for i := range cells {
		d.cell(&t, i)
	}
	var sold *sorted
	if plain {
		s := alike(d.good)
		sold = &s
	}
	a := WayAnswer{byCase: d.byCase(t)}
	a.Offer = t.close(sold).offer(q.Settings, q.Asking, d.out)
	a.Offer.Warnings = a.Offer.missed(q)
	a.Offer.Notes = notesOf(n)
	return a, nil
}

// cell makes the outcomes of one joint case.
func (d *dealing) cell(t *tally, at int) {
	c := t.cells[at]
	s := &t.sums[at]
	fee := d.q.Settings.FeeRate
	if d.w.Free {
		fee = 0
	}
	upfront := d.q.Buying.Known + d.q.Settings.TripCost(d.q.Trip) + d.q.Looks
	later := d.w.Selling
	if c.back {
		later += d.w.Comeback.Cost
	}
	prices := d.good
	if d.left != nil && d.deep(c) {
		prices = d.left
	}
	if len(d.w.Pieces) > 0 {
		prices = d.pieces(c)
	}
	jobs, luck := d.jobs(c, at)
	n := int64(len(prices))
	for j := range c.points {
		price := min(between(prices, int64(2*j+1)*n-int64(c.points), int64(2*c.points)), maxAmount)
		cost, minutes := 0.0, 0.0
		for k, work := range jobs {
			u := luck[k].next()
			cost += work.parts.at(u)
			minutes += work.minutes.at(u)
		}
		kept := price.Times(fee)
		early := money.Round(min(cost, 2*float64(maxAmount))) + upfront
		hold := early.Times(d.out.hold) + d.space
		time := int64(math.Round(minutes))
		net := price - kept - early - later - hold
		s.net += int64(net)
		s.resale += int64(price)
		s.fees += int64(kept)
		s.costs += int64(early + later)
		s.hold += int64(hold)
		s.minutes += time
		t.net = append(t.net, net)
		t.of = append(t.of, uint16(at))
		if t.sold != nil {
			t.sold = append(t.sold, price)
		}
	}
}

// between reads a list at a place between two of its entries, at/of from its first on.
func between(all []money.Amount, at, of int64) money.Amount {
	switch i := at / of; {
	case at <= 0:
		return all[0]
	case i >= int64(len(all))-1:
		return all[len(all)-1]
	default:
		return all[i] + (all[i+1]-all[i])*money.Amount(at%of)/money.Amount(of)
	}
}

// jobs are what the case takes, each with its luck.
func (d *dealing) jobs(c cell, at int) (jobs []job, luck []sequence) {
	add := func(j job, source int) {
		if !j.none {
			jobs, luck = append(jobs, j), append(luck, sequenceOf(source, at))
		}
	}
	add(d.own, luckOfWork)
	for i, k := range c.cases {
		add(d.work[i][k], luckOfDoubt+i)
	}
	return jobs, luck
}

// deep tells whether something of the case is left as it is that goes deep.
func (d *dealing) deep(c cell) bool {
	for i, k := range c.cases {
		this := d.q.Doubts[i].Cases[k]
		if _, mended := this.mended(d.w.Reach); !mended && this.Deep {
			return true
		}
	}
	return false
}

// spoilt tells whether something of the case leaves a part worth nothing.
func (d *dealing) spoilt(c cell, part string) bool {
	for i, k := range c.cases {
		if slices.Contains(d.q.Doubts[i].Cases[k].Spoils, part) {
			return true
		}
	}
	return false
}

// byCase sums profit after own time, before the price paid, by each doubt's cases.
func (d *dealing) byCase(t tally) [][]float64 {
	hour := float64(d.q.Settings.OwnRate) / float64(costing.Hour)
	out := make([][]float64, len(d.q.Doubts))
	for i, doubt := range d.q.Doubts {
		out[i] = make([]float64, len(doubt.Cases))
	}
	for at, c := range t.cells {
		s := t.sums[at]
		profit := (float64(s.net) - float64(float64(s.minutes)*hour)) / float64(c.points)
		for _, l := range c.alike {
			for i, k := range l.cases {
				out[i][k] += float64(float64(c.chance*l.chance) * profit)
			}
		}
	}
	return out
}

// prices sold whole, ascending; nil where nothing is sold whole.
func (w Way) prices(n int) (good, left []money.Amount, err error) {
	if w.Resale == nil {
		return nil, nil, nil
	}
	if good, err = held(w.Resale, n); err != nil || w.Unmended == nil {
		return good, nil, err
	}
	left, err = held(w.Unmended, n)
	return good, left, err
}

// held are a band's prices, ascending, held at its outer points.
func held(r Resale, n int) ([]money.Amount, error) {
	resale := r.Draws(n)
	if len(resale) != n {
		return nil, fmt.Errorf("resale band: it gave %d draws and not %d", len(resale), n)
	}
	out := slices.Clone(resale)
	if !slices.IsSorted(out) {
		slices.Sort(out)
	}
	cut := int(tail * float64(n))
	low, high := max(out[cut], 0), min(out[n-1-cut], maxAmount)
	for i, p := range out {
		out[i] = min(max(p, low), high)
	}
	return out, nil
}
