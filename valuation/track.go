package valuation

import (
	"math"
	"strconv"

	"github.com/montanaflynn/stats"

	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Track is how the bands would have done on the shop's own sales, each valued by the others alone. How
// much the trade prior is trusted was settled on all of them, which flatters the record a little.
type Track struct {
	Rows     []TrackRow // by date
	Coverage []Coverage // at 50, 80 and 95 %

	// MedianRatio is the median of band middle to price, 1 when the middles are neither high nor low, and
	// MedianAbsPctError the median of how far the middle lay from the price, in per cent of the price. Both
	// are 0 without sales, and Warnings then says why.
	MedianRatio       float64
	MedianAbsPctError float64

	Warnings []say.Sentence
}

// TrackRow is one sale and the band that the other sales would have given it, at 80 %.
type TrackRow struct {
	Sale           Sale
	Low, Mid, High money.Amount
	Inside         bool    // the price lay from Low to High
	PIT            float64 // the chance that the band gave to a price at or below the one it fetched, 0 to 1
	Band           Band    // the whole of it, for any other level; it carries no warnings
}

// Coverage is how often bands of a level held.
type Coverage struct {
	Level    float64 // as promised
	Achieved float64 // as kept; 0 when Count is 0
	Count    int     // how many sales it is counted over
}

var trackLevels = []float64{0.5, 0.8, 0.95}

const shownLevel = 0.8

// Track is the leave-one-out record of the market.
func (m *Market) Track() Track {
	t := Track{}
	var ratios, errs stats.Float64Data
	for i, left := range m.model.LeaveOneOut()[:len(m.sales)] {
		s := m.sales[i]
		b := Band{price: left.Predictive, currency: m.options.Currency, sales: len(m.sales) - 1}
		row := TrackRow{Sale: s, Mid: b.Median(), PIT: b.Chance(s.Price), Band: b}
		row.Low, row.High = b.Interval(shownLevel)
		row.Inside = row.Low <= s.Price && s.Price <= row.High
		ratio := float64(row.Mid) / float64(s.Price)
		ratios = append(ratios, ratio)
		errs = append(errs, 100*math.Abs(ratio-1))
		t.Rows = append(t.Rows, row)
	}
	chances := make([]float64, len(t.Rows))
	for i, r := range t.Rows {
		chances[i] = r.PIT
	}
	t.Coverage = coverageOf(chances)
	switch n := len(t.Rows); {
	case n == 0:
		t.Warnings = append(t.Warnings, say.New("track.none", "no sales of your own yet: there is no record to show"))
		return t
	case n < fewSales:
		t.Warnings = append(t.Warnings, say.New("track.few", "with {{.Sales}} {{if eq .Sales \"1\"}}sale{{else}}sales{{end}} these shares are rough", "Sales", strconv.Itoa(n)))
	}
	// Neither can fail: there is at least one number.
	t.MedianRatio, _ = stats.Median(ratios)
	t.MedianAbsPctError, _ = stats.Median(errs)
	if n := len(m.unused); n > 0 {
		t.Warnings = append(t.Warnings, say.New("track.unused", "{{.Sales}} sales could not be learned from; the first: {{.Why}}", "Sales", strconv.Itoa(n), "Why", m.unused[0].Why))
	}
	return t
}
