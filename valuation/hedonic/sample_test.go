package hedonic

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// wide is a mixture as bands are: parts of several tails, apart and of several widths.
var wide = Mix([]float64{0.5, 0.3, 0.2}, []Predictive{NewStudent(7.6, 0.28, 12), NewStudent(7.8, 0.4, 5), NewStudent(7.2, 0.2, math.Inf(1))})

// The curve through knots against the root of the CDF, in the strata of a large sample: to a thousandth
// where two parts stand far apart, to a millionth for a band.
func TestALargeSampleIsTheQuantiles(t *testing.T) {
	for _, p := range []Predictive{wide, NewStudent(7.6, 0.3, 4), NewStudent(0, 1, math.Inf(1)),
		Mix([]float64{0.9, 0.1}, []Predictive{NewStudent(0, 0.1, 30), NewStudent(0.6, 0.3, 6)})} {
		const n = 20_000
		got := p.Sample(n)
		for i := 0; i < n; i += 37 {
			want := p.Quantile((float64(i) + 0.5) / n)
			if math.Abs(got[i]-want) > 1e-3 {
				t.Fatalf("stratum %d of %v: %v, want %v", i, p, got[i], want)
			}
		}
	}
	const n = 20_000
	worst := 0.0
	got := wide.Sample(n)
	for i := 0; i < n; i += 11 {
		worst = math.Max(worst, math.Abs(got[i]-wide.Quantile((float64(i)+0.5)/n)))
	}
	if worst > 1e-6 {
		t.Errorf("the sample of a band is off by up to %v", worst)
	}
}

// R's uniroot on the same weighted sum of pt(): testdata/reference/make.R, part 6.
func TestMixtureQuantilesAgainstR(t *testing.T) {
	file, err := os.Open("../../testdata/reference/mixture.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) < 10 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, r := range rows[1:] {
		p, _ := strconv.ParseFloat(r[0], 64)
		want, _ := strconv.ParseFloat(r[1], 64)
		if got := wide.Quantile(p); math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("quantile %v is %v, R says %v", p, got, want)
		}
	}
}

func BenchmarkLargeSample(b *testing.B) {
	for b.Loop() {
		wide.Sample(20_000)
	}
}
