package offer

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Outcomes is how many equally likely outcomes a comparison draws.
const Outcomes = 20_000

// Reach is how much of what is found a way out puts right.
type Reach int

const (
	MendsNothing Reach = iota
	MendsLight         // all but what goes deep
	MendsAll
)

// Way is a way out of a motor with what it takes and brings.
type Way struct {
	Exit     Exit
	Resale   Resale // sold whole
	Unmended Resale // sold whole, where something deep is found and left; nil is Resale
	Reach    Reach
	Work     []Work // done whatever is found; a case's job of the same name is then not done again
	Pieces   []Part // sold one by one
	Free     bool   // no marketplace keeps a share
	Selling  money.Amount
	Days     Days
	Comeback Comeback
}

// Part is one part of a motor that is broken.
type Part struct {
	Name   string
	Price  costing.ThreePoint // minor units
	Chance float64            // that it sells, or is needed
}

// Question is a motor that may be bought and the ways out of it.
type Question struct {
	Ways     []Way
	Doubts   []Doubt
	Settings costing.Settings
	Trip     float64      // distance there and back, in the shop's unit
	Buying   money.Amount // what buying costs beside the price: tax, a buyer's fee
	Asking   money.Amount
	Spent    money.Amount
	Draws    int // 0 is Outcomes
}

// WayAnswer is what one way out comes to.
type WayAnswer struct {
	Way
	Offer

	// Outcomes by each doubt's case, for the worth of a check: their profit before the price paid and
	// after own time, in minor units and summed.
	byCase [][]float64
}

// Sells is the price that a share p of outcomes stays at or under, of the motor or of its parts together.
func (o Offer) Sells(p float64) money.Amount {
	sold := o.draws.sold
	if len(sold) == 0 {
		return 0
	}
	return sold[min(max(int(p*float64(len(sold))), 0), len(sold)-1)]
}

// Answer compares the ways out on the same outcomes.
type Answer struct {
	Ways   []WayAnswer // in the order asked
	Best   int         // the way out that bears the highest price
	Doubts []Doubt

	counts [][]int // outcomes of each doubt's case
	draws  int
}

// BestWay is the one that bears the highest price.
func (a Answer) BestWay() WayAnswer { return a.Ways[a.Best] }

// Compare works out every way out on the same outcomes, the ways beside each other: their bands are asked
// from several goroutines. Errors name what cannot be worked with.
func Compare(q Question) (Answer, error) {
	fail := func(err error) (Answer, error) { return Answer{}, fmt.Errorf("work out what to pay: %w", err) }
	if q.Draws == 0 {
		q.Draws = Outcomes
	}
	if err := q.check(); err != nil {
		return fail(err)
	}
	a := Answer{Doubts: q.Doubts, draws: q.Draws}
	luck := q.luck()
	for _, l := range luck {
		a.counts = append(a.counts, l.counts)
	}
	a.Ways = make([]WayAnswer, len(q.Ways))
	errs := make([]error, len(q.Ways))
	var work sync.WaitGroup
	for i, w := range q.Ways {
		work.Go(func() { a.Ways[i], errs[i] = q.deal(w, luck) })
	}
	work.Wait()
	best := money.Amount(math.MinInt64)
	for i, w := range q.Ways {
		if errs[i] != nil {
			return fail(fmt.Errorf("%s: %w", w.Exit, errs[i]))
		}
		a.Ways[i].Way = w
		if lowest := a.Ways[i].Offer.lowest().Price; lowest > best {
			best, a.Best = lowest, i
		}
	}
	return a, nil
}

