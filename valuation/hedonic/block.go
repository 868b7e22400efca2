package hedonic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// degenerate is how small the part of a column that no earlier column explains may become, beside the
// whole column, before its coefficient is noise. Longley's columns, the classic hard case, stay above
// 1e-5; rounding alone leaves about 1e-16.
const degenerate = 1e-11

// block is the data under one set of row weights and one set of group spreads, turned so that every tau
// and every lean is answered without solving anything again: the columns without a belief are taken out
// by QR, and the singular values of what is left are the directions in which the data speak, one apart
// from the other.
type block struct {
	*reduced
	spread []float64  // multiplier of each proper column's spread
	wide   []float64  // of each idle column's
	turn   *mat.Dense // proper x proper: from columns to directions
	size   []float64  // singular value of each direction
	said   []float64  // what the response says along each
}

// reduced is the data under one set of row weights, the columns without a belief taken out.
type reduced struct {
	*layout
	root   []float64  // flat x flat, upper: of the columns without a belief
	cross  *mat.Dense // flat x proper
	right  []float64  // the solution's right side over the flat columns
	inner  *mat.Dense // proper x proper, upper: what is left
	answer []float64  // its right side
	rest   float64    // sum of squares that no column can explain
	logDet float64    // of the flat columns, in the caller's units
}

// reduce takes the columns without a belief out of the weighted rows.
func (l *layout) reduce(trust []float64) (*reduced, error) {
	f, k := len(l.flat), len(l.proper)
	r := l.triangle(trust)
	b := &reduced{layout: l, root: make([]float64, f*f), right: make([]float64, f), answer: make([]float64, k)}
	last := l.width()
	for j := range f {
		length := 0.0
		for i := 0; i <= j; i++ {
			length = math.Hypot(length, r.At(i, j))
			b.root[i*f+j] = r.At(i, j)
		}
		own := math.Abs(r.At(j, j))
		if own <= degenerate*length || own == 0 {
			return nil, fmt.Errorf("%w: column %d has no prior of its own to hold it", ErrCollinear, l.flat[j]+1)
		}
		b.right[j] = r.At(j, last)
		b.logDet += math.Log(own) + math.Log(l.unit[l.flat[j]])
	}
	b.rest = r.At(last, last) * r.At(last, last)
	if k == 0 {
		return b, nil
	}
	if f > 0 {
		b.cross = mat.DenseCopyOf(r.Slice(0, f, f, last))
	}
	b.inner = mat.DenseCopyOf(r.Slice(f, last, f, last))
	for i := range k {
		b.answer[i] = r.At(f+i, last)
	}
	return b, nil
}

// newBlock turns what is left into directions.
func newBlock(r *reduced, spread, wide []float64) (*block, error) {
	b := &block{reduced: r, spread: spread, wide: wide}
	k := len(r.proper)
	if k == 0 {
		return b, nil
	}
	scaled := mat.DenseCopyOf(r.inner)
	for i := range k {
		row := scaled.RawRowView(i)
		for j := range row {
			row[j] *= spread[j]
		}
	}
	var svd mat.SVD
	if !svd.Factorize(scaled, mat.SVDFull) {
		return nil, fmt.Errorf("%w: the columns could not be told apart", ErrData)
	}
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	b.size = svd.Values(nil)
	b.said = make([]float64, k)
	for i := range k {
		for j := range k {
			b.said[i] += u.At(j, i) * r.answer[j]
		}
		for j := range k {
			v.Set(i, j, v.At(i, j)*b.spread[i])
		}
	}
	b.turn = &v
	return b, nil
}

// point is a row as a block sees it.
type point struct {
	level float64   // its expectation but for the directions
	base  float64   // its variance, in units of s2, from the columns without a belief
	along []float64 // its place along each direction
	idle  float64   // its variance at tau 1 from the idle columns
}

// point turns a row of the caller's columns.
func (b *block) point(x []float64) point {
	u, q := make([]float64, len(b.flat)), make([]float64, len(b.proper))
	b.scale(x, u, q)
	p := point{level: b.believed(x), along: make([]float64, len(q))}
	if len(u) > 0 {
		blas64.Trsv(blas.Trans, b.upper(), vector(u))
		p.base = blas64.Dot(vector(u), vector(u))
		p.level += blas64.Dot(vector(u), vector(b.right))
		if b.cross != nil {
			blas64.Gemv(blas.Trans, -1, b.cross.RawMatrix(), vector(u), 1, vector(q))
		}
	}
	if len(q) > 0 {
		blas64.Gemv(blas.Trans, 1, b.turn.RawMatrix(), vector(q), 0, vector(p.along))
	}
	for i, j := range b.idle {
		v := x[j] / b.unit[j] * b.wide[i]
		p.idle += v * v
	}
	return p
}

// points turns the rows of the data.
func (b *block) points() []point {
	n, f, k := b.data.rows(), len(b.flat), len(b.proper)
	out := make([]point, n)
	if n == 0 {
		return out
	}
	turned := mat.NewDense(n, max(k, 1), nil)
	if k > 0 {
		turned.Copy(b.rows.Slice(0, n, f, f+k))
	}
	u := make([]float64, f)
	for i := range out {
		out[i].level = b.believed(b.data.X.RawRowView(i))
		if f > 0 {
			copy(u, b.rows.RawRowView(i))
			blas64.Trsv(blas.Trans, b.upper(), vector(u))
			out[i].base = blas64.Dot(vector(u), vector(u))
			out[i].level += blas64.Dot(vector(u), vector(b.right))
			if b.cross != nil {
				blas64.Gemv(blas.Trans, -1, b.cross.RawMatrix(), vector(u), 1, vector(turned.RawRowView(i)))
			}
		}
	}
	if k > 0 {
		var along mat.Dense
		along.Mul(turned, b.turn)
		for i := range out {
			out[i].along = along.RawRowView(i)
		}
	}
	return out
}

func (b *reduced) upper() blas64.Triangular {
	return blas64.Triangular{Uplo: blas.Upper, Diag: blas.NonUnit, N: len(b.flat), Stride: len(b.flat), Data: b.root}
}

func vector(v []float64) blas64.Vector { return blas64.Vector{N: len(v), Inc: 1, Data: v} }

func pickAt(from []float64, at []int) []float64 {
	out := make([]float64, len(at))
	for i, j := range at {
		out[i] = from[j]
	}
	return out
}
