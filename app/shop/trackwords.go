package shop

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"skegworth/valuation"
	"skegworth/valuation/say"
)

// judge is by which sales each sale was valued.
type judge int

const (
	byOthers  judge = iota // by all the others, later ones too
	byEarlier              // by those before its day, as bands made at the time would have
)

// CoverageRow is how bands of one level did, in words.
type CoverageRow struct {
	valuation.Coverage
	ID       string       // of the row
	By       say.Sentence // by which sales each was valued
	Promised string       // "80 %"
	Kept     string       // "79 %", "" without sales
	Words    say.Sentence // how it compares with what chance alone gives
}

// coverageRows puts the coverage in words.
func coverageRows(all []valuation.Coverage, by judge) []CoverageRow {
	var out []CoverageRow
	for _, c := range all {
		r := CoverageRow{Coverage: c, Promised: percent(c.Level) + " %", By: say.New("coverage.others", "all the other sales")}
		if by == byEarlier {
			r.By = say.New("coverage.earlier", "the earlier sales only")
		}
		r.ID = r.By.Key + " " + r.Promised
		if c.Count > 0 {
			r.Kept = percent(c.Achieved) + " %"
			least, most := c.ByChance()
			pairs := []any{"Least", least, "Most", most}
			switch held := c.Held(); {
			case held < least:
				r.Words = say.New("coverage.narrow", "fewer than the {{.Least}} to {{.Most}} that chance would give: these bands are too narrow", pairs...)
			case held > most:
				r.Words = say.New("coverage.wide", "more than the {{.Least}} to {{.Most}} that chance would give: these bands are wider than they need be", pairs...)
			default:
				r.Words = say.New("coverage.right", "within the {{.Least}} to {{.Most}} that chance would give a band that is right", pairs...)
			}
		} else {
			r.Words = say.New("coverage.untold", "not known yet: no sale has an earlier one")
		}
		out = append(out, r)
	}
	return out
}

// EffectRow is what one difference does to the price, in words.
type EffectRow struct {
	valuation.Effect
	Change string       // "+13 %"
	Range  say.Sentence // "between +5 and +21 %", eight times in ten
	Rests  say.Sentence // on what it rests
	Words  say.Sentence // all in one sentence, but what it rests on
}

// effectRows puts the effects in words: what own sales have taught first, and the largest first within
// that.
func effectRows(all []valuation.Effect) []EffectRow {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b valuation.Effect) int {
		if a.Prior != b.Prior {
			if a.Prior {
				return 1
			}
			return -1
		}
		return cmp.Compare(math.Abs(math.Log(b.Mid)), math.Abs(math.Log(a.Mid)))
	})
	var out []EffectRow
	for _, e := range all {
		r := EffectRow{Effect: e, Change: changed(e.Mid) + " %"}
		r.Range = between(e.Low, e.High)
		r.Words = say.New("effect.words", "{{.What}}: {{.Change}}, {{.Range}}", "What", e.Name, "Change", r.Change, "Range", r.Range)
		switch {
		case e.Sales == 0:
			r.Rests = say.New("effect.untold", "the trade prior alone: none of your sales shows it")
		case e.Prior:
			r.Rests = say.New("effect.prior", "mostly the trade prior: your own sales say little of it yet")
		default:
			r.Rests = say.New("effect.own", "{{.Sales}} of your sales show it", "Sales", e.Sales)
		}
		out = append(out, r)
	}
	return out
}

func between(low, high float64) say.Sentence {
	return say.New("effect.between", "between {{.Low}} and {{.High}}", "Low", changed(low), "High", changed(high))
}

// changed is a factor as the per cent it adds or takes, to whole per cent and with its sign: 1.13 is "+13".
func changed(factor float64) string {
	v := math.Round((factor - 1) * 100)
	switch {
	case v > 0:
		return "+" + strconv.FormatFloat(v, 'f', 0, 64)
	case v < 0:
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return "0"
}

// PriorWords is one row of the trade prior in words.
type PriorWords struct {
	valuation.PriorRow
	Change string       // what it is thought to do to the price; for the anchor, the price
	Range  say.Sentence // eight times in ten
}

func (s *Shop) priorRows(all []valuation.PriorRow) []PriorWords {
	var out []PriorWords
	for _, p := range all {
		low, mid, high := p.Range()
		r := PriorWords{PriorRow: p, Change: changed(mid) + " %", Range: between(low, high)}
		if p.Column == "anchor" {
			whole := func(v float64) string { return s.currency.Whole(s.currency.FromFloat(v)) }
			r.Change = whole(mid)
			r.Range = say.New("effect.between", "between {{.Low}} and {{.High}}", "Low", whole(low), "High", whole(high))
		}
		out = append(out, r)
	}
	return out
}

// recordSecond says how far the middles of the bands lay from the prices.
func recordSecond(t valuation.Track) say.Sentence {
	if len(t.Rows) == 0 {
		return say.Sentence{}
	}
	off := strconv.FormatFloat(t.MedianAbsPctError, 'f', 0, 64)
	switch lean := math.Round((t.MedianRatio - 1) * 100); {
	case lean > 0:
		return say.New("record.high", "Half of the middles lay within {{.Off}} % of the price; the usual one was {{.Lean}} % high.", "Off", off, "Lean", strconv.FormatFloat(lean, 'f', 0, 64))
	case lean < 0:
		return say.New("record.low", "Half of the middles lay within {{.Off}} % of the price; the usual one was {{.Lean}} % low.", "Off", off, "Lean", strconv.FormatFloat(-lean, 'f', 0, 64))
	}
	return say.New("record.level", "Half of the middles lay within {{.Off}} % of the price, as often too high as too low.", "Off", off)
}
