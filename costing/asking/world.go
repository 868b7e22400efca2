package asking

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// howManyWorlds an answer is an average over, and how many those are taken from once something was seen:
// powers of two, since what is paired in them is paired by turning digits round.
const (
	howManyWorlds = 64
	moreWorlds    = 1024
)

// yearAhead is as far as anything is looked ahead.
const yearAhead = 365

// world is one way in which things may be.
type world struct {
	worth    float64 // ln of the motor's worth in minor units
	start    float64 // ln baseline days at worth, in season
	dear     float64
	slow     float64
	scale    float64
	haggle   float64 // h
	beyond   float64 // g
	scatter  float64 // s
	weight   float64 // as seen before today's answer; they add up to 1
	gathered float64 // baseline days so far, times what the asks so far made of them
}

// Resale is what the motor may bring as it stands. [skegworth/valuation.Band] is one.
type Resale interface {
	Median() money.Amount
	// Interval gives the prices between which a share level of sales falls, as much below as above.
	Interval(level float64) (low, high money.Amount)
	// Draws are n prices that stand for it, ascending.
	Draws(n int) []money.Amount
}

// worlds pairs what a motor may be worth with what days and haggling may be, each spread evenly over the
// other as in Hammersley's point set.
func (l *Learned) worlds(n int, resale Resale, power float64, channel string) []world {
	worths := resale.Draws(n)
	days := l.days.Draws(n, l.row(0, power, channel, false))
	haggling := l.haggling.Draws(n, []float64{1, 0})
	middle := math.Log(math.Max(1, float64(resale.Median())))
	part := l.worthPart(resale)
	out := make([]world, n)
	for i := range out {
		d := days[turned(i, n)]
		h := haggling[int(inThrees(i)*float64(n))]
		w := &out[i]
		w.worth = middle + part*(math.Log(math.Max(1, float64(worths[i])))-middle)
		w.start = dotRow(l.row(0, power, channel, false), d.B)
		w.dear = math.Max(dearSlowerLeast, d.B[columnDear])
		w.slow = d.B[columnSlow]
		w.scale = d.Scale
		w.haggle, w.scatter = h.B[columnUsual], h.Scale
		w.beyond = math.Max(beyondLeast, math.Min(h.B[columnAbove], beyondMost))
		w.weight = 1 / float64(n)
	}
	return out
}

// worthPart is the part of a band's spread that is the motor's own: the rest is the haggling of whoever comes.
func (l *Learned) worthPart(resale Resale) float64 {
	low, high := resale.Interval(0.8)
	if low <= 0 || high <= low {
		return 1
	}
	part := l.haggling.Scale() / (math.Log(float64(high)/float64(low)) / (2 * 1.2816))
	return math.Sqrt(math.Max(0.25, 1-part*part))
}

func dotRow(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// turned is i, below a power of two n, with its binary digits the other way round.
func turned(i, n int) int { return int(bits.Reverse64(uint64(i)) >> (64 - bits.Len(uint(n-1)))) }

// inThrees and inFives are the radical inverses of i, from 0 to less than 1.
func inThrees(i int) float64 { return inverse(i, 3) }
func inFives(i int) float64  { return inverse(i, 5) }

func inverse(i, base int) float64 {
	v, part := 0.0, 1.0
	for i++; i > 0; i /= base {
		part /= float64(base)
		v += part * float64(i%base)
	}
	return v
}

// spreadOut is the standard normal quantile of u, kept from its ends.
func spreadOut(u float64) float64 {
	return math.Sqrt2 * math.Erfinv(2*math.Max(0.01, math.Min(u, 0.99))-1)
}

// wouldPay is the middle of ln of what a buyer would pay at an ask, given as its logarithm.
func (w *world) wouldPay(ask float64) float64 {
	return ask + w.haggle + w.beyond*(ask-w.worth-usualAbove)
}

// rate is how fast baseline time is gathered at an ask in season.
func (w *world) rate(ask float64) float64 { return math.Exp(-w.start - w.dear*(ask-w.worth)) }

// unsold is the chance of not having met a buyer after so much gathered time.
func (w *world) unsold(gathered float64) float64 {
	if gathered <= 0 {
		return 1
	}
	return below(-math.Log(gathered) / w.scale)
}

// Bid is an offer that was received and not taken.
type Bid struct {
	On     day.Day
	Amount money.Amount
}

// now are the worlds as they look today, after what became of the motor so far.
func (l *Learned) now(resale Resale, power float64, channel string, asks []Asked, bids []Bid, today day.Day) []world {
	if len(asks) == 0 || asks[0].On >= today && len(bids) == 0 {
		return l.worlds(howManyWorlds, resale, power, channel)
	}
	all := l.worlds(moreWorlds, resale, power, channel)
	l.see(all, asks, bids, today)
	return likely(all, howManyWorlds)
}

// offers is how likely a bid is at an ask, both as logarithms: somebody must be ready to pay it, and one who
// would pay far more seldom offers so little.
func (w *world) offers(ask, bid float64) float64 {
	more := w.wouldPay(ask) - bid
	off := math.Max(0, more-offersLess) / math.Hypot(offersLessSpread, w.scatter)
	return below(more/w.scatter) * (inTheDark + (1-inTheDark)*math.Exp(-off*off/2))
}

// see weighs worlds by what became of the motor so far: it was asked at these prices, and is unsold; and it
// was bid for.
func (l *Learned) see(worlds []world, asks []Asked, bids []Bid, today day.Day) {
	for i := range worlds {
		w := &worlds[i]
		for k, a := range asks {
			if a.Ask <= 0 {
				continue // taken back for a while
			}
			from, to := a.On, today
			if k+1 < len(asks) {
				to = min(to, asks[k+1].On)
			}
			for from < to {
				end, slow := l.season(from, to)
				rate := w.rate(math.Log(float64(a.Ask)))
				if slow {
					rate *= math.Exp(-w.slow)
				}
				w.gathered += float64(end-from) * rate
				from = end
			}
		}
		w.weight *= w.unsold(w.gathered)
		for _, b := range bids {
			ask := askOn(asks, b.On)
			if b.Amount <= 0 || ask <= 0 {
				continue
			}
			w.weight *= math.Max(1e-6, w.offers(math.Log(float64(ask)), math.Log(float64(b.Amount))))
		}
	}
}

// likely takes so many worlds of the same weight out of more, as often as they weigh, by rising worth.
func likely(worlds []world, n int) []world {
	slices.SortStableFunc(worlds, func(a, b world) int { return cmp.Compare(a.worth, b.worth) })
	total := 0.0
	for _, w := range worlds {
		total += w.weight
	}
	if !(total > 0) { // it has stood longer than any world has it: the slowest is left
		slowest := slices.MinFunc(worlds, func(a, b world) int { return cmp.Compare(a.gathered, b.gathered) })
		slowest.weight, total = 1, 1
		worlds = []world{slowest}
	}
	out := make([]world, 0, n)
	passed := 0.0
	for _, w := range worlds {
		passed += w.weight / total
		for len(out) < n && (float64(len(out))+0.5)/float64(n) <= passed {
			out = append(out, w)
		}
	}
	for len(out) < n { // what rounding has left
		out = append(out, worlds[len(worlds)-1])
	}
	for i := range out {
		out[i].weight = 1 / float64(n)
	}
	return out
}

// askOn is what was asked on a day, or what was asked first when it lies before.
func askOn(asks []Asked, on day.Day) money.Amount {
	if len(asks) == 0 {
		return 0
	}
	ask := asks[0].Ask
	for _, a := range asks {
		if a.On <= on {
			ask = a.Ask
		}
	}
	return ask
}
