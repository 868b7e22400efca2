package asking

import (
	"math"
	"slices"
	"strings"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/timetosell"
)

// Asked is an asking price and the day from which it stood.
type Asked struct {
	On  day.Day
	Ask money.Amount
}

// Listing is the time for which one motor of the shop's own was for sale.
type Listing struct {
	Asks    []Asked // by day; the first is when it was first offered
	Until   day.Day // sold, taken back, or looked at last
	Sold    bool
	Price   money.Amount // when it was sold
	Power   float64      // hp; 0 not known
	Channel string       // "" not known
	Worth   money.Amount // the middle of its band
	Spread  float64      // of the logarithm of its worth about that
}

// Slow tells of a day whether it lies out of season. Nil is no season at all.
type Slow func(day.Day) bool

// Learned is what own motors and the trade prior say of days to sell and of haggling. It does not change
// once made.
type Learned struct {
	days     *timetosell.Model
	haggling *timetosell.Model
	slow     Slow
	channels []string
}

// Learn learns from motors that were or are for sale. Those that tell nothing are passed over: without a
// day, an ask or a worth.
func Learn(listings []Listing, slow Slow) (*Learned, error) {
	l := &Learned{slow: slow}
	var usable []Listing
	for _, x := range listings {
		if len(x.Asks) == 0 || x.Asks[0].On == 0 || x.Until < x.Asks[0].On || x.Worth <= 0 || !(x.Spread >= 0) || x.Sold && x.Price <= 0 ||
			slices.ContainsFunc(x.Asks, func(a Asked) bool { return a.Ask <= 0 }) {
			continue
		}
		usable = append(usable, x)
		if c := channelName(x.Channel); c != "" && !slices.Contains(l.channels, c) {
			l.channels = append(l.channels, c)
		}
	}
	slices.Sort(l.channels)
	var spells, ratios []timetosell.Spell
	for _, x := range usable {
		if x.Sold {
			ratios = append(ratios, ratio(x))
		}
	}
	var err error
	if l.haggling, err = timetosell.Fit(ratios, hagglePrior()); err != nil {
		return nil, err
	}
	for _, x := range usable {
		spells = append(spells, l.spell(x))
	}
	l.days, err = timetosell.Fit(spells, daysPrior(len(l.channels)))
	return l, err
}

func channelName(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// Listings is how many own motors stand behind days to sell, and how many of them were sold.
func (l *Learned) Listings() (all, sold int) { return l.days.Spells() }

// Days within which a share q of motors of a power is sold in season, asked the usual way, with their worth
// known to a spread of its logarithm.
func (l *Learned) Days(q, power, spread float64) float64 {
	return l.days.Days(q, l.row(usualAbove, power, "", false), spread)
}

// row are the circumstances of days: how dear the ask is, the power, the channel, whether out of season.
func (l *Learned) row(dear, power float64, channel string, slow bool) []float64 {
	x := make([]float64, columnChannel+len(l.channels))
	x[columnStart], x[columnDear] = 1, dear
	if slow {
		x[columnSlow] = 1
	}
	if power > 0 {
		x[columnSize] = math.Log(power / usualPower)
	}
	if i := slices.Index(l.channels, channelName(channel)); i >= 0 {
		x[columnChannel+i] = 1
	}
	return x
}

// spell cuts a listing where the ask or the season changed.
func (l *Learned) spell(x Listing) timetosell.Spell {
	worth, doubt := l.worthOf(x)
	s := timetosell.Spell{Sold: x.Sold, Doubt: doubt}
	for i, a := range x.Asks {
		from, to := a.On, x.Until
		if from > to {
			break // what was asked after it had gone
		}
		if i+1 < len(x.Asks) {
			to = min(to, x.Asks[i+1].On)
		}
		dear := math.Log(float64(a.Ask)) - worth
		add := func(days day.Day, slow bool) {
			s.Stretches = append(s.Stretches, timetosell.Stretch{Days: float64(days), X: l.row(dear, x.Power, x.Channel, slow)})
		}
		for from < to {
			end, slow := l.season(from, to)
			add(end-from, slow)
			from = end
		}
		if a.On == x.Until && x.Sold { // on the very day it was asked
			_, slow := l.season(x.Until, x.Until)
			add(0, slow)
			break
		}
	}
	return s
}

// season is how far from a day the season stays as it is, at the most to another day.
func (l *Learned) season(from, to day.Day) (end day.Day, slow bool) {
	if l.slow == nil {
		return to, false
	}
	slow = l.slow(from)
	for end = from; end < to && l.slow(end) == slow; {
		end++
	}
	return end, slow
}

// worthOf is the logarithm of what a listed motor was worth, and its spread: as its band has it and, when it
// was sold, as the buyer's price does, who would have paid more for a better one. Both together are taken
// for normal, by their mean and variance.
func (l *Learned) worthOf(x Listing) (worth, doubt float64) {
	const steps, far = 60, 4.0
	worth = math.Log(float64(x.Worth))
	if !x.Sold || x.Spread < 1e-6 {
		return worth, x.Spread
	}
	b, scale := l.haggling.Coefficients(), l.haggling.Scale()
	part, below := ratioOf(x)
	ask := math.Log(float64(x.last()))
	var weights, mean, square float64
	for i := range steps + 1 {
		z := far * (2*float64(i)/steps - 1)
		v := worth + z*x.Spread
		short := (math.Log(part) - b[columnUsual] - b[columnAbove]*(ask-v-usualAbove)) / scale
		weight := math.Exp(-z * z / 2)
		if below {
			weight *= math.Exp(-short * short / 2)
		} else {
			weight *= 0.5 * math.Erfc(short/math.Sqrt2)
		}
		weights += weight
		mean += weight * z
		square += weight * z * z
	}
	if !(weights > 1e-12) { // the price and the band know nothing of each other
		return worth, x.Spread
	}
	mean /= weights
	return worth + mean*x.Spread, x.Spread * math.Sqrt(math.Max(1e-4, square/weights-mean*mean))
}

// last is the ask at which it was sold.
func (x Listing) last() money.Amount {
	last := x.Asks[0].Ask
	for _, a := range x.Asks {
		if a.On <= x.Until {
			last = a.Ask
		}
	}
	return last
}

// ratioOf is the part of the ask that a sold motor brought, and whether that was less than was asked.
func ratioOf(x Listing) (part float64, below bool) {
	part = math.Max(deepest, float64(x.Price)/float64(x.last()))
	if part >= atAsk {
		return 1, false
	}
	return part, true
}

// ratio is what a sale says of haggling: the part that was paid, or that no less would have been.
func ratio(x Listing) timetosell.Spell {
	part, below := ratioOf(x)
	above := math.Log(float64(x.last())/float64(x.Worth)) - usualAbove
	return timetosell.Spell{Sold: below, Doubt: x.Spread, Stretches: []timetosell.Stretch{{Days: part, X: []float64{1, above}}}}
}
