package hedonic

import "math"

// The vague prior's settings. None of them knows what is being priced.
const (
	vagueScale    = 0.5 // of the responses' own standard deviation: columns explain some three quarters
	vagueStrength = 2   // as if seen on four rows
	vagueLevels   = 9   // steps of the belief about how much the columns explain
	vagueCalm     = 200 // rows at which half the calibration is done
)

// Vague is a prior for when nothing is known but the data: no column has a direction before it is seen,
// and spreads are in the units of the data. The first column must be that of the ones; it is left flat.
// The share of the response's variance that the columns explain together is believed to be Beta(3, 1),
// taken at equally likely steps: taus. Columns are let speak apart and together ([Prior.Leans]), residuals
// be normal or have Student-t tails.
//
// A column that does not vary beyond rounding cannot be told from the level and gets a spread that keeps
// it finite.
func Vague(d Data) Prior {
	if d.X == nil || d.X.IsEmpty() {
		return Prior{}
	}
	_, k := d.X.Dims()
	p := Flat(k)
	p.Strength, p.Calibration = vagueStrength, vagueCalm
	p.Scale = vagueScale * spreadOf(d.Y)
	if !(p.Scale > tiny(d.Y)) {
		p.Scale = math.Max(tiny(d.Y), 1e-9) // all responses alike
	}
	columns := math.Sqrt(math.Max(1, float64(k-1)))
	column := make([]float64, d.rows())
	for j := 1; j < k; j++ {
		for i := range column {
			column[i] = d.X.At(i, j)
		}
		size := spreadOf(column)
		if !(size > tiny(column)) {
			if size = math.Abs(column[0]); size < tiny(nil) {
				size = 1
			}
		}
		p.SD[j] = p.Scale / size / columns
	}
	for i := range vagueLevels {
		explained := math.Cbrt((float64(i) + 0.5) / vagueLevels)
		p.Taus = append(p.Taus, Option{math.Sqrt(explained / (1 - explained)), 1})
	}
	p.Leans = Options(0, 1)
	p.Tails = []Option{{math.Inf(1), 0.1}, {12, 0.8}, {5, 0.1}}
	return p
}

// spreadOf is the standard deviation, without overflow.
func spreadOf(v []float64) float64 {
	largest := 0.0
	for _, x := range v {
		largest = math.Max(largest, math.Abs(x))
	}
	if largest == 0 || len(v) < 2 {
		return 0
	}
	mean, sum := 0.0, 0.0
	for _, x := range v {
		mean += x / largest / float64(len(v))
	}
	for _, x := range v {
		e := x/largest - mean
		sum += e * e
	}
	return largest * math.Sqrt(sum/float64(len(v)-1))
}

// tiny is what rounding alone, or a number too small to work with, may leave of a spread.
func tiny(v []float64) float64 {
	largest := 0.0
	for _, x := range v {
		largest = math.Max(largest, math.Abs(x))
	}
	return math.Max(1e-9*largest, 1e-100)
}
