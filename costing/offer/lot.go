package offer

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/bits"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Member is something in a lot: a motor with the outcomes of its best way out, its trip apart, or another
// thing.
type Member struct {
	Name  string
	Motor *Offer
	Thing costing.BundleThing // where it is no motor
	Asks  money.Amount        // by the seller for it alone, 0 not known
}

// value is what it is expected to bring, or is worth to the owner.
func (m Member) value() money.Amount {
	switch {
	case m.Motor != nil:
		return m.Motor.Resale
	case m.Thing.Kept:
		return m.Thing.OwnWorth
	}
	return money.Round(m.Thing.Worth.Mean() * m.Thing.Chance)
}

// Lot is several motors and things that a seller offers together.
type Lot struct {
	Members  []Member
	Settings costing.Settings
	Buying   Buying
	Trip     float64 // once for all
	Asks     money.Amount
	Splits   bool // the seller would part with some of it
	Draws    int  // 0 is Outcomes
}

// Pick is some of a lot, or all of it.
type Pick struct {
	Members []int
	Offer   Offer        // its top price for all of these together
	Price   money.Amount // asked for these: for all, each by itself, or else by their part of the value; 0 not known or not to be had
}

// Room is the top price less what is asked, where that is known.
func (p Pick) Room() money.Amount { return p.Offer.lowest().Price - p.Price }

// LotAnswer is what a lot is worth paying for.
type LotAnswer struct {
	All     Pick
	Without []Pick         // each member left out; where there are two and more
	Best    Pick           // of all that could be bought; All where the seller does not split
	Carries []money.Amount // each member's part of the price asked, or of the top price, by what they bring
}

// MaxMembers is the most that a lot may hold to be worked out: the seller who splits leaves a choice of two to
// that power.
const MaxMembers = 10

// pickDraws are enough to tell one choice from another.
const pickDraws = 1 << digit

// Together works out a lot. Every motor meets its outcomes with luck of its own, the trip is driven once, and
// the fee and the tax go by the one price. The line of expected profit is one for each motor, since each takes
// a place.
func Together(l Lot) (LotAnswer, error) {
	if l.Draws == 0 {
		l.Draws = Outcomes
	}
	if err := l.check(); err != nil {
		return LotAnswer{}, fmt.Errorf("work out what to pay for the lot: %w", err)
	}
	n := len(l.Members)
	dealt := l.deal(l.Draws)
	every := 1<<n - 1
	a := LotAnswer{All: l.pick(every, dealt)}
	if n > 1 {
		for i := range n {
			a.Without = append(a.Without, l.pick(every&^(1<<i), dealt))
		}
	}
	a.Best = a.All
	if l.Splits {
		a.Best = l.pick(l.bestOf(), dealt)
	}
	price := l.Asks
	if price == 0 {
		price = a.All.Offer.Top
	}
	a.Carries = l.shares(price)
	return a, nil
}

func (l Lot) check() error {
	if len(l.Members) == 0 {
		return errors.New("there is nothing in it")
	}
	if len(l.Members) > MaxMembers {
		return fmt.Errorf("it holds %d things, and no more than %d can be weighed against each other", len(l.Members), MaxMembers)
	}
	if err := l.Settings.Check(); err != nil {
		return err
	}
	if !(l.Trip >= 0) || l.Trip*float64(l.Settings.TripRate) > float64(maxAmount) {
		return errors.New("trip: the distance must be 0 or more, and not without end")
	}
	for _, m := range l.Members {
		if m.Motor != nil {
			continue
		}
		if err := m.Thing.Worth.Check(); err != nil {
			return fmt.Errorf("%s: %w", m.Name, err)
		}
		if m.Thing.Worth.Full().High > float64(maxAmount)/10 || m.Thing.OwnWorth < 0 || m.Thing.OwnWorth > maxAmount/10 {
			return fmt.Errorf("%s: its worth is out of bounds", m.Name)
		}
		if !share(m.Thing.Chance) {
			return fmt.Errorf("%s: %v is not a chance from 0 to 1", m.Name, m.Thing.Chance)
		}
	}
	return nil
}

// shares of a price by what each member brings.
func (l Lot) shares(price money.Amount) []money.Amount {
	weights := make([]float64, len(l.Members))
	for i, m := range l.Members {
		weights[i] = float64(max(0, m.value()))
	}
	out, err := money.Share(price, weights)
	if err != nil { // nothing of it is worth anything
		out = make([]money.Amount, len(l.Members))
	}
	return out
}

