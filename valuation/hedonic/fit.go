package hedonic

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// Model is a fitted regression: the posterior of coefficients and residual variance. It does not change
// once made and may be read from several goroutines.
type Model struct {
	data  Data
	tau   float64
	a, b  float64   // posterior of s2: InvGamma(a, b)
	mean  []float64 // posterior mean of the coefficients
	unit  []float64 // each column was divided by its unit before solving
	root  *mat.TriDense
	logML float64 // root'root = Vn^-1 over the columns as divided
}

// degenerate is how small the part of a column that no earlier column explains may become, beside the
// whole column, before its coefficient is noise. Longley's columns, the classic hard case, stay above
// 1e-5; rounding alone leaves about 1e-16.
const degenerate = 1e-11

// Fit learns from the data under the prior. It refuses, wrapping [ErrData], [ErrTooFew] or [ErrCollinear],
// what has no answer; with a proper prior on every column and Strength above 0 any data has one, none at
// all included.
func Fit(d Data, p Prior) (*Model, error) {
	if p.SD == nil && p.Mean == nil && d.X != nil {
		_, k := d.X.Dims()
		flat := Flat(k)
		p.Mean, p.SD = flat.Mean, flat.SD
	}
	if err := p.check(); err != nil {
		return nil, fmt.Errorf("fit the regression: %w", err)
	}
	k := len(p.SD)
	if err := d.check(k); err != nil {
		return nil, fmt.Errorf("fit the regression: %w", err)
	}
	seen := 0.0
	for i := range d.rows() {
		seen += at(d.Share, i)
	}
	a := p.Strength + (seen-float64(p.flats()))/2
	if a <= 0 {
		return nil, fmt.Errorf("fit the regression: %w: %d rows for %d columns that have no prior", ErrTooFew, d.rows(), p.flats())
	}

	rows, unit := dataRows(d, p)
	var best *Model
	for _, tau := range p.taus() {
		m, err := solve(rows, unit, p, tau)
		if err != nil {
			return nil, fmt.Errorf("fit the regression: %w", err)
		}
		m.data, m.a = d, a
		m.b += p.Strength * p.Scale * p.Scale
		m.logML += marginalOfScale(d, p, seen, a, m.b)
		if !finite(m.b) || !allFinite(m.mean) {
			return nil, fmt.Errorf("fit the regression: %w: the numbers are too large or too small to work with", ErrData)
		}
		if best == nil || m.logML > best.logML {
			best = m
		}
	}
	return best, nil
}

// dataRows lays out [sqrt(W)X | sqrt(W)y] with every column of X divided by its unit, which makes the
// columns alike in length: without it the equations of Longley's kind lose most of their digits. Many
// rows are first replaced by the square root of their cross products, which is found once for all taus.
func dataRows(d Data, p Prior) (rows *mat.Dense, unit []float64) {
	n, k := d.rows(), len(p.SD)
	unit = make([]float64, k)
	for j := range unit {
		norm := p.row(j, 1)
		for i := range n {
			norm = math.Hypot(norm, math.Sqrt(at(d.W, i)*at(d.Share, i))*d.X.At(i, j))
		}
		if norm == 0 {
			norm = 1
		}
		unit[j] = norm
	}
	if n == 0 {
		return nil, unit
	}
	rows = mat.NewDense(n, k+1, nil)
	for i := range n {
		root := math.Sqrt(at(d.W, i) * at(d.Share, i))
		row := rows.RawRowView(i)
		for j := range k {
			row[j] = root * d.X.At(i, j) / unit[j]
		}
		row[k] = root * d.Y[i]
	}
	if n > 2*(k+1) {
		rows = triangle(rows)
	}
	return rows, unit
}

// triangle is the square upper triangle R with R'R = A'A. A needs at least as many rows as columns.
func triangle(a *mat.Dense) *mat.Dense {
	var qr mat.QR
	qr.Factorize(a)
	var r mat.Dense
	qr.RTo(&r)
	_, k := a.Dims()
	return mat.DenseCopyOf(r.Slice(0, k, 0, k))
}