func (q Question) check() error {
	if len(q.Ways) == 0 {
		return errors.New("there is no way out of it")
	}
	if len(q.Doubts) > maxDoubts {
		return fmt.Errorf("more than %d doubts", maxDoubts)
	}
	if q.Draws < 10 || q.Draws > 20_000_000 {
		return fmt.Errorf("%d outcomes", q.Draws)
	}
	if err := q.Settings.Check(); err != nil {
		return err
	}
	for _, d := range q.Doubts {
		if err := d.check(); err != nil {
			return fmt.Errorf("%s: %w", d.Key, err)
		}
	}
	switch most := float64(maxAmount); {
	case !(q.Trip >= 0) || q.Trip*float64(q.Settings.TripRate) > most:
		return errors.New("trip: the distance must be 0 or more, and not without end")
	case q.Buying < 0 || q.Buying > maxAmount:
		return errors.New("buying: its cost must be 0 or more")
	}
	for _, w := range q.Ways {
		if err := w.check(); err != nil {
			return fmt.Errorf("%s: %w", w.Exit, err)
		}
	}
	return nil
}

func (w Way) check() error {
	if w.Resale == nil && len(w.Pieces) == 0 {
		return errors.New("resale band: there is none")
	}
	if len(w.Pieces) > maxPieces {
		return fmt.Errorf("more than %d parts", maxPieces)
	}
	for _, job := range w.Work {
		if err := job.check(); err != nil {
			return err
		}
	}
	for _, p := range w.Pieces {
		if err := p.Price.Check(); err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
		if p.Price.Full().High > float64(maxAmount) {
			return fmt.Errorf("%s: its price is too large", p.Name)
		}
		if !(p.Chance >= 0 && p.Chance <= 1) {
			return fmt.Errorf("%s: %v is not a chance from 0 to 1", p.Name, p.Chance)
		}
	}
	if w.Selling < 0 || w.Selling > maxAmount {
		return errors.New("selling: its cost must be 0 or more")
	}
	if !(w.Comeback.Chance >= 0 && w.Comeback.Chance <= 1) || w.Comeback.Cost < 0 || w.Comeback.Cost > maxAmount {
		return errors.New("comebacks: their chance or cost is out of bounds")
	}
	return nil
}

// luckOf is one doubt dealt to the outcomes: of each its case, and how it does within the case.
type luckOf struct {
	order  []int32
	until  []int // strata up to and with each case
	counts []int
	which  []uint8
}

func (q Question) luck() []luckOf {
	out := make([]luckOf, len(q.Doubts))
	for d, doubt := range q.Doubts {
		l := luckOf{order: deck(q.Draws, luckOfDoubt+d), until: parted(doubt.chances(), q.Draws)}
		of := make([]uint8, q.Draws) // by stratum
		from := 0
		for c, until := range l.until {
			l.counts = append(l.counts, until-from)
			for k := from; k < until; k++ {
				of[k] = uint8(c)
			}
			from = until
		}
		l.which = make([]uint8, q.Draws)
		for i, k := range l.order {
			l.which[i] = of[k]
		}
		out[d] = l
	}
	return out
}

