package valuation

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"github.com/montanaflynn/stats"
	"gonum.org/v1/gonum/stat/distuv"

	"skegworth/valuation/say"
)

// Appraised is what a thing was held to be worth and what it sold for, both above 0 and in one unit.
type Appraised struct {
	Value, Price float64
}

// RatioStudy tells whether values were high or low against prices, how far apart they lay, and whether
// cheap things were valued otherwise than dear ones. The measures are those of the International
// Association of Assessing Officers, Standard on Ratio Studies (2013); a ratio is value / price. Without
// pairs all is 0.
type RatioStudy struct {
	Count    int
	Median   float64 // ratio; 1 when as many values were too high as too low
	Mean     float64 // ratio
	Weighted float64 // sum of values / sum of prices: the mean ratio weighted by price

	Deviation float64 // average absolute deviation of the ratios from their median
	COD       float64 // coefficient of dispersion, per cent: 100 Deviation / Median
	PRD       float64 // price-related differential: Mean / Weighted, above 1 when dear things are valued low
	PRB       Slope   // price-related bias: the part by which the ratio changes when the value doubles

	Warnings []say.Sentence
}

// Slope is the slope of a line with its 95 % range. It is not Known when there are fewer than three
// points or all stand at one place.
type Slope struct {
	At, Low, High float64
	Known         bool
}

// Limits are an acceptable range, its ends included.
type Limits struct{ Low, High float64 }

// Holds tells whether a figure lies in the range.
func (l Limits) Holds(v float64) bool { return l.Low <= v && v <= l.High }

// The ranges that the Standard on Ratio Studies (2013) holds acceptable: the median ratio and the
// coefficient of dispersion by its section 9 and table 1-3, the two price-related figures by section
// 9.2.7. For personal property the table leaves the dispersion to local conditions; the range here is
// that of its mixed residential kinds (rural, seasonal, manufactured). A PRB whose whole 95 % range lies
// outside PRBWorst is unacceptable by the standard. The figures are quoted from memory of it.
var (
	MedianLimits = Limits{0.90, 1.10}
	CODLimits    = Limits{5, 20}
	PRDLimits    = Limits{0.98, 1.03}
	PRBLimits    = Limits{-0.05, 0.05}
	PRBWorst     = Limits{-0.10, 0.10}
)

// rangeLevel is the level of a slope's range, as the standard has it.
const rangeLevel = 0.95

// StudyRatios compares values with prices.
func StudyRatios(pairs []Appraised) (RatioStudy, error) {
	study := RatioStudy{Count: len(pairs)}
	if len(pairs) == 0 {
		study.Warnings = append(study.Warnings, say.New("ratio.none", "there is nothing to compare yet"))
		return study, nil
	}
	var ratios, values, prices stats.Float64Data
	for i, p := range pairs {
		ratio := p.Value / p.Price
		if !(p.Value > 0 && p.Price > 0 && ratio > 0) || math.IsInf(p.Value, 0) || math.IsInf(p.Price, 0) || math.IsInf(ratio, 0) {
			return RatioStudy{}, fmt.Errorf("compare values with prices: pair %d: %v and %v are not both amounts above 0", i+1, p.Value, p.Price)
		}
		ratios, values, prices = append(ratios, ratio), append(values, p.Value), append(prices, p.Price)
	}
	var value, price float64
	var failed [4]error
	study.Median, failed[0] = stats.Median(ratios)
	study.Mean, failed[1] = stats.Mean(ratios)
	value, failed[2] = stats.Sum(values)
	price, failed[3] = stats.Sum(prices)
	if err := errors.Join(failed[:]...); err != nil {
		return RatioStudy{}, fmt.Errorf("compare values with prices: %w", err)
	}
	study.Weighted = value / price
	for _, r := range ratios {
		study.Deviation += math.Abs(r-study.Median) / float64(len(ratios))
	}
	study.COD = 100 * study.Deviation / study.Median
	study.PRD = study.Mean / study.Weighted
	var err error
	if study.PRB, err = priceRelatedBias(pairs, study.Median); err != nil {
		return RatioStudy{}, fmt.Errorf("compare values with prices: %w", err)
	}
	if n := len(pairs); n < fewSales {
		study.Warnings = append(study.Warnings, say.New("ratio.few", "with {{.Sales}} sales these figures are rough: one sale can move them far", "Sales", strconv.Itoa(n)))
	}
	if !study.PRB.Known {
		study.Warnings = append(study.Warnings, say.New("ratio.alike", "whether cheap and dear are valued alike cannot be told from so few sales, or from sales all of one price"))
	}
	return study, nil
}

// priceRelatedBias regresses (ratio - median) / median on log2 of (value / median + price) / 2 by least
// squares. The range is Student's, with two degrees of freedom fewer than there are pairs.
func priceRelatedBias(pairs []Appraised, median float64) (Slope, error) {
	n := float64(len(pairs))
	if n < 3 {
		return Slope{}, nil
	}
	var x, y stats.Float64Data
	for _, p := range pairs {
		x = append(x, math.Log2(p.Value/median/2+p.Price/2))
		y = append(y, p.Value/p.Price/median-1)
	}
	var xMean, yMean, xVariance, covariance float64
	var failed [4]error
	xMean, failed[0] = stats.Mean(x)
	yMean, failed[1] = stats.Mean(y)
	xVariance, failed[2] = stats.PopulationVariance(x)
	covariance, failed[3] = stats.CovariancePopulation(x, y)
	if err := errors.Join(failed[:]...); err != nil {
		return Slope{}, fmt.Errorf("find the price-related bias: %w", err)
	}
	if math.Sqrt(xVariance) <= 1e-9*(1+math.Abs(xMean)) { // rounding alone tells them apart
		return Slope{}, nil
	}
	slope := covariance / xVariance
	rest := 0.0
	for i := range x {
		e := y[i] - yMean - slope*(x[i]-xMean)
		rest += e * e
	}
	t := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile((1 + rangeLevel) / 2)
	half := t * math.Sqrt(rest/(n-2)/(n*xVariance))
	return Slope{At: slope, Low: slope - half, High: slope + half, Known: true}, nil
}

// Ratios compares the middle of each band with the price that the sale fetched.
func (t Track) Ratios() (RatioStudy, error) {
	pairs := make([]Appraised, len(t.Rows))
	for i, r := range t.Rows {
		pairs[i] = Appraised{Value: float64(r.Mid), Price: float64(r.Sale.Price)}
	}
	return StudyRatios(pairs)
}
