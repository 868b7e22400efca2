package hedonic

import (
	"fmt"
	"math"
)

// Predict is the predictive distribution of the response of a new row. Noise is its variance in units of
// s2: 1 for a plain new observation, more where facts about it are missing, 0 for the expectation x'beta
// itself. It panics when the row has another length than the data's columns.
func (m *Model) Predict(row []float64, noise float64) Predictive { return m.At(row).Predict(noise) }

// Row is a row as the model sees it. It asks both of the questions below for the price of one.
type Row struct {
	m      *Model
	parts  []*part
	points []point // one a part; parts of one block share theirs
}

// At looks at a row. It panics as Predict does.
func (m *Model) At(row []float64) Row { return m.at(m.shown, row) }

func (m *Model) at(parts []*part, row []float64) Row {
	if len(row) != len(m.prior.SD) {
		panic(fmt.Sprintf("hedonic: a row of %d for %d columns", len(row), len(m.prior.SD)))
	}
	r := Row{m, parts, make([]point, len(parts))}
next:
	for i, p := range parts {
		for j := range i {
			if parts[j].block == p.block {
				r.points[i] = r.points[j]
				continue next
			}
		}
		r.points[i] = p.point(row)
	}
	return r
}

// Predict is [Model.Predict] of the row.
func (r Row) Predict(noise float64) Predictive {
	return Predictive{merged(r.predict(noise).parts)}
}

func (r Row) predict(noise float64) Predictive {
	out := Predictive{make([]student, 0, len(r.parts))}
	total := 0.0
	for i, p := range r.parts {
		s := p.predict(r.points[i], noise)
		s.scale *= r.m.stretch
		s.weight = p.weight
		if s.bounded() {
			out.parts = append(out.parts, s)
			total += s.weight
		}
	}
	if len(out.parts) == 0 {
		return NewStudent(0, enormous, r.m.DF())
	}
	for i := range out.parts {
		out.parts[i].weight /= total
	}
	return out
}

// Leverage is [Model.Leverage] of the row.
func (r Row) Leverage() float64 {
	if len(r.parts) == 1 {
		return r.parts[0].leverage(r.points[0])
	}
	var sum spreadSum
	for i, p := range r.parts {
		sum.add(r.m, p, r.points[i])
	}
	return sum.leverage(r.m)
}

// alike is how far apart, in units of their scale, two distributions of like tails may lie, and by which
// part their scales may differ, to be told as one of the same mean and variance. What that moves a
// quantile by is of third order, a thousandth of the scale at the most.
const alike = 0.1

// merged takes together what cannot be told apart, so that a question costs less.
func merged(parts []student) []student {
	out := parts[:0]
next:
	for _, s := range parts {
		for i := range out {
			head := &out[i]
			if math.Abs(head.location-s.location) <= alike*head.scale && math.Abs(head.scale-s.scale) <= alike*head.scale &&
				math.Abs(1/head.df-1/s.df) <= alike*alike {
				head.take(s)
				continue next
			}
		}
		out = append(out, s)
	}
	return out
}

// take adds a distribution to one that is like it.
func (s *student) take(other student) {
	total := s.weight + other.weight
	part := other.weight / total
	off := other.location - s.location
	variance := (1-part)*s.scale*s.scale + part*other.scale*other.scale + part*(1-part)*off*off
	df := 1 / ((1-part)/s.df + part/other.df)
	*s = newStudent(s.location+part*off, math.Sqrt(variance), df)
	s.weight = total
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
func (m *Model) Leverage(row []float64) float64 { return m.At(row).Leverage() }

// Leverages are those of the rows of the data.
func (m *Model) Leverages() []float64 {
	out := make([]float64, m.data.rows())
	m.look()
	for i := range out {
		var sum spreadSum
		for _, f := range m.families {
			for _, p := range f.parts {
				if p.weight >= unseen/float64(len(m.parts)) {
					sum.add(m, p, f.points[p.block][i])
				}
			}
		}
		out[i] = sum.leverage(m)
	}
	return out
}

// spreadSum adds up what an expectation may be: by each part's own doubt, and by what parts differ in. It
// counts in units of the residual scale, for the squares of responses may be beyond what a number holds.
type spreadSum struct{ weight, within, first, off, off2 float64 }

func (s *spreadSum) add(m *Model, p *part, at point) {
	if m.sigma == 0 {
		return
	}
	v := p.location(at)
	if s.weight == 0 {
		s.first = v
	}
	v = math.Max(-enormous, math.Min((v-s.first)/m.sigma, enormous))
	s.weight += p.weight
	s.within += p.weight * (p.scale2() / m.sigma / m.sigma) * p.leverage(at)
	s.off += p.weight * v
	s.off2 += p.weight * v * v
}

func (s spreadSum) leverage(m *Model) float64 {
	if s.weight == 0 {
		return 0
	}
	off := s.off / s.weight
	between := math.Max(0, s.off2/s.weight-off*off)
	return math.Min(s.within/s.weight*m.stretch*m.stretch+between, enormous*enormous)
}

// location is the expectation of the response of a row.
func (m *Model) location(row []float64) float64 {
	sum := 0.0
	r := m.at(m.parts, row)
	for i, p := range m.parts {
		sum += p.weight * p.location(r.points[i])
	}
	return sum
}