// deal makes the outcomes of one way out.
func (q Question) deal(w Way, luck []luckOf) (WayAnswer, error) {
	n := q.Draws
	good, left, err := w.prices(n)
	if err != nil {
		return WayAnswer{}, err
	}
	cost, minutes := make([]float64, n), make([]float64, n)
	deep := make([]bool, n)
	does := make(map[string]bool, len(w.Work))
	for _, job := range w.Work {
		does[job.Name] = true
	}
	hours, parts := total(w.Work, nil)
	table, time := make([]float64, n), make([]float64, n) // by stratum
	spread(table, time, hours, parts)
	for i, k := range deck(n, luckOfWork) {
		cost[i], minutes[i] = table[k], time[k]
	}
	spoilt := make([][]bool, len(w.Pieces)) // by outcome; nil where nothing spoils it
	for d, l := range luck {
		from := 0
		clear(table)
		clear(time)
		for c, until := range l.until {
			this := q.Doubts[d].Cases[c]
			if work, mended := this.mended(w.Reach); mended {
				hours, parts := total(work, does)
				spread(table[from:until], time[from:until], hours, parts)
			} else if this.Deep {
				for i, which := range l.which {
					deep[i] = deep[i] || int(which) == c
				}
			}
			for p, part := range w.Pieces {
				if slices.Contains(this.Spoils, part.Name) {
					if spoilt[p] == nil {
						spoilt[p] = make([]bool, n)
					}
					for i, which := range l.which {
						spoilt[p][i] = spoilt[p][i] || int(which) == c
					}
				}
			}
			from = until
		}
		for i, k := range l.order {
			cost[i] += table[k]
			minutes[i] += time[k]
		}
	}
	brought := w.partPrices(n, spoilt)

	a := WayAnswer{byCase: make([][]float64, len(luck))}
	for d := range luck {
		a.byCase[d] = make([]float64, len(luck[d].until))
	}
	fee := q.Settings.FeeRate
	if w.Free {
		fee = 0
	}
	fixed := w.Selling + q.Buying + q.Settings.TripCost(q.Trip)
	back := deck(n, luckOfComeback)
	returns := int32(math.Round(w.Comeback.Chance * float64(n)))
	d := draws{net: make([]money.Amount, n)}
	sold := make([]money.Amount, n)
	var sum, fees, costs money.Amount
	hour := float64(q.Settings.OwnRate) / float64(costing.Hour)
	for i := range n {
		price := brought[i]
		if good != nil {
			if deep[i] && left != nil {
				price += left[i]
			} else {
				price += good[i]
			}
		}
		price = min(price, maxAmount)
		kept := price.Times(fee)
		spent := money.Round(min(cost[i], 2*float64(maxAmount))) + fixed
		if back[i] < returns {
			spent += w.Comeback.Cost
		}
		time := int64(math.Round(minutes[i]))
		d.net[i] = price - kept - spent
		d.minutes += time
		sold[i] = price
		sum, fees, costs = sum+price, fees+kept, costs+spent
		for j := range luck {
			a.byCase[j][luck[j].which[i]] += float64(d.net[i]) - float64(float64(time)*hour)
		}
	}
	d.close(sum, fees, costs)
	if len(w.Pieces) > 0 || left != nil { // else they are in order already
		ascend(sold)
	}
	d.sold = sold
	a.Offer = d.offer(q.Settings, q.Asking)
	a.Offer.Warnings = a.Offer.missed(q)
	a.Offer.Notes = notesOf(n)
	return a, nil
}

// prices sold whole by outcome, both bands ranked alike; nil where nothing is sold whole.
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
	out := resale
	if !slices.IsSorted(out) {
		out = slices.Clone(resale)
		slices.Sort(out)
	}
	cut := int(tail * float64(n))
	low, high := max(out[cut], 0), min(out[n-1-cut], maxAmount)
	held := make([]money.Amount, n)
	for i, p := range out {
		held[i] = min(max(p, low), high)
	}
	return held, nil
}

// spread fills the middles of equally likely slices, work that takes long costing much.
func spread(cost, minutes []float64, hours, parts costing.ThreePoint) {
	n := float64(len(cost))
	zero := costing.ThreePoint{}
	for k := range cost {
		p := (float64(k) + 0.5) / n
		if parts != zero {
			cost[k] = parts.Quantile(p)
		}
		if hours != zero {
			minutes[k] = hours.Quantile(p) * float64(costing.Hour)
		}
	}
}

// partPrices is what the parts that sell bring, by outcome.
func (w Way) partPrices(n int, spoilt [][]bool) []money.Amount {
	out := make([]money.Amount, n)
	for p, part := range w.Pieces {
		sells := int(math.Round(part.Chance * float64(n)))
		prices := make([]money.Amount, sells)
		for k := range prices {
			prices[k] = money.Round(part.Price.Quantile((float64(k) + 0.5) / float64(sells)))
		}
		for i, k := range deck(n, luckOfPiece+p) {
			if int(k) < sells && (spoilt[p] == nil || !spoilt[p][i]) {
				out[i] += prices[k]
			}
		}
	}
	return out
}
