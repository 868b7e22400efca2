package timetosell

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Model is what a prior and spells together say. It does not change once made and may be read from several
// goroutines.
type Model struct {
	prior  Prior
	mode   []float64
	logLik float64
	spells int
	sold   int
	draws  []Draw
}

// Newton's method stops when a step promises less than enough, and gives up after so many steps.
const (
	enough    = 1e-12
	mostSteps = 200
)

// Fit learns from spells. Those of no length without a sale tell nothing and are passed over. With a proper
// prior any number of spells has an answer, none at all too; the errors are of values that are no numbers,
// and [ErrUndetermined] under a flat prior.
func Fit(spells []Spell, prior Prior) (*Model, error) {
	if err := prior.check(); err != nil {
		return nil, err
	}
	m := &Model{prior: prior}
	var kept []Spell
	for _, s := range spells {
		u, ok, err := usable(s, len(prior.Mean))
		if err != nil {
			return nil, err
		}
		if ok {
			kept = append(kept, u)
			if u.Sold {
				m.sold++
			}
		}
	}
	m.spells = len(kept)
	if m.sold == 0 && prior.flat() { // the longer all stand, the better every longer time fits
		return nil, fmt.Errorf("learn days to sell without a sale: %w", ErrUndetermined)
	}
	p := posterior{prior, kept}
	curve, err := m.climb(p)
	if err != nil {
		return nil, err
	}
	m.logLik = p.at(m.mode, nil) - p.belief(m.mode, nil)
	m.draw(p, curve)
	return m, nil
}

// climb finds the mode and returns the curvature there, minus the second derivatives.
func (m *Model) climb(p posterior) (*mat.Cholesky, error) {
	theta, curve, ok := newton(p, start(p))
	if !ok {
		// The scale is what makes a start bad: others are tried.
		for _, shift := range []float64{1, -1, 2, -2} {
			from := start(p)
			from[len(from)-1] += shift
			if theta, curve, ok = newton(p, from); ok {
				break
			}
		}
	}
	if !ok {
		return nil, fmt.Errorf("learn days to sell from %d spells: %w", m.spells, ErrUndetermined)
	}
	m.mode = theta
	return curve, nil
}

// start is the prior's own middle; where it is flat, the middle of ln days takes the first column, which is
// the intercept by custom.
func start(p posterior) []float64 {
	n := len(p.prior.Mean)
	theta := make([]float64, n+1)
	copy(theta, p.prior.Mean)
	theta[n] = p.prior.LnScale
	if math.IsInf(p.prior.SD[0], 1) && len(p.spells) > 0 {
		theta[0] = 0
		for _, s := range p.spells {
			days := 0.0
			for _, t := range s.Stretches {
				days += t.Days
			}
			theta[0] += math.Log(days) / float64(len(p.spells))
		}
	}
	return theta
}

// newton climbs with steps that are shortened while they lead down.
func newton(p posterior, theta []float64) ([]float64, *mat.Cholesky, bool) {
	n := len(theta)
	grad, trial := make([]float64, n), make([]float64, n)
	step := mat.NewVecDense(n, nil)
	value := p.at(theta, grad)
	damping := 0.0
	for range mostSteps {
		bend := p.curvature(theta)
		for j := range n {
			bend.SetSym(j, j, bend.At(j, j)+damping*(1+math.Abs(bend.At(j, j))))
		}
		var curve mat.Cholesky
		if !curve.Factorize(bend) {
			damping = math.Max(1e-3, 4*damping)
			if damping > 1e12 {
				return nil, nil, false
			}
			continue
		}
		if curve.SolveVecTo(step, mat.NewVecDense(n, grad)) != nil && damping == 0 {
			return nil, nil, false // columns that cannot be told apart
		}
		promise := mat.Dot(step, mat.NewVecDense(n, grad))
		if damping == 0 && promise < enough {
			for j := range n {
				if math.Abs(theta[j]+step.AtVec(j)) > farAway {
					return nil, nil, false
				}
				theta[j] += step.AtVec(j)
			}
			return theta, &curve, true
		}
		better := false
		for size := 1.0; size > 1e-4; size /= 3 {
			for j := range n {
				trial[j] = theta[j] + size*math.Max(-longest, math.Min(step.AtVec(j), longest))
			}
			if v := p.at(trial, nil); v > value || v >= value-1e-13*math.Abs(value) && promise < 1e-8 {
				copy(theta, trial)
				better = true
				break
			}
		}
		if !better {
			damping = math.Max(1e-3, 4*damping)
			if damping > 1e12 {
				return nil, nil, false
			}
			continue
		}
		value = p.at(theta, grad)
		if damping /= 8; damping < 1e-4 {
			damping = 0
		}
	}
	return nil, nil, false
}

// No step moves a parameter farther than longest, and an answer beyond farAway is none.
const (
	longest = 50.0
	farAway = 1e6
)

// curvature is minus the second derivatives, by differences of the slopes.
func (p posterior) curvature(theta []float64) *mat.SymDense {
	n := len(theta)
	up, down, at := make([]float64, n), make([]float64, n), make([]float64, n)
	rows := make([][]float64, n)
	copy(at, theta)
	for j := range n {
		h := 1e-5 * math.Max(1e-3, math.Abs(theta[j]))
		at[j] = theta[j] + h
		p.at(at, up)
		at[j] = theta[j] - h
		p.at(at, down)
		at[j] = theta[j]
		rows[j] = make([]float64, n)
		for k := range n {
			rows[j][k] = (down[k] - up[k]) / (2 * h)
		}
	}
	out := mat.NewSymDense(n, nil)
	for j := range n {
		for k := j; k < n; k++ {
			out.SetSym(j, k, (rows[j][k]+rows[k][j])/2)
		}
	}
	return out
}

// Coefficients at the mode.
func (m *Model) Coefficients() []float64 { return append([]float64(nil), m.mode[:len(m.mode)-1]...) }

// Scale is s at the mode.
func (m *Model) Scale() float64 { return math.Exp(m.mode[len(m.mode)-1]) }

// LogLikelihood at the mode, of days, without the prior.
func (m *Model) LogLikelihood() float64 { return m.logLik }

// Spells is how many spells stand behind it, and how many of them ended with a sale.
func (m *Model) Spells() (all, sold int) { return m.spells, m.sold }
