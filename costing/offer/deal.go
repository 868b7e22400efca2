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
	ladders    map[*money.Amount]*ladder // of the prices sold whole
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
	drawn := t.close(sold)
	if len(w.Pieces) == 0 && len(cells) > 1 { // one case has no gaps, and what many parts bring has none that tell
		drawn.line = &riskLine{t.spent, 1 - d.fee()}
	}
	a.Offer = drawn.offer(q.Settings, q.Asking, d.out)
	a.Offer.Warnings = a.Offer.missed(q)
	a.Offer.Notes = notesOf(n)
	return a, nil
}

// cell makes the outcomes of one joint case.
func (d *dealing) cell(t *tally, at int) {
	c := t.cells[at]
	s := &t.sums[at]
	fee := d.fee()
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
		cost := 0.0
		for k, work := range jobs {
			cost += work.parts.at(luck[k].next())
		}
		kept := price.Times(fee)
		early, hold := d.early(cost, upfront)
		net := price - kept - early - later - hold
		s.net += int64(net)
		s.resale += int64(price)
		s.fees += int64(kept)
		s.costs += int64(early + later)
		s.hold += int64(hold)
		t.net = append(t.net, net)
		t.of = append(t.of, uint16(at))
		if t.sold != nil {
			t.sold = append(t.sold, price)
		}
	}
	minutes := 0.0
	for _, work := range jobs {
		minutes += work.minutes.mean
	}
	s.minutes = int64(math.Round(float64(minutes * float64(c.points))))
	if len(d.w.Pieces) == 0 && len(t.cells) > 1 {
		t.spent = append(t.spent, spending{d.ladder(prices), d.spent(c, at, upfront, later), float64(c.weight) * float64(c.points)})
	}
}

// spent is what outcomes of a joint case spend, fewer of them than are dealt: the chance of a loss is smooth in
// what is spent.
func (d *dealing) spent(c cell, at int, upfront, later money.Amount) []money.Amount {
	jobs, luck := d.jobs(c, at)
	n := 1
	switch len(jobs) {
	case 0:
	case 1: // its middles are as good as all of it
		n = 128
	default:
		n = max(128, c.points/2)
	}
	out := make([]money.Amount, n)
	for i := range out {
		cost := 0.0
		for k, work := range jobs {
			u := (float64(i) + 0.5) / float64(n)
			if k > 0 {
				u = luck[k].next()
			}
			cost += work.parts.at(u)
		}
		early, hold := d.early(cost, upfront)
		out[i] = early + hold + later
	}
	return out
}

// early is what is spent before the sale, and what holding that costs.
func (d *dealing) early(cost float64, upfront money.Amount) (spent, hold money.Amount) {
	spent = money.Round(min(cost, 2*float64(maxAmount))) + upfront
	return spent, spent.Times(d.out.hold) + d.space
}

// ladder of prices sold whole, made once.
func (d *dealing) ladder(prices []money.Amount) *ladder {
	if d.ladders[&prices[0]] == nil {
		if d.ladders == nil {
			d.ladders = map[*money.Amount]*ladder{}
		}
		d.ladders[&prices[0]] = ladderOf(prices)
	}
	return d.ladders[&prices[0]]
}

// fee is the share of a price that the marketplace keeps.
func (d *dealing) fee() float64 {
	if d.w.Free {
		return 0
	}
	return d.q.Settings.FeeRate
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
	at := int64(math.Round(2*tail*float64(n))) - 1 // in halves: out holds the middles of n slices
	low, high := max(between(out, at, 2), 0), min(between(out, 2*int64(n-1)-at, 2), maxAmount)
	for i, p := range out {
		out[i] = min(max(p, low), high)
	}
	return out, nil
}
