package offer

import (
	"math"
	"strconv"

	"skegworth/valuation"
	"skegworth/valuation/say"
)

// Chance says a chance as a person would, in whole tenths: "four times in ten". Under one in twenty it is
// "less than one time in ten" and from nineteen in twenty on "almost always"; neither end is called never
// or always, which no model can promise. A chance outside 0 to 1 has no words and is an empty sentence.
func Chance(chance float64) say.Sentence {
	switch n := int(math.Round(chance * 10)); {
	case !(chance >= 0 && chance <= 1):
		return say.Sentence{}
	case n == 0:
		return say.New("chance.under-one", "less than one time in ten")
	case chance >= 0.95:
		return say.New("chance.almost-always", "almost always")
	case n == 1:
		return say.New("chance.once", "one time in ten")
	default:
		return say.New("chance.times", "{{.N}} times in ten", "N", valuation.Count(n))
	}
}

// InTen writes a chance that somebody chose, without rounding a choice away: "two in ten", "2.5 in ten". A
// chance outside 0 to 1 is an empty sentence.
func InTen(chance float64) say.Sentence {
	if !(chance >= 0 && chance <= 1) {
		return say.Sentence{}
	}
	n := math.Round(chance*1000) / 100
	if n == math.Trunc(n) {
		return say.New("chance.in-ten", "{{.N}} in ten", "N", valuation.Count(int(n)))
	}
	return say.New("chance.in-ten", "{{.N}} in ten", "N", strconv.FormatFloat(n, 'f', -1, 64))
}
