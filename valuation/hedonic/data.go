package hedonic

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Data is what was seen, one row an observation. X carries a column of ones where an intercept is
// wanted. With no observations X may be nil.
type Data struct {
	X *mat.Dense // n x k
	Y []float64  // n

	// W is the precision of each row: the variance of row i about its expectation is s2/W[i]. A row whose
	// facts are partly unknown scatters more and has a weight below one. Nil is all ones.
	W []float64

	// Share is the part of an observation that each row counts for, its likelihood raised to that power
	// (the power prior of Ibrahim and Chen, 2000): evidence that has aged scatters no more than before,
	// there is merely less of it. Nil is all ones.
	Share []float64
}

// Errors that Fit wraps.
var (
	// ErrData means that the rows cannot be used: lengths differ, or a value is not finite.
	ErrData = errors.New("the data cannot be used")
	// ErrTooFew means that the observations do not determine an answer and no prior stands in for them.
	ErrTooFew = errors.New("too few observations")
	// ErrCollinear means that a column without a prior says nothing that the columns before it do not say.
	ErrCollinear = errors.New("a column cannot be told apart from the others")
)

// rows is how many observations there are.
func (d Data) rows() int { return len(d.Y) }

// check tells whether the data can be used with k columns.
func (d Data) check(k int) error {
	n := d.rows()
	if d.X == nil || d.X.IsEmpty() {
		if n > 0 {
			return fmt.Errorf("%w: %d responses and no columns", ErrData, n)
		}
	} else if r, c := d.X.Dims(); n == 0 || r != n || c != k {
		return fmt.Errorf("%w: the matrix is %d x %d for %d responses and %d columns of prior", ErrData, r, c, n, k)
	}
	for i, y := range d.Y {
		if !finite(y) {
			return fmt.Errorf("%w: response %d is %v", ErrData, i+1, y)
		}
		for j := range k {
			if !finite(d.X.At(i, j)) {
				return fmt.Errorf("%w: row %d, column %d is %v", ErrData, i+1, j+1, d.X.At(i, j))
			}
		}
	}
	if err := checkWeights("weight", d.W, n); err != nil {
		return err
	}
	return checkWeights("share", d.Share, n)
}

func checkWeights(name string, w []float64, n int) error {
	if w == nil {
		return nil
	}
	if len(w) != n {
		return fmt.Errorf("%w: %d of %s for %d responses", ErrData, len(w), name, n)
	}
	for i, v := range w {
		if !finite(v) || v <= 0 {
			return fmt.Errorf("%w: %s %d is %v and must be above 0; leave the row out instead", ErrData, name, i+1, v)
		}
	}
	return nil
}

// at is w[i], or one where there are none.
func at(w []float64, i int) float64 {
	if w == nil {
		return 1
	}
	return w[i]
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
