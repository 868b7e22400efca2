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
	Meant    say.Sentence // the same in words: "eight times in ten"
	Kept     string       // "79 %", "" where there are too few sales for a share
	Words    say.Sentence // how it compares with what chance alone gives
}

// leastJudged is how many sales it takes to say anything of how bands do: with fewer, chance alone gives
// any share.
const leastJudged = 5

// meant is how often bands of a level are meant to hold.
func meant(level float64) say.Sentence {
	switch level {
	case 0.5:
		return say.New("meant.50", "half of the time")
	case 0.8:
		return say.New("meant.80", "eight times in ten")
	case 0.95:
		return say.New("meant.95", "nineteen times in twenty")
	}
	return say.New("meant.other", "{{.Share}} % of the time", "Share", percent(level))
}

// coverageRows puts the coverage in words.
func coverageRows(all []valuation.Coverage, by judge) []CoverageRow {
	var out []CoverageRow
	for _, c := range all {
		r := CoverageRow{Coverage: c, Promised: percent(c.Level) + " %", Meant: meant(c.Level), By: say.New("coverage.others", "all the other sales")}
		if by == byEarlier {
			r.By = say.New("coverage.earlier", "the earlier sales only")
		}
		r.ID = r.By.Key + " " + r.Promised
		switch {
		case c.Count == 0:
			r.Words = say.New("coverage.untold", "not known yet: no sale has an earlier one")
		case c.Count < leastJudged:
			r.Words = say.New("coverage.few", "too few sales to judge by: it takes {{.Least}} at the least", "Least", valuation.Count(leastJudged))
		default:
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
		}
		out = append(out, r)
	}
	return out
}

// EffectRow is what one difference does to the price, in words.
type EffectRow struct {
	valuation.Effect
	Change say.Sentence // "13 % more"
	Range  say.Sentence // "5 to 21 % more", eight times in ten
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
		r := EffectRow{Effect: e, Change: more(e.Mid)}
		r.Range = between(e.Low, e.High)
		r.Words = say.New("effect.words", "{{.What}}: {{.Change}}, give or take; eight times in ten {{.Range}}", "What", e.Name, "Change", r.Change, "Range", r.Range)
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

// more is what a factor does to a price.
func more(factor float64) say.Sentence {
	switch by := cents(factor); {
	case by > 0:
		return say.New("effect.more", "{{.By}} % more", "By", whole(by))
	case by < 0:
		return say.New("effect.less", "{{.By}} % less", "By", whole(-by))
	}
	return say.New("effect.same", "no different")
}

// between is the range from one factor to another.
func between(low, high float64) say.Sentence {
	from, to := cents(low), cents(high)
	pairs := []any{"Low", whole(math.Abs(from)), "High", whole(math.Abs(to))}
	switch {
	case from >= 0:
		return say.New("effect.between-more", "{{.Low}} to {{.High}} % more", pairs...)
	case to <= 0:
		return say.New("effect.between-less", "{{.High}} to {{.Low}} % less", pairs...)
	}
	return say.New("effect.between-both", "{{.Low}} % less to {{.High}} % more", pairs...)
}

// cents is how many per cent a factor adds, to whole ones.
func cents(factor float64) float64 { return math.Round((factor - 1) * 100) }

// changed is a factor as the per cent it adds or takes, to whole per cent and with its sign: 1.13 is "+13".
func changed(factor float64) string {
	v := cents(factor)
	if v > 0 {
		return "+" + whole(v)
	}
	return whole(v + 0) // no minus before a nought
}

// PriorWords is one row of the trade prior in words.
type PriorWords struct {
	valuation.PriorRow
	Change say.Sentence // what it is thought to do to the price; for the anchor, the price
	Range  say.Sentence // eight times in ten
	Words  say.Sentence // all in one sentence, with the reason
}

func (s *Shop) priorRows(all []valuation.PriorRow) []PriorWords {
	var out []PriorWords
	for _, p := range all {
		low, mid, high := p.Range()
		r := PriorWords{PriorRow: p, Change: more(mid), Range: between(low, high)}
		if p.Column == "anchor" {
			whole := func(v float64) string { return s.currency.Whole(s.currency.FromFloat(v)) }
			r.Change = say.New("prior.price", "{{.Price}}", "Price", whole(mid))
			r.Range = say.New("band.range", "{{.Low}} to {{.High}}", "Low", whole(low), "High", whole(high))
		}
		pairs := []any{"What", p.Name, "Change", r.Change, "Range", r.Range, "Reason", p.Reason, "Basis", p.Basis}
		r.Words = say.New("prior.words", "{{.What}}: {{.Change}}, give or take; eight times in ten {{.Range}}. The reason: {{.Reason}}. Known from: {{.Basis}}.", pairs...)
		if p.Column == "make" {
			r.Words = say.New("prior.make", "{{.What}}: none is thought better than another before your own sales; eight times in ten one brings {{.Range}} than the average make. The reason: {{.Reason}}. Known from: {{.Basis}}.", pairs...)
		}
		out = append(out, r)
	}
	return out
}

// recordSecond says how far the middles of the bands lay from the prices.
func recordSecond(t valuation.Track) say.Sentence {
	if len(t.Rows) < leastJudged {
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

// inTen is a share as so many times in ten: whole ones in words, others to a tenth of one.
func inTen(share float64) any {
	n := math.Round(share*100) / 10
	if n > 0 && n == math.Trunc(n) {
		return valuation.Count(int(n))
	}
	return strconv.FormatFloat(n, 'f', -1, 64)
}
