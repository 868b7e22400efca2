package shop

import (
	"cmp"
	"slices"

	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// The least part of a price that a difference makes to be named by itself, and the most that are named.
const (
	leastNamed = 0.02
	mostNamed  = 6
)

// differences puts what carries one sale to another motor in words: the large differences each, in whole
// units of the currency, and all small ones together.
func (s *Shop) differences(c valuation.Comparable) []say.Sentence {
	all := slices.Clone(c.Adjustments)
	slices.SortStableFunc(all, func(a, b valuation.Adjustment) int { return cmp.Compare(size(b.Money), size(a.Money)) })
	var out []say.Sentence
	var rest money.Amount
	for _, a := range all {
		if len(out) == mostNamed || size(a.Money) < c.Sale.Price.Times(leastNamed) {
			rest += a.Money
			continue
		}
		name := valuation.FieldLabel(a.Field)
		if a.Field == "sold" {
			name = say.New("field.sold", "day of the sale")
		}
		out = append(out, say.New("near.difference", "{{.Fact}}: {{.Theirs}} there, {{.Subject}} here: {{.Money}}",
			"Fact", name, "Theirs", a.Theirs, "Subject", a.Subject, "Money", s.signed(a.Money)))
	}
	if s.currency.Whole(rest) != s.currency.Whole(0) {
		out = append(out, say.New("near.rest", "small differences together: {{.Money}}", "Money", s.signed(rest)))
	}
	return out
}

func size(a money.Amount) money.Amount { return max(a, -a) }

// signed writes an amount in whole units with its sign in front.
func (s *Shop) signed(a money.Amount) string {
	if a < 0 {
		return "-" + s.currency.Whole(-a)
	}
	return "+" + s.currency.Whole(a)
}
