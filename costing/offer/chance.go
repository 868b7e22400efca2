package offer

import (
	"math"
	"strconv"

	"skegworth/valuation/say"
)

// Chance says a chance as a person would, in whole tenths: "4 times in 10". Under one in twenty it is
// "less than 1 time in 10" and from nineteen in twenty on "almost always"; neither end is called never
// or always, which no model can promise. A chance outside 0 to 1 has no words and is an empty sentence.
func Chance(chance float64) say.Sentence {
	switch n := int(math.Round(chance * 10)); {
	case !(chance >= 0 && chance <= 1):
		return say.Sentence{}
	case n == 0:
		return say.New("chance.under-one", "less than 1 time in 10")
	case chance >= 0.95:
		return say.New("chance.almost-always", "almost always")
	case n == 1:
		return say.New("chance.once", "1 time in 10")
	default:
		return say.New("chance.times", "{{.N}} times in 10", "N", strconv.Itoa(n))
	}
}

// InTen writes a chance that somebody chose, without rounding a choice away: "2 in 10", "2.5 in 10". A
// chance outside 0 to 1 is an empty sentence.
func InTen(chance float64) say.Sentence {
	if !(chance >= 0 && chance <= 1) {
		return say.Sentence{}
	}
	n := math.Round(chance*1000) / 100
	return say.New("chance.in-ten", "{{.N}} in 10", "N", strconv.FormatFloat(n, 'f', -1, 64))
}
