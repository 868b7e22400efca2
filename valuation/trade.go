package valuation

import (
	"math"

	"skegworth/valuation/hedonic"
	"skegworth/valuation/say"
)

// The trade prior: what is believed of each effect before any own sale, on ln price. A mean of 0.12 is
// about 12 % more; the spread says how far the truth may well lie from it. None of it is data: it is
// common practice from memory, or a cautious guess where not even that was at hand, and own sales
// overrule it as they come in.

const (
	// residual is the guess of how far prices of motors described alike scatter: about 28 %.
	residual = 0.28
	// residualStrength is half the number of sales that this guess is worth.
	residualStrength = 6

	anchorSpread  = 0.25 // of ln price, when the anchor question was answered
	unaskedAnchor = 1200 // in units of the currency, when it was not
	unaskedSpread = 0.7  // in currencies near the dollar
	foreignSpread = 2.5  // in currencies whose unit is worth far less or more
	makeSpread    = 0.15 // between makes

	askedAbove  = 0.12 // how far ln of an asking price lies above that of a sale
	askedSpread = 0.06
)

// What the band is averaged over, each with the belief in it.
var (
	// trust are the multipliers of the prior's spreads. There is none below 1: a few sales that happen to
	// agree must not make the prior surer than it says it is.
	trust = []hedonic.Option{{Value: 1, Weight: 0.85}, {Value: 1.5, Weight: 0.1}, {Value: 2.25, Weight: 0.05}}

	// makeSpreads are those of the spread between makes, which is learned from all makes together.
	makeSpreads = hedonic.Options(0.5, 1, 2)

	// tails are those of the scatter, as degrees of freedom of a Student-t: the fewer, the less a price far
	// off bends the rest.
	tails = []hedonic.Option{{Value: math.Inf(1), Weight: 0.1}, {Value: 12, Weight: 0.5}, {Value: 3, Weight: 0.4}}
)

// calibration is the number of sales at which half of what the record shows is taken out of the bands.
var calibration = 60.0

