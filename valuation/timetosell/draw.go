package timetosell

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Draw is one set of parameters that the posterior holds possible.
type Draw struct {
	B      []float64
	Scale  float64
	Weight float64 // those of all draws add up to 1
}

// How the posterior is drawn from: draws in mirrored pairs from a Student-t of few degrees of freedom about
// the mode, whose tails are fatter than the posterior's.
const (
	howMany    = 768
	proposalDF = 6
)

// draw fills the draws. The same spells always give the same.
func (m *Model) draw(p posterior, curve *mat.Cholesky) {
	n := len(m.mode)
	r := rand.New(rand.NewPCG(20260401, 7))
	chi := distuv.ChiSquared{K: proposalDF, Src: r}
	var upper mat.TriDense
	curve.UTo(&upper)
	z, off := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	m.draws = make([]Draw, 0, howMany)
	logs := make([]float64, 0, howMany)
	theta := make([]float64, n)
	for range howMany / 2 {
		norm2 := 0.0
		for j := range n {
			v := r.NormFloat64()
			z.SetVec(j, v)
			norm2 += v * v
		}
		stretch := math.Sqrt(proposalDF / chi.Rand())
		if off.SolveVec(&upper, z) != nil {
			off.Zero()
		}
		proposal := -0.5 * float64(proposalDF+n) * math.Log1p(norm2*stretch*stretch/proposalDF)
		for _, sign := range []float64{1, -1} {
			for j := range n {
				theta[j] = m.mode[j] + sign*stretch*off.AtVec(j)
			}
			log := p.at(theta, nil) - proposal
			if math.IsNaN(log) {
				log = math.Inf(-1)
			}
			m.draws = append(m.draws, Draw{B: slices.Clone(theta[:n-1]), Scale: math.Exp(theta[n-1])})
			logs = append(logs, log)
		}
	}
	top := slices.Max(logs)
	mean := 0.0
	for i, l := range logs {
		m.draws[i].Weight = math.Exp(l - top)
		mean += m.draws[i].Weight / float64(len(logs))
	}
	// No draw speaks for more than its share: weights are cut where Ionides (Truncated importance sampling,
	// 2008) cuts them.
	most, total := mean*math.Sqrt(float64(len(logs))), 0.0
	for i := range m.draws {
		m.draws[i].Weight = math.Min(m.draws[i].Weight, most)
		total += m.draws[i].Weight
	}
	for i := range m.draws {
		m.draws[i].Weight /= total
	}
}

// Draws are n sets of parameters of the same weight that stand for the posterior, taken evenly along the
// expectation of a row: the first of them mean the fewest days for it.
func (m *Model) Draws(n int, row []float64) []Draw {
	order := make([]int, len(m.draws))
	at := make([]float64, len(m.draws))
	for i, d := range m.draws {
		order[i], at[i] = i, dot(row, d.B)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if at[a] < at[b] {
			return -1
		} else if at[a] > at[b] {
			return 1
		}
		return 0
	})
	out := make([]Draw, 0, n)
	passed := 0.0
	for _, i := range order {
		passed += m.draws[i].Weight
		for len(out) < n && (float64(len(out))+0.5)/float64(n) <= passed {
			d := m.draws[i]
			d.Weight = 1 / float64(n)
			out = append(out, d)
		}
	}
	for len(out) < n && len(order) > 0 { // what rounding has left
		d := m.draws[order[len(order)-1]]
		d.Weight = 1 / float64(n)
		out = append(out, d)
	}
	return out
}