// deal gives each member its outcomes before the price paid, in an order of its own: each meets every other's
// evenly.
func (l Lot) deal(n int) [][]money.Amount {
	out := make([][]money.Amount, len(l.Members))
	for i, m := range l.Members {
		sorted := make([]money.Amount, n)
		for k := range sorted {
			p := (float64(k) + 0.5) / float64(n)
			if m.Motor != nil {
				sorted[k] = m.Motor.draws.net.quantile(p)
			} else {
				sorted[k] = m.brings(p, l.Settings.FeeRate)
			}
		}
		step, _ := bits.Mul64(steps()[i], uint64(n))
		for step = max(1, step); gcd(step, uint64(n)) != 1; step++ {
		}
		mine, at := make([]money.Amount, n), uint64(i)
		for j := range mine {
			mine[j] = sorted[at%uint64(n)]
			at += step
		}
		out[i] = mine
	}
	return out
}

func gcd(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// brings is what a thing comes to at a share p of its outcomes.
func (m Member) brings(p, fee float64) money.Amount {
	unsold := 1 - m.Thing.Chance
	switch {
	case m.Thing.Kept:
		return m.Thing.OwnWorth
	case p < unsold || m.Thing.Chance == 0:
		return 0
	}
	price := money.Round(m.Thing.Worth.Quantile((p - unsold) / m.Thing.Chance))
	return price - price.Times(fee)
}

// pick works out some members, by their bits.
func (l Lot) pick(which int, dealt [][]money.Amount) Pick {
	var p Pick
	n := len(dealt[0])
	net := make([]money.Amount, n)
	for i := range l.Members {
		if which>>i&1 == 1 {
			p.Members = append(p.Members, i)
			for j, v := range dealt[i] {
				net[j] += v
			}
		}
	}
	p.Offer, p.Price = l.offer(which, net), l.price(which)
	return p
}

// offer is what the sums of outcomes come to.
func (l Lot) offer(which int, net []money.Amount) Offer {
	d := draws{sum: new(big.Int)}
	trip := l.Settings.TripCost(l.Trip) + l.Buying.Known
	motors, weight, hold := 0, 0.0, 0.0
	for i, m := range l.Members {
		if which>>i&1 == 0 {
			continue
		}
		if m.Motor == nil {
			value := float64(m.value())
			d.resale += value
			if !m.Thing.Kept {
				d.fees += float64(value * l.Settings.FeeRate)
			}
			continue
		}
		of := m.Motor.draws
		motors++
		d.resale, d.fees, d.costs, d.hold, d.time = d.resale+of.resale, d.fees+of.fees, d.costs+of.costs, d.hold+of.hold, d.time+of.time
		weight += of.resale
		hold += float64(of.resale * m.Motor.outlay.hold)
	}
	out := outlay{fee: l.Buying.FeeRate, tax: l.Buying.TaxRate}
	if weight > 0 {
		out.hold = hold / weight
	}
	trip += trip.Times(out.hold)
	d.costs += float64(trip)
	least, sum := slices.Min(net), int64(0)
	keys := make([]uint64, len(net))
	for i, v := range net {
		keys[i] = uint64(v-least) << cellBits
		sum += int64(v - trip)
	}
	for i, k := range ascend(keys) {
		net[i] = least - trip + money.Amount(k>>cellBits)
	}
	d.net = alike(net)
	d.sum.Mul(big.NewInt(sum), big.NewInt(d.net.upto[0]))
	d.minutes = new(big.Int).Mul(big.NewInt(int64(math.Round(d.time))), big.NewInt(d.net.all()))
	s := l.Settings
	s.Profit *= money.Amount(max(1, motors))
	return d.offer(s, 0, out)
}

// price is what the seller asks for some members; 0 where those cannot be had alone.
func (l Lot) price(which int) money.Amount {
	switch whole := which == 1<<len(l.Members)-1; {
	case whole && l.Asks > 0:
		return l.Asks
	case !whole && !l.Splits:
		return 0
	}
	parts := l.shares(l.Asks)
	var sum money.Amount
	for i, m := range l.Members {
		switch {
		case which>>i&1 == 0:
		case m.Asks > 0:
			sum += m.Asks
		default:
			sum += parts[i]
		}
	}
	if l.Asks > 0 {
		sum = min(sum, l.Asks) // nobody pays more for some of it than for all
	}
	return sum
}

// bestOf all choices leaves the most room between the top price and what is asked; fewer members where it is
// the same.
func (l Lot) bestOf() int {
	dealt := l.deal(pickDraws)
	best, most := 1<<len(l.Members)-1, money.Amount(math.MinInt64)
	for which := 1; which < 1<<len(l.Members); which++ {
		room := l.pick(which, dealt).Room()
		if room > most || room == most && bits.OnesCount(uint(which)) < bits.OnesCount(uint(best)) {
			best, most = which, room
		}
	}
	return best
}