// trade is the table, a row a column of the regression, the anchor apart.
var trade = []column{
	{"power", "power", 0.60, 0.15, say.New("effect.power", "twice the power"),
		say.New("why.power", "price lags power: twice the power is half as much again, not twice the money"), math.Ln2, powerOf},
	{"age", "year", -0.42, 0.15, say.New("effect.age", "ten years older"),
		say.New("why.age", "a motor loses most while it is new; this is what ten years take from one of fifteen"), 1, ageOf},
	{"age-squared", "year", 0.06, 0.05, say.New("effect.age-squared", "the flattening of age, ten years from fifteen"),
		say.New("why.age-squared", "old motors stop falling"), 1, ageSquaredOf},
	{"power-age", "year", -0.10, 0.07, say.New("effect.power-age", "ten years older and twice the power, together"),
		say.New("why.power-age", "small portables hold their value better than large motors"), math.Ln2, powerByAgeOf},
	{"old-rating", "power", -0.06, 0.05, say.New("effect.old-rating", "rated at the powerhead"),
		say.New("why.old-rating", "powerhead ratings read about a tenth high, and price lags power"), 1, oldRatingOf},
	{"four-stroke", "stroke", 0.30, 0.15, say.New("effect.four-stroke", "four-stroke instead of two-stroke"),
		say.New("why.four-stroke", "quieter, thriftier, and allowed on more waters"), 1, fourStrokeOf},
	{"injected", "fuel", 0.12, 0.10, say.New("effect.injected", "injected instead of carburettor"),
		say.New("why.injected", "starts and idles better, where it works"), 1, injectedOf},
	{"direct", "fuel", 0.05, 0.20, say.New("effect.direct", "direct-injected two-stroke"),
		say.New("why.direct", "liked by some and feared for its repairs by others"), 1, directTwoStrokeOf},
	{"above-parts", "state", 0.50, 0.30, say.New("effect.above-parts", "whole but not running, instead of parts only"),
		say.New("why.above-parts", "there is something to mend"), 1, aboveParts},
	{"above-dead", "state", 0.85, 0.30, say.New("effect.above-dead", "running instead of not running"),
		say.New("why.above-dead", "a motor that runs can be used on Sunday"), 1, aboveDead},
	{"above-runs", "state", 0.12, 0.08, say.New("effect.above-runs", "serviced instead of running"),
		say.New("why.above-runs", "a claim of service is discounted"), 1, aboveRuns},
	{"above-serviced", "state", 0.15, 0.12, say.New("effect.above-serviced", "rebuilt instead of serviced"),
		say.New("why.above-serviced", "a claim of a rebuild is discounted"), 1, aboveServiced},
	{"looks", "looks", 0.12, 0.06, say.New("effect.looks", "one step better looks"),
		say.New("why.looks", "buyers see the cowl first"), 1, looksOf},
	{"salt", "water", -0.15, 0.10, say.New("effect.salt", "salt water instead of fresh"),
		say.New("why.salt", "corrosion in the water passages and seized bolts"), 1, saltOf},
	{"shaft", "shaft", -0.12, 0.10, say.New("effect.shaft", "a shaft length unusual for its power"),
		say.New("why.shaft", "fits fewer boats"), 1, unusualShaftOf},
	{"electric", "start", 0.12, 0.10, say.New("effect.electric", "electric start instead of pull"),
		say.New("why.electric", "expected from the middle sizes up"), 1, electricOf},
	{"trim", "lift", 0.18, 0.10, say.New("effect.trim", "power trim and tilt"),
		say.New("why.trim", "dear to add afterwards"), 1, trimOf},
	{"controls", "controls", 0.10, 0.06, say.New("effect.controls", "controls with harness included"),
		say.New("why.controls", "dear to buy, and must match"), 1, controlsOf},
	{"propeller", "propeller", 0.04, 0.03, say.New("effect.propeller", "propeller included"),
		say.New("why.propeller", "a used propeller costs little"), 1, propellerOf},
	{"tank", "tank", 0.02, 0.02, say.New("effect.tank", "tank included"),
		say.New("why.tank", "cheap to add"), 1, tankOf},
	{"helm", "helm", 0.03, 0.03, say.New("effect.helm", "steering gear included"),
		say.New("why.helm", "seldom fits the next boat"), 1, helmOf},
	{"hours", "hours", -0.08, 0.05, say.New("effect.hours", "twice the engine hours"),
		say.New("why.hours", "hours wear, and care matters more than hours"), math.Ln2, hoursOf},
	{"hours-unknown", "hours", -0.03, 0.06, say.New("effect.hours-unknown", "hours not known"),
		say.New("why.hours-unknown", "what is not told is seldom good news"), 1, hoursUnknownOf},
	{"compression", "compression", -0.20, 0.12, say.New("effect.compression", "compression of one cylinder ten points below 90 % of the best"),
		say.New("why.compression", "cylinders should be within about a tenth of each other"), 1, compressionOf},
	{"seized", "turns", -0.35, 0.20, say.New("effect.seized", "does not turn by hand"),
		say.New("why.seized", "the powerhead may be scrap"), 1, seizedOf},
	{"oil-working", "oil", 0, 0.05, say.New("effect.oil-working", "oil injection works"),
		say.New("why.oil-working", "some want it and some would rather mix"), 1, oilWorksOf},
	{"oil-removed", "oil", -0.04, 0.06, say.New("effect.oil-removed", "oil injection removed"),
		say.New("why.oil-removed", "raises the question why"), 1, oilRemovedOf},
	{"orphan", "parts-supplied", -0.20, 0.12, say.New("effect.orphan", "parts no longer supplied"),
		say.New("why.orphan", "the next repair may be the last"), 1, orphanOf},
	{"submerged", "submerged", -0.30, 0.15, say.New("effect.submerged", "was under water once"),
		say.New("why.submerged", "bearings and wiring may fail later"), 1, submergedOf},
	{"lower-unit", "lower-unit", -0.40, 0.20, say.New("effect.lower-unit", "lower unit incomplete"),
		say.New("why.lower-unit", "a used lower unit is a large part of such a motor's price"), 1, lowerUnitOf},
	{"welded", "welded", -0.12, 0.10, say.New("effect.welded", "welded or sleeved"),
		say.New("why.welded", "a repair that buyers doubt, however good"), 1, weldedOf},
	{"plate", "plate", -0.10, 0.08, say.New("effect.plate", "serial plate missing"),
		say.New("why.plate", "hard to register, and looks stolen"), 1, plateGoneOf},
	{"not-shown", "shown-running", -0.06, 0.05, say.New("effect.not-shown", "not shown running"),
		say.New("why.not-shown", "the buyer must take the seller's word"), 1, notShownOf},
	{"warranty", "warranty", 0.04, 0.04, say.New("effect.warranty", "ninety days of warranty"),
		say.New("why.warranty", "the seller stands behind it"), 1, warrantyOf},
	{"spring", soldField, 0.06, 0.04, say.New("effect.spring", "sold in the middle of April instead of October"),
		say.New("why.spring", "everybody wants a motor in spring"), 2, springOf},
	{"summer", soldField, 0, 0.03, say.New("effect.summer", "sold in the middle of July instead of January"),
		say.New("why.summer", "where the season comes earlier or later"), 2, summerOf},
	{"drift", soldField, 0.02, 0.03, say.New("effect.drift", "one year later"),
		say.New("why.drift", "prices of used motors creep up with those of new ones"), 1, driftOf},
}

