package hedonic

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// Model is a fitted regression: the posterior of coefficients and residual variance, averaged over what
// the prior left open. It does not change once made and may be read from several goroutines.
type Model struct {
	*layout
	a        float64
	families []*family // one a tail
	parts    []*part   // of all families, by weight
	shown    []*part   // those that any figure can tell
	stretch  float64   // correction of every scale
	logML    float64
	mean     []float64 // expectation of the coefficients
	sigma    float64   // residual scale, see Scale
	look     func()    // turns the rows, once
	left     func() []LeaveOne
}

const (
	// forgotten is the weight below which a possibility is dropped at once.
	forgotten = 1e-10
	// unseen is the weight up to which possibilities, taken together, may be left out of a prediction.
	unseen = 2e-3
)

// Fit learns from the data under the prior. It refuses, wrapping [ErrData], [ErrTooFew] or [ErrCollinear],
// what has no answer; with a proper prior on every column and Strength above 0 any data has one, none at
// all included.
func Fit(d Data, p Prior) (*Model, error) {
	if p.SD == nil && p.Mean == nil && d.X != nil {
		_, k := d.X.Dims()
		flat := Flat(k)
		p.Mean, p.SD = flat.Mean, flat.SD
	}
	m, err := newModel(d, p)
	if err != nil {
		return nil, fmt.Errorf("fit the regression: %w", err)
	}
	return m, nil
}

func newModel(d Data, p Prior) (*Model, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := d.check(len(p.SD)); err != nil {
		return nil, err
	}
	seen := 0.0
	for i := range d.rows() {
		seen += at(d.Share, i)
	}
	m := &Model{a: p.Strength + (seen-float64(p.flats()))/2, stretch: 1}
	if m.a <= 0 {
		return nil, fmt.Errorf("%w: %d rows for %d columns that have no prior", ErrTooFew, d.rows(), p.flats())
	}
	var err error
	if m.layout, err = newLayout(d, p); err != nil {
		return nil, err
	}
	if err := m.learn(); err != nil {
		return nil, err
	}
	m.look = sync.OnceFunc(func() {
		for _, f := range m.families {
			f.look()
		}
	})
	m.weigh()
	if p.Calibration > 0 {
		m.stretch = m.calibrated(seen)
		m.sigma *= m.stretch
	}
	m.left = sync.OnceValue(m.leaveOneOut)
	return m, nil
}

// learn makes a family of parts for each tail. The normal comes first: the others start from it.
func (m *Model) learn() error {
	tails := alone(m.prior.Tails, math.Inf(1))
	normal, err := m.newFamily(Option{math.Inf(1), 1}, nil)
	if err != nil {
		return err
	}
	m.families = make([]*family, len(tails))
	failed := make([]error, len(tails))
	var all sync.WaitGroup
	for i, tail := range tails {
		if math.IsInf(tail.Value, 1) || m.data.rows() == 0 {
			same := *normal
			same.tail = tail
			same.parts = make([]*part, len(normal.parts))
			for j, p := range normal.parts {
				other := *p
				other.tail = tail.Value
				same.parts[j] = &other
			}
			m.families[i] = &same
			if len(tails) > 1 {
				all.Go(func() { same.foretell(m.layout) })
			}
			continue
		}
		all.Go(func() {
			m.families[i], failed[i] = m.newFamily(tail, m.trust(normal.parts[0], tail.Value))
			if failed[i] == nil {
				m.families[i].foretell(m.layout)
			}
		})
	}
	all.Wait()
	for _, err := range failed {
		if err != nil {
			return err
		}
	}
	m.logML = normal.logML
	return nil
}

// weigh settles what each part counts for, and the figures that follow from all of them.
func (m *Model) weigh() {
	best := math.Inf(-1)
	for _, f := range m.families {
		best = math.Max(best, f.score)
	}
	total := 0.0
	for _, f := range m.families {
		f.weight = f.tail.Weight
		if !math.IsInf(best, 0) && len(m.families) > 1 {
			f.weight *= math.Exp(f.score - best)
		}
		total += f.weight
	}
	for _, f := range m.families {
		f.weight /= total
		for _, p := range f.parts {
			p.weight *= f.weight
			if p.weight > 0 {
				m.parts = append(m.parts, p)
			}
		}
	}
	slices.SortStableFunc(m.parts, func(a, b *part) int {
		switch {
		case a.weight > b.weight:
			return -1
		case a.weight < b.weight:
			return 1
		}
		return 0
	})
	sum := 0.0
	for _, p := range m.parts {
		if sum > 1-unseen {
			break
		}
		m.shown = append(m.shown, p)
		sum += p.weight
	}
	variance := 0.0
	for _, p := range m.parts {
		variance += p.weight * p.scale2()
	}
	m.sigma = math.Sqrt(variance)
	m.mean = make([]float64, len(m.prior.SD))
	unit := make([]float64, len(m.mean))
	for j := range m.mean {
		unit[j] = 1
		m.mean[j] = m.location(unit)
		unit[j] = 0
	}
}

