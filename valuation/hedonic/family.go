package hedonic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
)

// family is the posteriors under one tail of the residuals.
type family struct {
	tail   Option
	trust  []float64 // in each row; nil is 1
	parts  []*part   // by weight, which add up to 1 until the families are weighed
	points map[*block][]point
	score  float64 // log predictive density of all rows, each from the others
	each   []float64
	logML  float64
	weight float64
}

// newFamily solves the weighted rows for every spread, tau and lean.
func (m *Model) newFamily(tail Option, trust []float64) (*family, error) {
	f := &family{tail: tail, trust: trust}
	r := m.triangle(trust)
	multipliers, beliefs := m.prior.spreads()
	taus, leans := alone(m.prior.Taus, 1), alone(m.prior.Leans, 0)
	if len(m.proper) == 0 && len(m.idle) == 0 {
		taus, leans, multipliers, beliefs = taus[:1], leans[:1], multipliers[:1], beliefs[:1]
	}
	b0 := m.prior.Strength * m.prior.Scale * m.prior.Scale
	best := math.Inf(-1)
	believed := 0.0
	for i := range multipliers {
		b, err := newBlock(m.layout, r, pickAt(multipliers[i], m.proper), pickAt(multipliers[i], m.idle))
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
	f.look()
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
		m.fittedBy(now, fitted)
		scale2 = now.scale2()
	}
	return trust
}

// leastTrust keeps every row in the equations.
const leastTrust = 1e-9

// again is the posterior with other trust in the rows, all else as it was.
func (m *Model) again(like *part, trust []float64) (*part, error) {
	b, err := newBlock(m.layout, m.triangle(trust), like.spread, like.wide)
	if err != nil {
		return nil, err
	}
	return newPart(b, like.tail, like.tau, like.lean, like.a, m.prior.Strength*m.prior.Scale*m.prior.Scale), nil
}

// fittedBy writes a part's expectation of every row. Only the coefficients are turned, not the rows.
func (m *Model) fittedBy(p *part, fitted []float64) {
	f, k := len(m.flat), m.width()
	coefficients := make([]float64, k)
	if len(m.proper) > 0 {
		blas64.Gemv(blas.NoTrans, 1, p.turn.RawMatrix(), vector(p.push), 0, vector(coefficients[f:]))
	}
	if f > 0 {
		copy(coefficients, p.right)
		if p.cross != nil {
			blas64.Gemv(blas.NoTrans, -1, p.cross.RawMatrix(), vector(coefficients[f:]), 1, vector(coefficients[:f]))
		}
		blas64.Trsv(blas.NoTrans, p.upper(), vector(coefficients[:f]))
	}
	for i := range fitted {
		row := m.rows.RawRowView(i)
		fitted[i] = m.data.Y[i] - row[k] + blas64.Dot(vector(row[:k]), vector(coefficients))
	}
}
