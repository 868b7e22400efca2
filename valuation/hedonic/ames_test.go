package hedonic

import (
	"fmt"
	"testing"
)

var amesColumns = []string{"area", "built", "baths", "half", "bedrooms", "fireplaces", "garage", "lot", "sold"}

// ames is three hundred house sales (De Cock 2011, modeldata::ames), every ninth: the rows to learn from,
// and all of them. R counts rows from 1.
func ames(t testing.TB) (odd []int, d map[string][]float64) {
	t.Helper()
	d, _ = table(t, "ames.csv")
	for i := 0; i < len(d["y"]); i += 2 {
		odd = append(odd, i)
	}
	return odd, d
}

func fitAmes(t testing.TB) *Model {
	t.Helper()
	odd, d := ames(t)
	m, err := Fit(Data{X: design(d, odd, amesColumns...), Y: pick(d["y"], odd)}, Flat(1+len(amesColumns)))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// R's predict(lm, interval="prediction") of the even rows from the odd ones.
func TestAmesBands(t *testing.T) {
	_, d := ames(t)
	m := fitAmes(t)
	want, _ := table(t, "ames_bands.csv")
	if len(want["row"]) != 3*150 {
		t.Fatalf("%d bands", len(want["row"]))
	}
	for i, level := range want["level"] {
		r := int(want["row"][i]) - 1
		p := m.Predict(design(d, []int{r}, amesColumns...).RawRowView(0), 1)
		sameBand(t, fmt.Sprintf("row %d at %.2f", r+1, level), p, level, want["fit"][i], want["low"][i], want["high"][i])
	}
}

// R: each odd row predicted by lm fitted without it, and what that prediction errs by.
func TestAmesLeftOut(t *testing.T) {
	_, d := ames(t)
	left := fitAmes(t).LeaveOneOut()
	want, _ := table(t, "ames_left_out.csv")
	if len(want["row"]) != 3*len(left) {
		t.Fatalf("%d bands for %d rows", len(want["row"]), len(left))
	}
	for i, level := range want["level"] {
		r := int(want["row"][i]) - 1
		one := left[r/2]
		what := fmt.Sprintf("row %d at %.2f", r+1, level)
		sameBand(t, what, one.Predictive, level, want["fit"][i], want["low"][i], want["high"][i])
		// The errors are small beside the response, so that they are held to its digits.
		near(t, what+" error", d["y"][r]-one.Residual/(1-one.Leverage), d["y"][r]-want["off"][i], 1e-8)
	}
}

func sameBand(t *testing.T, what string, p Predictive, level, fit, low, high float64) {
	t.Helper()
	gotLow, gotHigh := p.Interval(level)
	near(t, what+" fit", p.Quantile(0.5), fit, 1e-8)
	near(t, what+" low", gotLow, low, 1e-8)
	near(t, what+" high", gotHigh, high, 1e-8)
}