// soldField is the name under which the day of the sale stands in comparisons.
const soldField = "sold"

// guessed are the columns whose figures are guesses of ours; the rest are common practice.
var guessed = map[string]bool{"power-age": true, "old-rating": true, "helm": true, "seized": true, "submerged": true,
	"lower-unit": true, "welded": true, "plate": true, "not-shown": true, "warranty": true, "summer": true}

// PriorRow is one line of the trade prior.
type PriorRow struct {
	Column string       // names the column; "anchor" and "make" stand for the level and the makes
	Name   say.Sentence // what the effect is of
	Mean   float64      // on ln price, for one unit of the column
	Spread float64
	Step   float64 // units of the column that the difference in Name is
	Reason say.Sentence
	Basis  say.Sentence
}

// Range is what the difference named does to the price: the factor that is believed likeliest, and the
// two between which it lies eight times in ten. For the anchor it is the price itself, in units of the
// currency.
func (r PriorRow) Range() (low, mid, high float64) {
	const eightInTen = 1.2815515655446004 // standard normal quantile at 0.9
	reach := eightInTen * r.Spread * r.Step
	return math.Exp(r.Mean*r.Step - reach), math.Exp(r.Mean * r.Step), math.Exp(r.Mean*r.Step + reach)
}

// Prior is the trade prior as this market uses it, the anchor first.
func (m *Market) Prior() []PriorRow {
	rows := []PriorRow{m.anchorRow()}
	for _, c := range trade {
		basis := fromMemory()
		if guessed[c.key] {
			basis = say.New("basis.guess", "a cautious guess, no source")
		}
		rows = append(rows, PriorRow{c.key, c.name, c.mean, c.spread, c.step, c.reason, basis})
	}
	rows = append(rows, PriorRow{"asked", say.New("effect.asked", "an asking price instead of a sale"), askedAbove, askedSpread, 1,
		say.New("why.asked", "sellers ask more than they take"), fromMemory()})
	return append(rows, PriorRow{"make", say.New("effect.make", "the make"), 0, makeSpread, 1,
		say.New("why.make", "some makes sell better than others; each is learned from your own sales"), fromMemory()})
}

func fromMemory() say.Sentence {
	return say.New("basis.memory", "common practice, from memory")
}

// anchorRow is the price level.
func (m *Market) anchorRow() PriorRow {
	mean, spread := m.anchor()
	row := PriorRow{Column: "anchor", Mean: mean, Spread: spread, Step: 1,
		Name: say.New("effect.anchor", "a plain running 50 hp, 15-year-old two-stroke")}
	if m.options.Anchor > 0 {
		row.Reason = say.New("why.anchor", "your answer to the anchor question: {{.Price}}", "Price", m.options.Currency.Format(m.options.Anchor))
		row.Basis = say.New("basis.you", "your own answer")
		return row
	}
	row.Reason = say.New("why.anchor-unasked", "the anchor question was not answered; {{.Price}} stands in for it", "Price", m.options.Currency.Whole(m.options.Currency.FromFloat(unaskedAnchor)))
	row.Basis = fromMemory()
	return row
}

// anchor is the prior mean and spread of the level of ln price in units of the currency.
func (m *Market) anchor() (mean, spread float64) {
	switch c := m.options.Currency; {
	case m.options.Anchor > 0:
		return math.Log(c.Float(m.options.Anchor)), anchorSpread
	case nearDollar[c.Code()]:
		return math.Log(unaskedAnchor), unaskedSpread
	}
	return math.Log(unaskedAnchor), foreignSpread
}

// nearDollar are currencies whose unit is worth a dollar within a factor of two or so.
var nearDollar = map[string]bool{"USD": true, "EUR": true, "GBP": true, "CAD": true, "AUD": true, "NZD": true,
	"CHF": true, "SGD": true, "BND": true, "FJD": true, "BBD": true, "BSD": true, "BZD": true, "BMD": true, "KYD": true, "PAB": true, "AWG": true, "ANG": true, "BAM": true, "BGN": true, "GIP": true, "FKP": true, "IMP": true, "JEP": true, "GGP": true}