// solve finds the posterior at one tau from the data rows with the prior's rows below them. The response
// rides along as the last column, so that the triangle holds the solution's right side above its corner
// and the root of the residual sum of squares in it.
func solve(rows *mat.Dense, unit []float64, p Prior, tau float64) (*Model, error) {
	k, n := len(unit), 0
	if rows != nil {
		n, _ = rows.Dims()
	}
	stack := mat.NewDense(max(n+k, k+1), k+1, nil)
	for i := range n {
		copy(stack.RawRowView(i), rows.RawRowView(i))
	}
	logPrior := 0.0
	for j := range k {
		if e := p.row(j, tau); e > 0 {
			row := stack.RawRowView(n + j)
			row[j], row[k] = e/unit[j], e*p.Mean[j]
			logPrior += math.Log(e)
		}
	}
	r := triangle(stack)

	m := &Model{tau: tau, unit: unit, mean: make([]float64, k), root: mat.NewTriDense(k, mat.Upper, nil)}
	logRoot := 0.0
	for j := range k {
		length := 0.0
		for i := 0; i <= j; i++ {
			length = math.Hypot(length, r.At(i, j))
			m.root.SetTri(i, j, r.At(i, j))
		}
		if own := math.Abs(r.At(j, j)); own <= degenerate*length || own == 0 {
			return nil, fmt.Errorf("%w: column %d has no prior of its own to hold it", ErrCollinear, j+1)
		}
		logRoot += math.Log(math.Abs(r.At(j, j))) + math.Log(unit[j])
	}
	for j := k - 1; j >= 0; j-- {
		v := r.At(j, k)
		for i := j + 1; i < k; i++ {
			v -= r.At(j, i) * m.mean[i]
		}
		m.mean[j] = v / r.At(j, j)
	}
	for j := range m.mean {
		m.mean[j] /= unit[j]
	}
	m.b = r.At(k, k) * r.At(k, k) / 2
	m.logML = logPrior - logRoot
	return m, nil
}

// marginalOfScale is the part of the log marginal likelihood that the triangle does not hold.
func marginalOfScale(d Data, p Prior, seen, a, b float64) float64 {
	v := (float64(p.flats()) - seen) / 2 * math.Log(2*math.Pi)
	for i := range d.rows() {
		v += at(d.Share, i) * math.Log(at(d.W, i)) / 2
	}
	if p.Strength > 0 {
		g, _ := math.Lgamma(p.Strength)
		v += p.Strength*math.Log(p.Strength*p.Scale*p.Scale) - g
	}
	g, _ := math.Lgamma(a)
	return v + g - a*math.Log(b)
}

// Columns is how many coefficients there are.
func (m *Model) Columns() int { return len(m.mean) }

// Tau is the multiplier of the prior's spreads that the data made most likely.
func (m *Model) Tau() float64 { return m.tau }

// Scale is the residual standard deviation, sqrt(bn/an); with a flat prior it is the classical one.
func (m *Model) Scale() float64 { return math.Sqrt(m.b / m.a) }

// DF is the degrees of freedom of every answer, 2an.
func (m *Model) DF() float64 { return 2 * m.a }

// LogMarginal is the logarithm of the marginal likelihood of the responses. Improper parts of the prior
// (flat columns, Strength 0) are counted as density 1, so that it compares priors that share them and
// means nothing by itself; a perfect fit with Strength 0 gives +Inf.
func (m *Model) LogMarginal() float64 { return m.logML }

// Coefficients gives each coefficient's posterior mean and the scale of its Student-t of DF degrees of
// freedom: the classical standard error when the prior is flat.
func (m *Model) Coefficients() (mean, sd []float64) {
	cov := m.Covariance()
	sd = make([]float64, len(m.mean))
	for j := range sd {
		sd[j] = math.Sqrt(cov.At(j, j))
	}
	return slices.Clone(m.mean), sd
}

// Covariance is the scale matrix of the coefficients' joint Student-t, (bn/an) Vn: its diagonal holds the
// squares of what Coefficients calls sd. It is the product of triangular solutions, column by column.
func (m *Model) Covariance() *mat.SymDense {
	k := len(m.mean)
	roots := mat.NewDense(k, k, nil) // row j is R^-T e_j
	for j := range k {
		row := roots.RawRowView(j)
		row[j] = m.Scale() / m.unit[j]
		blas64.Trsv(blas.Trans, m.root.RawTriangular(), blas64.Vector{N: k, Inc: 1, Data: row})
	}
	cov := mat.NewSymDense(k, nil)
	cov.SymOuterK(1, roots)
	return cov
}

func allFinite(v []float64) bool {
	for _, x := range v {
		if !finite(x) {
			return false
		}
	}
	return true
}
