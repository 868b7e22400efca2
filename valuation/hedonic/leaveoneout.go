package hedonic

import "math"

// LeaveOne is how one row looks to the model that never saw it.
type LeaveOne struct {
	Predictive Predictive // of the row's response, learned from all other rows
	Residual   float64    // the response less its fitted value, the row included
	Leverage   float64    // h: how much the row's own response pulls its fitted value, 0 to 1
	Cook       float64    // how far the row moves all fitted values: Cook's distance (Technometrics 19, 1977)
	Trust      float64    // what is left of the row's weight where it lies far off: 1 all of it, or a little more

	// Known is false when the other rows alone determine nothing about this one: it is the only one to
	// say anything on a column without a prior. Predictive is then empty.
	Known bool
}

// view is a part as it would be without one row: its prediction of that row, and what the part then
// counts for.
type view struct {
	student
	residual, leverage float64
	known              bool
}

// without is every part's view of row i from the others.
func (f *family) without(l *layout, i int) []view {
	k := len(f.parts)
	if f.views == nil {
		f.look()
		f.views = make([]view, l.data.rows()*k)
		apart(l.data.rows(), func(from, to int) {
			for j := from; j < to; j++ {
				f.leave(l, j, f.views[j*k:(j+1)*k])
			}
		})
	}
	return f.views[i*k : (i+1)*k]
}

// leave writes every part's view of row i from the others, weights adding up to 1, without fitting again.
// With residual e and leverage h the others' prediction errs by e/(1-h); the residual variance loses what
// the row brought to it, the degrees of freedom lose its share, and the determinant of the equations
// falls by 1-h (Cook and Weisberg, Residuals and Influence in Regression, 1982, section 2.2, carried over
// to the conjugate posterior). What the row did to a part's marginal likelihood is undone by the same
// figures, so that all of it is what fitting without the row gives. Trust in the other rows stays.
func (f *family) leave(l *layout, i int, out []view) {
	y, plain, share := l.data.Y[i], at(l.data.W, i), at(l.data.Share, i)
	weight := plain * at(f.trust, i)
	best := math.Inf(-1)
	logs := make([]float64, len(f.parts))
	var last student // parts of one tail often have the same degrees of freedom
	for j, p := range f.parts {
		where := f.points[p.block][i]
		location, lev := p.location(where), p.leverage(where)
		e, h := y-location, weight*share*lev
		v := view{residual: e, leverage: h}
		a := p.a - share/2
		logs[j] = math.Log(p.weight)
		if rest := 1 - h; rest > degenerate && a > 0 {
			b := math.Max(0, p.b-weight*share*e*e/rest/2)
			h := lev / rest
			if df := p.df(2*a, 1/plain, h); df == last.df {
				v.student = last
				v.location, v.scale = y-e/rest, math.Sqrt(b/a*(1/plain+h))
			} else {
				v.student = newStudent(y-e/rest, math.Sqrt(b/a*(1/plain+h)), df)
				last = v.student
			}
			v.known = v.bounded()
			if len(f.parts) > 1 {
				logs[j] += p.a*math.Log(p.b) - a*math.Log(b) - math.Log(rest)/2
			}
		}
		if math.IsNaN(logs[j]) { // a perfect fit
			logs[j] = math.Inf(-1)
		}
		best = math.Max(best, logs[j])
		out[j] = v
	}
	total := 0.0
	for j := range out {
		out[j].weight = 1
		if !math.IsInf(best, 0) {
			out[j].weight = math.Exp(logs[j] - best)
		}
		total += out[j].weight
	}
	for j := range out {
		out[j].weight /= total
	}
}

// others are the views of row i in all families.
func (m *Model) others(i int) []view {
	if len(m.families) == 1 {
		return m.families[0].without(m.layout, i)
	}
	best := math.Inf(-1)
	logs := make([]float64, len(m.families))
	for j, f := range m.families {
		logs[j] = math.Log(f.weight)
		if finite(f.each[i]) {
			logs[j] -= f.each[i]
		}
		best = math.Max(best, logs[j])
	}
	var out []view
	total := 0.0
	for j, f := range m.families {
		weight := math.Exp(logs[j] - best)
		if weight < forgotten {
			continue
		}
		total += weight
		for _, v := range f.without(m.layout, i) {
			v.weight *= weight
			out = append(out, v)
		}
	}
	for j := range out {
		out[j].weight /= total
	}
	return out
}

// LeaveOneOut gives every row as seen by the others. The calibration is that of all rows.
func (m *Model) LeaveOneOut() []LeaveOne { return m.left() }

func (m *Model) leaveOneOut() []LeaveOne {
	m.look()
	out := make([]LeaveOne, m.data.rows())
	if len(out) > 0 {
		m.others(0) // the first question works all of it out
	}
	apart(len(out), func(from, to int) {
		for i := from; i < to; i++ {
			out[i] = m.leaveOne(i)
		}
	})
	return out
}

func (m *Model) leaveOne(i int) LeaveOne {
	width := float64(m.width())
	var one LeaveOne
	for _, f := range m.families {
		one.Trust += f.weight * at(f.trust, i)
	}
	one.Known = true
	kept := 0.0
	for _, v := range m.others(i) {
		one.Residual += v.weight * v.residual
		one.Leverage += v.weight * v.leverage
		one.Known = one.Known && (v.known || v.weight < unseen)
		if v.known && v.weight > unseen/float64(len(m.parts)) {
			v.scale *= m.stretch
			one.Predictive.parts = append(one.Predictive.parts, v.student)
			kept += v.weight
		}
	}
	for j := range one.Predictive.parts {
		one.Predictive.parts[j].weight /= kept
	}
	if !one.Known {
		one.Predictive = Predictive{}
	}
	if rest := 1 - one.Leverage; rest > degenerate && m.sigma > 0 && width > 0 {
		z := one.Residual / m.sigma
		one.Cook = at(m.data.W, i) * z * z * one.Leverage / (rest * rest) / width
	}
	return one
}
