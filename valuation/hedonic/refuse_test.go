package hedonic

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// sane fails when any answer of the model is not a number.
func sane(t interface {
	Helper()
	Fatalf(string, ...any)
}, m *Model, rows ...[]float64) {
	t.Helper()
	check := func(what string, v ...float64) {
		t.Helper()
		for _, x := range v {
			if !finite(x) {
				t.Fatalf("%s is %v", what, x)
			}
		}
	}
	mean, sd := m.Coefficients()
	check("coefficient", mean...)
	check("spread", sd...)
	check("tau, scale, df", m.Tau(), m.Scale(), m.DF())
	if math.IsNaN(m.LogMarginal()) {
		t.Fatalf("log marginal is NaN")
	}
	for _, row := range rows {
		p := m.Predict(row, 1)
		low, high := p.Interval(0.95)
		check("band", low, high, p.Quantile(0.5), p.CDF(low), m.Leverage(row))
		if math.IsNaN(p.MeanExp(0.005, 0.995)) {
			t.Fatalf("mean is NaN")
		}
	}
	for _, l := range m.LeaveOneOut() {
		check("left out", l.Residual, l.Leverage)
		if l.Known {
			check("left out band", l.Predictive.Quantile(0.1))
		}
	}
}

func proper(k int) Prior {
	p := Prior{Mean: make([]float64, k), SD: make([]float64, k), Scale: 0.3, Strength: 2, Taus: Options(1, 2)}
	for j := range p.SD {
		p.SD[j] = 0.5
	}
	return p
}

func TestSmallAndAwkwardData(t *testing.T) {
	ones := func(n, k int) *mat.Dense {
		x := mat.NewDense(n, k, nil)
		for i := range n {
			for j := range k {
				x.Set(i, j, 1)
			}
		}
		return x
	}
	line := mat.NewDense(4, 2, []float64{1, 0, 1, 1, 1, 2, 1, 3})
	y := []float64{1, 2, 2, 4}
	for _, c := range []struct {
		name    string
		data    Data
		prior   Prior
		refused error // nil when answered
	}{
		{"nothing, proper", Data{}, proper(2), nil},
		{"nothing, flat", Data{}, Flat(2), ErrTooFew},
		{"one row, proper", Data{X: ones(1, 2), Y: y[:1]}, proper(2), nil},
		{"one row, flat", Data{X: ones(1, 1), Y: y[:1]}, Flat(1), ErrTooFew},
		{"two rows, flat mean", Data{X: ones(2, 1), Y: y[:2]}, Flat(1), nil},
		{"two rows, flat line", Data{X: line.Slice(0, 2, 0, 2).(*mat.Dense), Y: y[:2]}, Flat(2), ErrTooFew},
		{"two rows, proper", Data{X: ones(2, 2), Y: y[:2]}, proper(2), nil},
		{"columns alike, flat", Data{X: ones(4, 2), Y: y}, Flat(2), ErrCollinear},
		{"columns alike, proper", Data{X: ones(4, 2), Y: y}, proper(2), nil},
		{"more columns than rows, proper", Data{X: ones(2, 7), Y: y[:2]}, proper(7), nil},
		{"a column of zeros, flat", Data{X: mat.NewDense(4, 2, []float64{1, 0, 1, 0, 1, 0, 1, 0}), Y: y}, Flat(2), ErrCollinear},
		{"a column of zeros, proper", Data{X: mat.NewDense(4, 2, []float64{1, 0, 1, 0, 1, 0, 1, 0}), Y: y}, proper(2), nil},
		{"all responses alike, flat", Data{X: ones(4, 1), Y: []float64{3, 3, 3, 3}}, Flat(1), nil},
		{"all zero, flat", Data{X: ones(4, 1), Y: make([]float64, 4)}, Flat(1), nil},
		{"not a number", Data{X: line, Y: []float64{1, math.NaN(), 2, 3}}, proper(2), ErrData},
		{"infinite", Data{X: mat.NewDense(1, 2, []float64{1, math.Inf(1)}), Y: y[:1]}, proper(2), ErrData},
		{"lengths differ", Data{X: line, Y: y[:3]}, proper(2), ErrData},
		{"columns differ", Data{X: line, Y: y}, proper(3), ErrData},
		{"no matrix", Data{Y: y}, proper(2), ErrData},
		{"weights missing", Data{X: line, Y: y, W: []float64{1}}, proper(2), ErrData},
		{"a weight of nothing", Data{X: line, Y: y, W: []float64{1, 1, 0, 1}}, proper(2), ErrData},
		{"a share below nothing", Data{X: line, Y: y, Share: []float64{1, 1, -1, 1}}, proper(2), ErrData},
		{"shares of too little, flat", Data{X: line, Y: y, Share: []float64{.4, .4, .4, .4}}, Flat(2), ErrTooFew},
		{"huge", Data{X: mat.NewDense(2, 2, []float64{1, 1e200, 1, 1e199}), Y: []float64{1e250, -1e250}}, proper(2), ErrData},
	} {
		t.Run(c.name, func(t *testing.T) {
			m, err := Fit(c.data, c.prior)
			if !errors.Is(err, c.refused) {
				t.Fatalf("got %v, want %v", err, c.refused)
			}
			if err == nil {
				row := make([]float64, m.Columns())
				row[0] = 1
				sane(t, m, row)
			}
		})
	}
}

