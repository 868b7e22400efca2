package hedonic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// Predict is the predictive distribution of the response of a new row. Noise is its variance in units of
// s2: 1 for a plain new observation, more where facts about it are missing, 0 for the expectation x'beta
// itself. It panics when the row has another length than the data's columns.
func (m *Model) Predict(row []float64, noise float64) Predictive {
	return NewStudent(m.location(row), m.Scale()*math.Sqrt(noise+m.Leverage(row)), m.DF())
}

// Leverage is x'Vn x, the variance of x'beta in units of s2: how little the data and the prior together
// know of a row that looks like this. It panics as Predict does.
func (m *Model) Leverage(row []float64) float64 {
	if len(row) != len(m.mean) {
		panic(fmt.Sprintf("hedonic: a row of %d for %d columns", len(row), len(m.mean)))
	}
	z := make([]float64, len(row))
	for j, x := range row {
		z[j] = x / m.unit[j]
	}
	v := blas64.Vector{N: len(z), Inc: 1, Data: z}
	blas64.Trsv(blas.Trans, m.root.RawTriangular(), v)
	return blas64.Dot(v, v)
}

func (m *Model) location(row []float64) float64 {
	if len(row) != len(m.mean) {
		panic(fmt.Sprintf("hedonic: a row of %d for %d columns", len(row), len(m.mean)))
	}
	at := 0.0
	for j, x := range row {
		at += x * m.mean[j]
	}
	return at
}
