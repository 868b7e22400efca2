package hedonic

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func benchmarkData(n, k int) (Data, Prior) {
	r := rand.New(rand.NewPCG(1, 2))
	d := Data{X: mat.NewDense(n, k, nil), Y: make([]float64, n)}
	for i := range n {
		d.X.Set(i, 0, 1)
		for j := 1; j < k; j++ {
			d.X.Set(i, j, r.NormFloat64())
		}
		d.Y[i] = 7 + r.NormFloat64()
	}
	p := proper(k)
	p.Taus = Options(1, 1.5, 2.25)
	return d, p
}

func BenchmarkFit(b *testing.B) {
	for _, size := range []struct {
		name string
		n, k int
	}{{"500x50", 500, 50}, {"10000x40", 10000, 40}} {
		d, p := benchmarkData(size.n, size.k)
		b.Run(size.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Fit(d, p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkLeaveOneOut(b *testing.B) {
	d, p := benchmarkData(500, 50)
	m, err := Fit(d, p)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		m.LeaveOneOut()
	}
}

func BenchmarkQuantile(b *testing.B) {
	p := NewStudent(7, 0.3, 31)
	for b.Loop() {
		p.Quantile(0.1)
	}
}
