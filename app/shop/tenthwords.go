package shop

import (
	"skegworth/valuation"
	"skegworth/valuation/say"
)

// TenthsAnswer is where in their bands the prices fell, in words.
type TenthsAnswer struct {
	valuation.Tenths
	Least, Most int // what chance would give each tenth
	Words       say.Sentence
	Warning     say.Sentence // with few sales
}

// leastTenths is how many sales it takes for an empty tenth, or a full one, to mean anything much.
const leastTenths = 30

func tenthsAnswer(t valuation.Tenths) TenthsAnswer {
	a := TenthsAnswer{Tenths: t}
	a.Least, a.Most = t.ByChance()
	if t.Count == 0 {
		return a
	}
	if t.Count < leastJudged {
		a.Words = say.New("tenths.untold", "Too few sales to say where prices fall in their bands: it takes {{.Least}} at the least.", "Least", valuation.Count(leastJudged))
		return a
	}
	if t.Count < leastTenths {
		a.Warning = say.New("tenths.few", "With {{.Sales}} sales the bars are rough: only what is badly wrong would show.", "Sales", t.Count)
	}
	counts := []any{"Above", t.Above, "Count", t.Count, "Ends", t.Bins[0] + t.Bins[9]}
	switch lean, ends := t.Lean(), t.Ends(); {
	case lean > 0 && ends > 0:
		a.Words = say.New("tenths.low-narrow", "Too many sales above their bands' middles ({{.Above}} of {{.Count}}), and too many in the lowest and highest tenths: the middles are too low and the bands too narrow.", counts...)
	case lean < 0 && ends > 0:
		a.Words = say.New("tenths.high-narrow", "Too few sales above their bands' middles ({{.Above}} of {{.Count}}), and too many in the lowest and highest tenths: the middles are too high and the bands too narrow.", counts...)
	case lean > 0:
		a.Words = say.New("tenths.low", "Too many sales above their bands' middles, {{.Above}} of {{.Count}}: the middles are too low.", counts...)
	case lean < 0:
		a.Words = say.New("tenths.high", "Too few sales above their bands' middles, {{.Above}} of {{.Count}}: the middles are too high.", counts...)
	case ends > 0:
		a.Words = say.New("tenths.narrow", "Too many sales in the lowest and highest tenths, {{.Ends}} of {{.Count}}: the bands are too narrow.", counts...)
	case ends < 0:
		a.Words = say.New("tenths.wide", "Few sales in the lowest and highest tenths, {{.Ends}} of {{.Count}}: the bands are wider than they need be.", counts...)
	default:
		a.Words = say.New("tenths.right", "Prices fell all over their bands, {{.Above}} of {{.Count}} above the middle: no more uneven than chance makes them.", counts...)
	}
	return a
}
