package hedonic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// layout is the problem in the units it is solved in. Columns stand in three lots: those without a
// belief, each divided by its length, which keeps the digits of equations of Longley's kind; those with
// one, multiplied by SD/Scale, which makes the prior spread of every coefficient tau; and idle ones, with
// a belief and 0 in every row, whose coefficients stay as believed and are carried outside the equations.
type layout struct {
	data               Data
	prior              Prior
	flat, proper, idle []int
	unit               []float64  // a column of the caller's is divided by its unit
	rows               *mat.Dense // n x (flat + proper + 1), the last column y less what the prior expects
}

func newLayout(d Data, p Prior) (*layout, error) {
	n, k := d.rows(), len(p.SD)
	l := &layout{data: d, prior: p, unit: make([]float64, k)}
	for j := range k {
		length := 0.0
		for i := range n {
			length = math.Hypot(length, d.X.At(i, j))
		}
		switch {
		case p.flat(j):
			l.flat = append(l.flat, j)
			l.unit[j] = math.Max(length, math.SmallestNonzeroFloat64)
		case length == 0:
			l.idle = append(l.idle, j)
			l.unit[j] = p.Scale / p.SD[j]
		default:
			l.proper = append(l.proper, j)
			l.unit[j] = p.Scale / p.SD[j]
		}
		if !finite(l.unit[j]) || l.unit[j] == 0 {
			return nil, fmt.Errorf("%w: column %d is too large or too small to work with", ErrData, j+1)
		}
	}
	if n == 0 {
		return l, nil
	}
	l.rows = mat.NewDense(n, l.width()+1, nil)
	for i := range n {
		row, x := l.rows.RawRowView(i), d.X.RawRowView(i)
		u, q := l.split(row)
		l.scale(x, u, q)
		y := d.Y[i]
		for _, j := range l.proper {
			y -= x[j] * p.Mean[j]
		}
		row[l.width()] = y
		if !allFinite(row) {
			return nil, fmt.Errorf("%w: the numbers of row %d are too large to work with", ErrData, i+1)
		}
	}
	return l, nil
}

// width is how many columns take part in the equations.
func (l *layout) width() int { return len(l.flat) + len(l.proper) }

// split is a row's part of flat and of proper columns.
func (l *layout) split(row []float64) (flat, proper []float64) {
	return row[:len(l.flat)], row[len(l.flat):l.width()]
}

// scale puts a row of the caller's columns into the units of the layout.
func (l *layout) scale(x, flat, proper []float64) {
	for i, j := range l.flat {
		flat[i] = x[j] / l.unit[j]
	}
	for i, j := range l.proper {
		proper[i] = x[j] / l.unit[j]
	}
}

// believed is what the prior expects of a row, columns without a belief left out.
func (l *layout) believed(x []float64) float64 {
	sum := 0.0
	for _, j := range l.proper {
		sum += x[j] * l.prior.Mean[j]
	}
	for _, j := range l.idle {
		sum += x[j] * l.prior.Mean[j]
	}
	return sum
}

// precision is the weight of a row in the equations before anything is held against its response.
func (l *layout) precision(i int) float64 { return at(l.data.W, i) * at(l.data.Share, i) }

// triangle is R of the QR decomposition of the rows, each multiplied by the root of its precision times
// its trust; trust nil is 1.
func (l *layout) triangle(trust []float64) *mat.Dense {
	k := l.width() + 1
	n := l.data.rows()
	stack := mat.NewDense(max(n, k), k, nil)
	for i := range n {
		root := math.Sqrt(l.precision(i) * at(trust, i))
		from, to := l.rows.RawRowView(i), stack.RawRowView(i)
		for j, v := range from {
			to[j] = root * v
		}
	}
	raw := stack.RawMatrix()
	tau, size := make([]float64, k), make([]float64, 1)
	lapack64.Geqrf(raw, tau, size, -1)
	work := make([]float64, int(size[0]))
	lapack64.Geqrf(raw, tau, work, len(work))
	r := mat.NewDense(k, k, nil)
	for i := range k {
		copy(r.RawRowView(i)[i:], stack.RawRowView(i)[i:])
	}
	return r
}
