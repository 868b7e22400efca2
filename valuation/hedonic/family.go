package hedonic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// family is the posteriors under one tail of the residuals.
type family struct {
	tail   Option
	trust  []float64 // in each row; nil is 1
	parts  []*part   // by weight, which add up to 1 until the families are weighed
	points map[*block][]point
	views  []view  // of every row by every part, once asked for
	score  float64 // log predictive density of all rows, each from the others
	each   []float64
	logML  float64
	weight float64
}

// newFamily solves the weighted rows for every spread, tau and lean.
func (m *Model) newFamily(tail Option, trust []float64) (*family, error) {
	f := &family{tail: tail, trust: trust}
	r, err := m.reduce(trust)
	if err != nil {
		return nil, err
	}
	multipliers, beliefs := m.prior.spreads()
	taus, leans := alone(m.prior.Taus, 1), alone(m.prior.Leans, 0)
	if len(m.proper) == 0 && len(m.idle) == 0 {
		taus, leans, multipliers, beliefs = taus[:1], leans[:1], multipliers[:1], beliefs[:1]
	}
	b0 := m.prior.Strength * m.prior.Scale * m.prior.Scale
	best := math.Inf(-1)
	believed := 0.0
	for i := range multipliers {
		b, err := newBlock(r, pickAt(multipliers[i], m.proper), pickAt(multipliers[i], m.idle))
		if err != nil {
			return nil, err
		}
		for _, tau := range taus {
			for _, lean := range leans {
				p := newPart(b, tail.Value, tau.Value, lean.Value, m.a, b0)
				if !finite(p.b) || !allFinite(p.push) || !allFinite(p.doubt) || math.IsNaN(p.logML) {
					continue
				}
				p.weight = beliefs[i] * tau.Weight * lean.Weight
				believed += p.weight
				best = math.Max(best, p.logML)
				f.parts = append(f.parts, p)
			}
		}
	}
	if len(f.parts) == 0 {
		return nil, fmt.Errorf("%w: the numbers are too large or too small to work with", ErrData)
	}
	f.settle(best, believed)
	return f, nil
}

// settle turns beliefs into posterior weights, the largest first, and forgets what has none.
func (f *family) settle(best, believed float64) {
	total := 0.0
	for _, p := range f.parts {
		if !math.IsInf(best, 1) { // a perfect fit without a prior on the scale leaves beliefs as they are
			p.weight *= math.Exp(p.logML - best)
		}
		total += p.weight
	}
	f.logML = best
	if !math.IsInf(best, 0) {
		f.logML = best + math.Log(total/believed)
	}
	kept := f.parts[:0]
	for _, p := range f.parts {
		if p.weight /= total; p.weight >= forgotten {
			kept = append(kept, p)
		}
	}
	f.parts = kept
	top := 0
	for i, p := range f.parts {
		if p.weight > f.parts[top].weight {
			top = i
		}
	}
	f.parts[0], f.parts[top] = f.parts[top], f.parts[0]
}

// look turns the rows of the data, once a block.
func (f *family) look() {
	if f.points != nil {
		return
	}
	f.points = map[*block][]point{}
	for _, p := range f.parts {
		if f.points[p.block] == nil {
			f.points[p.block] = p.block.points()
		}
	}
}

// foretell scores how well the family knows every row from the others.
func (f *family) foretell(l *layout) {
	n := l.data.rows()
	f.each = make([]float64, n)
	for i := range n {
		y, best := l.data.Y[i], math.Inf(-1)
		views := f.without(l, i)
		logs := make([]float64, len(views))
		for j, v := range views {
			logs[j] = math.Log(v.weight) + v.logDensity(y)
			best = math.Max(best, logs[j])
		}
		sum := 0.0
		for _, v := range logs {
			sum += math.Exp(v - best)
		}
		if f.each[i] = (best + math.Log(sum)) * at(l.data.Share, i); finite(f.each[i]) {
			f.score += f.each[i]
		}
	}
}

// trustRounds is how often trust and fit are settled on one another. The first rounds do nearly all of it.
const trustRounds = 6

