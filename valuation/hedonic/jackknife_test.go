package hedonic

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// jackknifePlus is the jackknife+ interval of a new row (Barber, Candes, Ramdas and Tibshirani 2021, section
// 1.2), put together from what leaving each row out does, without fitting again: without row i the fitted
// value moves by x'Vn xi ei/(1-hi), and row i itself is missed by ei/(1-hi).
func jackknifePlus(m *Model, x []float64, level float64) (low, high float64) {
	mean, _ := m.Coefficients()
	cov := m.Covariance()
	var lows, highs []float64
	for i, one := range m.LeaveOneOut() {
		off := one.Residual / (1 - one.Leverage)
		at := 0.0
		for j := range x {
			at += x[j] * mean[j]
			for k, v := range m.data.X.RawRowView(i) {
				at -= x[j] * cov.At(j, k) / (m.Scale() * m.Scale()) * v * off
			}
		}
		lows = append(lows, at-math.Abs(off))
		highs = append(highs, at+math.Abs(off))
	}
	slices.Sort(lows)
	slices.Sort(highs)
	n := float64(len(lows))
	return lows[int(math.Floor((1-level)*(n+1)))-1], highs[int(math.Ceil(level*(n+1)))-1]
}

// R's intervals from a model refitted without each row.
func TestAmesJackknife(t *testing.T) {
	_, d := ames(t)
	m := fitAmes(t)
	want, _ := table(t, "ames_jackknife.csv")
	if len(want["row"]) != 3*150 {
		t.Fatalf("%d intervals", len(want["row"]))
	}
	for i, level := range want["level"] {
		r := int(want["row"][i]) - 1
		low, high := jackknifePlus(m, design(d, []int{r}, amesColumns...).RawRowView(0), level)
		what := fmt.Sprintf("row %d at %.2f", r+1, level)
		near(t, what+" low", low, want["low"][i], 1e-8)
		near(t, what+" high", high, want["high"][i], 1e-8)
	}
}
