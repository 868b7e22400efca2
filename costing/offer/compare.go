package offer

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Outcomes is how many outcomes a comparison draws, shared over the joint cases.
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
	CashDays int // that cash is tied up in it
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
	Trip     float64 // distance there and back, in the shop's unit
	Buying   Buying
	Looks    money.Amount // its share of the trips to motors that are not bought
	Asking   money.Amount
	Spent    money.Amount
	Draws    int // 0 is Outcomes
}

// Buying is what buying costs beside the price: amounts that are known, and shares of the price paid.
type Buying struct {
	Known            money.Amount
	FeeRate, TaxRate float64
}

// WayAnswer is what one way out comes to.
type WayAnswer struct {
	Way
	Offer

	// Outcomes by each doubt's case, for the worth of a check: their profit before the price paid and
	// after own time, in minor units and times their chance.
	byCase [][]float64
}

// Sells is the price that a share p of outcomes stays at or under, of the motor or of its parts together.
func (o Offer) Sells(p float64) money.Amount { return o.draws.sold.quantile(p) }

// Answer compares the ways out on the same outcomes.
type Answer struct {
	Ways   []WayAnswer // in the order asked
	Best   int         // the way out that bears the highest price
	Doubts []Doubt

	chances [][]float64 // of each doubt's cases
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
	a := Answer{Doubts: q.Doubts}
	for _, d := range q.Doubts {
		a.chances = append(a.chances, d.chances())
	}
	joint := jointCases(q.Doubts)
	a.Ways = make([]WayAnswer, len(q.Ways))
	errs := make([]error, len(q.Ways))
	var work sync.WaitGroup
	for i, w := range q.Ways {
		work.Go(func() { a.Ways[i], errs[i] = q.deal(w, joint) })
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
	case q.Buying.Known < 0 || q.Buying.Known > maxAmount:
		return errors.New("buying: its cost must be 0 or more")
	case !share(q.Buying.FeeRate) || !share(q.Buying.TaxRate):
		return errors.New("buying: a rate is no share of the price from 0 to 1")
	case q.Looks < 0 || q.Looks > maxAmount:
		return errors.New("trips to other motors: their cost must be 0 or more")
	}
	cases := 1
	for _, d := range q.Doubts {
		if cases *= len(d.Cases); cases > maxCells {
			return fmt.Errorf("more than %d ways in which its doubts may turn out", maxCells)
		}
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
	all := 0.0
	for _, p := range w.Pieces {
		if err := p.Price.Check(); err != nil {
			return fmt.Errorf("%s: %w", p.Name, err)
		}
		if p.Price.Full().High > float64(maxAmount) {
			return fmt.Errorf("%s: its price is too large", p.Name)
		}
		if all += p.Price.Full().High; all > float64(maxAmount)/10 {
			return errors.New("parts: their prices together are too large")
		}
		if !(p.Chance >= 0 && p.Chance <= 1) {
			return fmt.Errorf("%s: %v is not a chance from 0 to 1", p.Name, p.Chance)
		}
	}
	if w.CashDays < 0 || w.CashDays > maxDays {
		return errors.New("days of cash: they are out of bounds")
	}
	if w.Selling < 0 || w.Selling > maxAmount {
		return errors.New("selling: its cost must be 0 or more")
	}
	if !(w.Comeback.Chance >= 0 && w.Comeback.Chance <= 1) || w.Comeback.Cost < 0 || w.Comeback.Cost > maxAmount {
		return errors.New("comebacks: their chance or cost is out of bounds")
	}
	return nil
}

func share(v float64) bool { return v >= 0 && v <= 1 }

// maxDays is more than anyone waits.
const maxDays = 100_000
