package shop

import (
	"math"
	"strconv"

	"skegworth/valuation"
	"skegworth/valuation/say"
)

// RatioRow is one measure of the ratio study, in words.
type RatioRow struct {
	Key    string // median, spread, dear or bias
	Name   say.Sentence
	Figure string       // "103 %"; "" when it is not known
	Meant  say.Sentence // the range held acceptable
	Words  say.Sentence // what the figure says
	Holds  bool         // it lies in the range, or the range cannot be told from it
}

// RatioAnswer is how the bands' middles compare with the prices.
type RatioAnswer struct {
	Study    valuation.RatioStudy
	Rows     []RatioRow // none without sales
	Warnings []say.Sentence
}

func ratioAnswer(t valuation.Track) (RatioAnswer, error) {
	study, err := t.Ratios()
	if err != nil {
		return RatioAnswer{}, err
	}
	a := RatioAnswer{Study: study, Warnings: study.Warnings}
	switch {
	case study.Count == 0:
	case study.Count < leastJudged:
		a.Rows = []RatioRow{medianRow(study), spreadRow(study), dearRow(study), biasRow(study)}
		for i := range a.Rows {
			a.Rows[i].Holds = true
			a.Rows[i].Figure, a.Rows[i].Words = "", say.New("ratio.untold", "cannot be told from fewer than {{.Least}} sales", "Least", valuation.Count(leastJudged))
		}
	default:
		a.Rows = []RatioRow{medianRow(study), spreadRow(study), dearRow(study), biasRow(study)}
	}
	return a, nil
}

func medianRow(s valuation.RatioStudy) RatioRow {
	r := RatioRow{Key: "median", Figure: percent(s.Median) + " %", Holds: valuation.MedianLimits.Holds(s.Median),
		Name:  say.New("ratio.median", "the usual middle, as a part of the price"),
		Meant: say.New("ratio.range", "{{.Low}} to {{.High}} %", "Low", percent(valuation.MedianLimits.Low), "High", percent(valuation.MedianLimits.High))}
	switch {
	case r.Holds:
		r.Words = say.New("ratio.median.right", "neither high nor low enough to mind")
	case s.Median > 1:
		r.Words = say.New("ratio.median.high", "the middles run high")
	default:
		r.Words = say.New("ratio.median.low", "the middles run low")
	}
	return r
}

func spreadRow(s valuation.RatioStudy) RatioRow {
	l := valuation.CODLimits
	r := RatioRow{Key: "spread", Figure: whole(s.COD) + " %", Holds: l.Holds(s.COD),
		Name:  say.New("ratio.spread", "how far the others lie from it, on average"),
		Meant: say.New("ratio.range", "{{.Low}} to {{.High}} %", "Low", whole(l.Low), "High", whole(l.High))}
	switch {
	case r.Holds:
		r.Words = say.New("ratio.spread.right", "as close as is usual for things of mixed kinds")
	case s.COD > l.High:
		r.Words = say.New("ratio.spread.wide", "single prices scatter more than that: the width of the bands has to say so")
	default:
		r.Words = say.New("ratio.spread.close", "closer than is usual: make sure that these are prices paid, not prices worked out")
	}
	return r
}

func dearRow(s valuation.RatioStudy) RatioRow {
	l := valuation.PRDLimits
	r := RatioRow{Key: "dear", Figure: strconv.FormatFloat(s.PRD, 'f', 2, 64), Holds: l.Holds(s.PRD),
		Name:  say.New("ratio.dear", "the middles of cheap motors beside those of dear ones, 1 when alike"),
		Meant: say.New("ratio.between", "{{.Low}} to {{.High}}", "Low", strconv.FormatFloat(l.Low, 'f', 2, 64), "High", strconv.FormatFloat(l.High, 'f', 2, 64))}
	switch {
	case r.Holds:
		r.Words = say.New("ratio.dear.right", "cheap and dear motors are valued alike")
	case s.PRD > l.High:
		r.Words = say.New("ratio.dear.low", "dear motors look valued low, but prices that scatter do this by themselves: the next line is surer")
	default:
		r.Words = say.New("ratio.dear.high", "dear motors look valued high")
	}
	return r
}

func biasRow(s valuation.RatioStudy) RatioRow {
	l := valuation.PRBLimits
	r := RatioRow{Key: "bias", Holds: true,
		Name:  say.New("ratio.bias", "the change of that part when a motor is worth twice as much"),
		Meant: say.New("ratio.range", "{{.Low}} to {{.High}} %", "Low", changed(1+l.Low), "High", changed(1+l.High))}
	b := s.PRB
	if !b.Known {
		r.Words = say.New("ratio.bias.untold", "cannot be told from these sales")
		return r
	}
	r.Figure = changed(1+b.At) + " %"
	span := []any{"Low", changed(1 + b.Low), "High", changed(1 + b.High)}
	switch worst := valuation.PRBWorst; {
	case b.High < worst.Low:
		r.Holds = false
		r.Words = say.New("ratio.bias.far-low", "dear motors are valued far too low beside cheap ones: between {{.Low}} and {{.High}} %, nineteen times in twenty", span...)
	case b.Low > worst.High:
		r.Holds = false
		r.Words = say.New("ratio.bias.far-high", "dear motors are valued far too high beside cheap ones: between {{.Low}} and {{.High}} %, nineteen times in twenty", span...)
	case b.High < l.Low:
		r.Holds = false
		r.Words = say.New("ratio.bias.low", "dear motors are valued low beside cheap ones: between {{.Low}} and {{.High}} %, nineteen times in twenty", span...)
	case b.Low > l.High:
		r.Holds = false
		r.Words = say.New("ratio.bias.high", "dear motors are valued high beside cheap ones: between {{.Low}} and {{.High}} %, nineteen times in twenty", span...)
	case b.Low >= l.Low && b.High <= l.High:
		r.Words = say.New("ratio.bias.right", "cheap and dear motors are valued alike: between {{.Low}} and {{.High}} %, nineteen times in twenty", span...)
	default:
		r.Words = say.New("ratio.bias.open", "between {{.Low}} and {{.High}} %, nineteen times in twenty: these sales do not show that cheap and dear are valued otherwise", span...)
	}
	return r
}

// whole is a figure to whole numbers.
func whole(v float64) string { return strconv.FormatFloat(math.Round(v), 'f', 0, 64) }