// trust is how far the response of each row is believed, given Student-t residuals: the expected precision
// of a residual under the posterior, (nu+1)/(nu + z2) with z2 the expected square of the residual over its
// scale. It is settled by turns with the fit (the EM of Lange, Little and Taylor, 1989, with the spread of
// the expectation counted in as variational Bayes does) at the tau, lean and spreads that are likeliest
// under normal residuals, whose leverages stand in throughout.
func (m *Model) trust(start *part, tail float64) []float64 {
	n := m.data.rows()
	points := start.block.points()
	doubt := make([]float64, n)
	for i := range doubt {
		doubt[i] = start.leverage(points[i])
	}
	trust := make([]float64, n)
	fitted, scale2 := make([]float64, n), start.scale2()
	for i := range fitted {
		fitted[i] = start.location(points[i])
	}
	for round := range trustRounds {
		for i := range trust {
			e := m.data.Y[i] - fitted[i]
			z2 := at(m.data.W, i) * (e*e/scale2 + doubt[i])
			if math.IsNaN(z2) {
				z2 = 1
			}
			trust[i] = math.Max((tail+1)/(tail+z2), leastTrust)
		}
		if round == trustRounds-1 {
			break
		}
		now, err := m.again(start, trust)
		if err != nil {
			break
		}
		now.fitted(fitted)
		scale2 = now.scale2
	}
	return trust
}

// leastTrust keeps every row in the equations.
const leastTrust = 1e-9

// solution is the expectation of the coefficients, in the units of the layout, and the residual variance.
type solution struct {
	*layout
	coefficients []float64
	scale2       float64
}

// again is the solution with other trust in the rows, at the tau, lean and spreads of a part. With beta =
// T g, T the part's directions by their prior spreads, g is believed to be of variance s2 in every
// direction, and (B'B + I) g = B'y, B = RT, has an answer whatever the data are.
func (m *Model) again(like *part, trust []float64) (solution, error) {
	r, err := m.reduce(trust)
	if err != nil {
		return solution{}, err
	}
	f, k := len(m.flat), len(m.proper)
	s := solution{m.layout, make([]float64, f+k), 0}
	sum := r.rest
	if k > 0 {
		along := mat.DenseCopyOf(like.turn)
		for j, own := range like.believedAlong(like.tau, like.lean) {
			for i := range k {
				along.Set(i, j, along.At(i, j)*own)
			}
		}
		var b mat.Dense
		b.Mul(r.inner, along)
		gram := mat.NewSymDense(k, nil)
		gram.SymOuterK(1, b.T())
		for i := range k {
			gram.SetSym(i, i, gram.At(i, i)+1)
		}
		var root mat.Cholesky
		if !root.Factorize(gram) {
			return solution{}, fmt.Errorf("%w: the numbers are too large or too small to work with", ErrData)
		}
		answer := mat.NewVecDense(k, r.answer)
		var g, left mat.VecDense
		g.MulVec(b.T(), answer)
		if err := root.SolveVecTo(&g, &g); err != nil {
			return solution{}, fmt.Errorf("%w: the numbers are too large or too small to work with", ErrData)
		}
		left.MulVec(&b, &g)
		left.SubVec(answer, &left)
		sum += mat.Dot(&left, &left) + mat.Dot(&g, &g)
		mat.NewVecDense(k, s.coefficients[f:]).MulVec(along, &g)
	}
	s.scale2 = (m.prior.Strength*m.prior.Scale*m.prior.Scale + sum/2) / m.a
	if f > 0 {
		head := s.coefficients[:f]
		copy(head, r.right)
		if r.cross != nil {
			blas64.Gemv(blas.NoTrans, -1, r.cross.RawMatrix(), vector(s.coefficients[f:]), 1, vector(head))
		}
		blas64.Trsv(blas.NoTrans, r.upper(), vector(head))
	}
	return s, nil
}

// fitted writes the expectation of every row.
func (s solution) fitted(out []float64) {
	k := s.width()
	for i := range out {
		row := s.rows.RawRowView(i)
		out[i] = s.data.Y[i] - row[k] + blas64.Dot(vector(row[:k]), vector(s.coefficients))
	}
}
