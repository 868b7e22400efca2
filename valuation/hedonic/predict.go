package hedonic

import (
	"fmt"
	"math"
)

// Predict is the predictive distribution of the response of a new row. Noise is its variance in units of
// s2: 1 for a plain new observation, more where facts about it are missing, 0 for the expectation x'beta
// itself. It panics when the row has another length than the data's columns.
func (m *Model) Predict(row []float64, noise float64) Predictive {
	return m.predict(m.shown, row, noise)
}

func (m *Model) predict(parts []*part, row []float64, noise float64) Predictive {
	out := Predictive{make([]student, 0, len(parts))}
	total := 0.0
	m.each(parts, row, func(p *part, at point) {
		s := p.predict(at, noise)
		s.scale *= m.stretch
		s.weight = p.weight
		if s.bounded() {
			out.parts = append(out.parts, s)
			total += s.weight
		}
	})
	if len(out.parts) == 0 {
		return NewStudent(0, enormous, m.DF())
	}
	for i := range out.parts {
		out.parts[i].weight /= total
	}
	return out
}

// each hands out the parts with the row as their block sees it, which is worked out once a block.
func (m *Model) each(parts []*part, row []float64, do func(*part, point)) {
	if len(row) != len(m.prior.SD) {
		panic(fmt.Sprintf("hedonic: a row of %d for %d columns", len(row), len(m.prior.SD)))
	}
	var blocks [16]*block
	var points [16]point
	seen := 0
next:
	for _, p := range parts {
		for i := range seen {
			if blocks[i] == p.block {
				do(p, points[i])
				continue next
			}
		}
		at := p.point(row)
		if seen < len(blocks) {
			blocks[seen], points[seen] = p.block, at
			seen++
		}
		do(p, at)
	}
}

// enormous is wider than anything that can be measured and still leaves room to work with.
const enormous = 1e150

// bounded holds a distribution within what can be worked with, and tells whether it is one.
func (s *student) bounded() bool {
	if math.IsNaN(s.location) || math.IsNaN(s.scale) || !(s.df > 0) {
		return false
	}
	s.location = math.Max(-enormous, math.Min(s.location, enormous))
	s.scale = math.Min(s.scale, enormous)
	return true
}

// Leverage is x'Vn x, the variance of x'beta in units of s2: how little the data and the prior together
// know of a row that looks like this. It panics as Predict does.
func (m *Model) Leverage(row []float64) float64 {
	if len(m.shown) == 1 {
		sum := 0.0
		m.each(m.shown, row, func(p *part, at point) { sum = p.leverage(at) })
		return sum
	}
	total, within, centre := 0.0, 0.0, 0.0
	m.each(m.shown, row, func(p *part, at point) {
		total += p.weight
		within += p.weight * p.scale2() * p.leverage(at)
		centre += p.weight * p.location(at)
	})
	centre /= total
	if m.sigma == 0 {
		return 0
	}
	between := 0.0
	m.each(m.shown, row, func(p *part, at point) {
		off := p.location(at) - centre
		between += p.weight * off * off
	})
	return (within*m.stretch*m.stretch + between) / total / (m.sigma * m.sigma)
}

// location is the expectation of the response of a row.
func (m *Model) location(row []float64) float64 {
	sum := 0.0
	m.each(m.parts, row, func(p *part, at point) { sum += p.weight * p.location(at) })
	return sum
}
