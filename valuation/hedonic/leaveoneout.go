package hedonic

import "math"

// LeaveOne is how one row looks to the model that never saw it.
type LeaveOne struct {
	Predictive Predictive // of the row's response, learned from all other rows
	Residual   float64    // the response less its fitted value, the row included
	Leverage   float64    // h: how much the row's own response pulls its fitted value, 0 to 1

	// Known is false when the other rows alone determine nothing about this one: it is the only one to
	// say anything on a column without a prior. Predictive is then empty.
	Known bool
}

// LeaveOneOut gives every row as seen by the others, without fitting again. With residual e and leverage
// h the others' prediction errs by e/(1-h); the residual variance loses what the row brought to it, and
// the degrees of freedom lose its share (Cook and Weisberg, Residuals and Influence in Regression, 1982,
// section 2.2, carried over to the conjugate posterior). Tau stays as chosen on all rows.
func (m *Model) LeaveOneOut() []LeaveOne {
	out := make([]LeaveOne, m.data.rows())
	for i := range out {
		row := m.data.X.RawRowView(i)
		weight := at(m.data.W, i)
		share := at(m.data.Share, i)
		fitted := m.location(row)
		l := m.Leverage(row)
		h := weight * share * l
		e := m.data.Y[i] - fitted
		one := LeaveOne{Residual: e, Leverage: h}
		a := m.a - share/2
		if rest := 1 - h; rest > degenerate && a > 0 {
			b := math.Max(0, m.b-weight*share*e*e/rest/2)
			scale := math.Sqrt(b / a * (1/weight + l/rest))
			one.Predictive = NewStudent(m.data.Y[i]-e/rest, scale, 2*a)
			one.Known = true
		}
		out[i] = one
	}
	return out
}