// Columns is how many coefficients there are.
func (m *Model) Columns() int { return len(m.mean) }

// Tau is the multiplier of the prior's spreads, on average over what was possible.
func (m *Model) Tau() float64 {
	sum := 0.0
	for _, p := range m.parts {
		sum += p.weight * p.tau
	}
	return sum
}

// Scale is the residual standard deviation, sqrt(bn/an), in root mean square over what was possible and
// calibrated; with a flat prior it is the classical one.
func (m *Model) Scale() float64 { return m.sigma }

// DF is the degrees of freedom of the residual scale, 2an.
func (m *Model) DF() float64 { return 2 * m.a }

// LogMarginal is the logarithm of the marginal likelihood of the responses under normal residuals.
// Improper parts of the prior (flat columns, Strength 0) are counted as density 1, so that it compares
// priors that share them and means nothing by itself; a perfect fit with Strength 0 gives +Inf.
func (m *Model) LogMarginal() float64 {
	seen := 0.0
	for i := range m.data.rows() {
		seen += at(m.data.Share, i)
	}
	v := (float64(len(m.flat)) - seen) / 2 * math.Log(2*math.Pi)
	for i := range m.data.rows() {
		v += at(m.data.Share, i) * math.Log(at(m.data.W, i)) / 2
	}
	if s := m.prior.Strength; s > 0 {
		g, _ := math.Lgamma(s)
		v += s*math.Log(s*m.prior.Scale*m.prior.Scale) - g
	}
	g, _ := math.Lgamma(m.a)
	return v + g + m.logML
}

// Coefficients gives each coefficient's posterior mean and the scale of its Student-t of DF degrees of
// freedom: the classical standard error when the prior is flat.
func (m *Model) Coefficients() (mean, sd []float64) {
	sd = make([]float64, len(m.mean))
	m.eachSpread(func(p *part, spread mat.Matrix, off []float64) {
		_, n := spread.Dims()
		by := math.Sqrt(p.weight*p.scale2()) * m.stretch
		for j := range sd { // never squared: the squares may be beyond what a number holds
			for i := range n {
				sd[j] = math.Hypot(sd[j], by*spread.At(j, i))
			}
			if off != nil {
				sd[j] = math.Hypot(sd[j], math.Sqrt(p.weight)*off[j])
			}
		}
	})
	return slices.Clone(m.mean), sd
}

// Covariance is the scale matrix of the coefficients' joint Student-t, (bn/an) Vn, on average over what
// was possible and with what the possibilities differ by: its diagonal holds the squares of what
// Coefficients calls sd.
func (m *Model) Covariance() *mat.SymDense {
	cov := mat.NewSymDense(len(m.mean), nil)
	m.eachSpread(func(p *part, spread mat.Matrix, off []float64) {
		cov.SymRankK(cov, p.weight*p.scale2()*m.stretch*m.stretch, spread)
		if off != nil {
			cov.SymRankOne(cov, p.weight, mat.NewVecDense(len(off), off))
		}
	})
	return cov
}

// eachSpread gives every part with a root of its coefficients' covariance in units of s2, and how far they
// lie off their mean over all parts, nil for a part alone.
func (m *Model) eachSpread(of func(p *part, spread mat.Matrix, off []float64)) {
	turned := map[*block][]point{}
	for _, p := range m.parts {
		points, done := turned[p.block]
		if !done {
			points = p.unitPoints()
			turned[p.block] = points
		}
		var off []float64
		if len(m.parts) > 1 {
			off = make([]float64, len(m.mean))
			for j := range off {
				off[j] = p.location(points[j]) - m.mean[j]
			}
		}
		of(p, p.factor(points), off)
	}
}

// unitPoints are the coefficients as points: a row of one 1 each.
func (b *block) unitPoints() []point {
	unit := make([]float64, len(b.prior.SD))
	out := make([]point, len(unit))
	for j := range unit {
		unit[j] = 1
		out[j] = b.point(unit)
		unit[j] = 0
	}
	return out
}

// factor has a row a coefficient; its product with its own transpose is their covariance in units of s2.
func (p *part) factor(points []point) *mat.Dense {
	k, f, d, n := len(points), len(p.flat), len(p.push), len(p.idle)
	out := mat.NewDense(k, max(f+d+n, 1), nil)
	for i, j := range p.flat {
		row := out.RawRowView(j)[:f]
		row[i] = 1 / p.unit[j]
		blas64.Trsv(blas.Trans, p.upper(), vector(row))
	}
	for j := range k {
		row := out.RawRowView(j)
		for i, v := range points[j].along {
			row[f+i] = v * math.Sqrt(p.doubt[i])
		}
	}
	for i, j := range p.idle {
		out.Set(j, f+d+i, p.tau*p.wide[i]/p.unit[j])
	}
	return out
}

func allFinite(v []float64) bool {
	for _, x := range v {
		if !finite(x) {
			return false
		}
	}
	return true
}
