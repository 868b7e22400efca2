package valuation

import (
	"math"
	"slices"
	"strconv"

	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

const (
	fewSales      = 12   // below this many own sales the band says so
	powerMargin   = 1.25 // how many times beyond the range of the own sales a power is still near it
	ageMargin     = 5.0  // years
	staleAfter    = 3.0  // years without a sale
	leverageSlack = 1.5  // how many times beyond the outmost own sale a motor is still near it
)

// experience is what the own sales have shown.
type experience struct {
	leastPower, mostPower float64
	youngest, oldest      float64 // years, at the sale
	strokes               map[Stroke]bool
	states                map[State]bool
	fuels                 map[Fuel]bool
	outmost               float64 // the largest leverage of an own sale
}

func (m *Market) lookBack() experience {
	e := experience{leastPower: math.Inf(1), youngest: math.Inf(1),
		strokes: map[Stroke]bool{}, states: map[State]bool{}, fuels: map[Fuel]bool{}}
	for i, leverage := range m.model.Leverages() {
		if i < len(m.sales) {
			e.outmost = math.Max(e.outmost, leverage)
		}
	}
	for _, s := range m.sales {
		e.leastPower, e.mostPower = math.Min(e.leastPower, s.Motor.Power), math.Max(e.mostPower, s.Motor.Power)
		age := ageAt(s.Motor, s.Sold)
		e.youngest, e.oldest = math.Min(e.youngest, age), math.Max(e.oldest, age)
		e.strokes[s.Motor.Stroke] = true
		e.states[s.Motor.State] = true
		e.fuels[s.Motor.Fuel] = true

	}
	return e
}

// ageAt is a motor's age on a day in years, from the middle of its model year.
func ageAt(mo Motor, on day.Day) float64 { return math.Max(0, on.Years(day.Of(mo.Year, 7, 1))) }

// lacks tells whether sales say what they are in a respect, and none says this.
func lacks[T ~string](seen map[T]bool, word T) bool {
	said := len(seen) > 1 || len(seen) == 1 && !seen[""]
	return word != "" && said && !seen[word]
}

// experience tells in which ways the motor lies outside what the shop has sold, and what else to bear in
// mind. The ranges and words are looked at one by one; what lies within each of them but in a corner
// where nothing was sold is found by leverage.
func (m *Market) experience(mo Motor, on day.Day, leverage float64) (warnings []say.Sentence, outside bool) {
	if len(m.sales) == 0 {
		warnings = append(warnings, say.New("band.prior", "no sales of your own yet: this band is the trade prior alone"))
		return append(warnings, m.remarks(mo, on)...), true
	}
	warnings = m.seen.beyond(mo, ageAt(mo, on))
	outside = len(warnings) > 0
	if !outside && leverage > leverageSlack*m.seen.outmost {
		outside = true
		warnings = append(warnings, say.New("outside.together", "each fact alone is like motors you have sold, but none of them had these together: the band rests more on the trade prior than on your sales"))
	}
	if maker := foldMake(mo.Make); maker != "" && !slices.Contains(m.makes, maker) {
		warnings = append(warnings, say.New("band.make", "you have sold no {{.Make}} yet: the band allows for any make", "Make", clip(mo.Make)))
	}
	return append(warnings, m.remarks(mo, on)...), outside
}

// beyond says what is beyond what.
func (e experience) beyond(mo Motor, age float64) []say.Sentence {
	var out []say.Sentence
	switch {
	case mo.Power > e.mostPower*powerMargin:
		out = append(out, say.New("outside.power-high", "the most powerful motor you have sold is {{.Most}} hp; this is {{.This}}", "Most", hp(e.mostPower), "This", hp(mo.Power)))
	case mo.Power < e.leastPower/powerMargin:
		out = append(out, say.New("outside.power-low", "the least powerful motor you have sold is {{.Least}} hp; this is {{.This}}", "Least", hp(e.leastPower), "This", hp(mo.Power)))
	}
	switch {
	case age > e.oldest+ageMargin:
		out = append(out, say.New("outside.old", "the oldest motor you have sold was {{.Oldest}} years old at its sale; this is {{.This}}", "Oldest", years(e.oldest), "This", years(age)))
	case age < e.youngest-ageMargin:
		out = append(out, say.New("outside.young", "the youngest motor you have sold was {{.Youngest}} years old at its sale; this is {{.This}}", "Youngest", years(e.youngest), "This", years(age)))
	}
	if lacks(e.strokes, mo.Stroke) {
		out = append(out, say.New("outside.stroke", "you have sold no {{.Stroke}} yet", "Stroke", mo.Stroke.Label()))
	}
	if lacks(e.states, mo.State) {
		out = append(out, say.New("outside.state", "you have sold no motor in this state yet: {{.State}}", "State", mo.State.Label()))
	}
	if mo.Fuel == Direct && lacks(e.fuels, mo.Fuel) {
		out = append(out, say.New("outside.fuel", "you have sold no motor with direct injection yet"))
	}
	return out
}

// remarks are the warnings that do not put the motor outside the shop's experience.
func (m *Market) remarks(mo Motor, on day.Day) []say.Sentence {
	var out []say.Sentence
	n := len(m.sales)
	if n > 0 && n < fewSales {
		out = append(out, say.New("band.few", "few sales of your own yet ({{.Sales}}): the band leans on the trade prior", "Sales", strconv.Itoa(n)))
	}
	if m.options.Anchor == 0 && n < fewSales {
		price := m.options.Currency.Whole(m.options.Currency.FromFloat(unaskedAnchor))
		if nearDollar[m.options.Currency.Code()] {
			out = append(out, say.New("band.anchor", "what a plain running 50 hp, 15-year-old two-stroke brings around here is not answered in the settings: {{.Price}} is only a guess", "Price", price))
		} else {
			out = append(out, say.New("band.anchor-foreign", "what a plain running 50 hp, 15-year-old two-stroke brings around here is not answered in the settings: {{.Price}} {{.Currency}} stands in, and may be far off in this currency", "Price", price, "Currency", m.options.Currency.Code()))
		}
	}
	if mo.State == "" {
		out = append(out, say.New("band.state", "the state is not said: the band allows for any, most likely a running motor"))
	}
	if n > 0 && on.Years(m.sales[n-1].Sold) > staleAfter {
		out = append(out, say.New("band.stale", "your last sale was on {{.Last}}: prices may have moved since", "Last", m.sales[n-1].Sold.String()))
	}
	return out
}

func hp(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64) }

func years(v float64) string { return strconv.Itoa(int(math.Round(v))) }