func TestPriorsThatCannotBe(t *testing.T) {
	data := Data{X: mat.NewDense(2, 1, []float64{1, 1}), Y: []float64{1, 2}}
	for name, p := range map[string]Prior{
		"no columns":         {Mean: []float64{}, SD: []float64{}},
		"lengths":            {Mean: []float64{1, 2}, SD: []float64{1}, Scale: 1},
		"spread of 0":        {Mean: []float64{1}, SD: []float64{0}, Scale: 1},
		"spread NaN":         {Mean: []float64{1}, SD: []float64{math.NaN()}, Scale: 1},
		"mean NaN":           {Mean: []float64{math.NaN()}, SD: []float64{1}, Scale: 1},
		"no scale":           {Mean: []float64{1}, SD: []float64{1}},
		"scale NaN":          {Mean: []float64{1}, SD: []float64{1}, Scale: math.NaN()},
		"strength below 0":   {Mean: []float64{1}, SD: []float64{1}, Scale: 1, Strength: -1},
		"tau of 0":           {Mean: []float64{1}, SD: []float64{1}, Scale: 1, Taus: Options(0)},
		"strength, unitless": {Mean: []float64{0}, SD: []float64{math.Inf(1)}, Strength: 1},
	} {
		if m, err := Fit(data, p); err == nil {
			t.Errorf("%s: fitted %v", name, m.mean)
		}
	}
}

// With no data the answer is the prior: a Student-t of 2 a0 degrees of freedom.
func TestNoDataIsThePrior(t *testing.T) {
	p := Prior{Mean: []float64{7, -0.5}, SD: []float64{0.25, 0.1}, Scale: 0.28, Strength: 2.5}
	m, err := Fit(Data{}, p)
	if err != nil {
		t.Fatal(err)
	}
	mean, sd := m.Coefficients()
	for j := range mean {
		near(t, "mean", mean[j], p.Mean[j], 1e-14)
		near(t, "spread", sd[j], p.SD[j], 1e-14)
	}
	got := m.Predict([]float64{1, 2}, 1)
	want := NewStudent(6, math.Sqrt(0.28*0.28+0.25*0.25+4*0.1*0.1), 5)
	for _, q := range []float64{0.01, 0.3, 0.5, 0.9} {
		near(t, "quantile", got.Quantile(q), want.Quantile(q), 1e-13)
	}
}

func TestPredictRefusesAnotherLength(t *testing.T) {
	m, err := Fit(Data{}, proper(2))
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if recover() == nil {
			t.Error("a row of three was taken for two columns")
		}
	}()
	m.Predict([]float64{1, 2, 3}, 1)
}
