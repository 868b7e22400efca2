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
		spells = append(spells, l.spell(x))
		if x.Sold {
			ratios = append(ratios, ratio(x))
		}
	}
	var err error
	if l.days, err = timetosell.Fit(spells, daysPrior(len(l.channels))); err != nil {
		return nil, err
	}
	l.haggling, err = timetosell.Fit(ratios, hagglePrior())
	return l, err
}

func channelName(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// Listings is how many own motors stand behind days to sell, and how many of them were sold.
func (l *Learned) Listings() (all, sold int) { return l.days.Spells() }

// Days within which a share q of motors of a power is sold in season, asked the usual way, with their worth
// known to a spread of its logarithm.
func (l *Learned) Days(q, power, spread float64) float64 {
	return l.days.Days(q, l.row(-l.haggling.Coefficients()[0], power, "", false), spread)
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

// spell cuts a listing where the ask or the season changed. What a sold motor was worth is told by its
// price, and by its band as far as that is sure.
func (l *Learned) spell(x Listing) timetosell.Spell {
	worth, doubt := math.Log(float64(x.Worth)), math.Max(x.Spread, 1e-3)
	if x.Sold {
		band, price := 1/(doubt*doubt), 1/(priceScatter*priceScatter)
		worth = (band*worth + price*math.Log(float64(x.Price))) / (band + price)
		doubt = 1 / math.Sqrt(band+price)
	}
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

// ratio is what a sale says of haggling.
func ratio(x Listing) timetosell.Spell {
	last := x.Asks[0].Ask
	for _, a := range x.Asks {
		if a.On <= x.Until {
			last = a.Ask
		}
	}
	part := math.Max(deepest, float64(x.Price)/float64(last))
	if part >= atAsk { // he might have paid more
		return timetosell.Spell{Stretches: []timetosell.Stretch{{Days: 1, X: []float64{1}}}}
	}
	return timetosell.Spell{Sold: true, Stretches: []timetosell.Stretch{{Days: part, X: []float64{1}}}}
}
