package valuation

import "math"

// pull is what one fact does to ln price: the columns that one field speaks of, and their coefficients.
type pull struct {
	field   string
	columns []int     // in the full row
	mean    []float64 // of the coefficients
	cov     []float64 // their covariance, row by row
}

// pulls groups the columns of the full row by field, in the order of the trade table; the make comes last.
func (m *Market) pulls() []pull {
	var out []pull
	at := map[string]int{}
	for j, c := range trade {
		i, seen := at[c.field]
		if !seen {
			i = len(out)
			at[c.field] = i
			out = append(out, pull{field: c.field})
		}
		out[i].columns = append(out[i].columns, j+1)
	}
	makes := pull{field: "make"}
	for i := range len(m.makes) + 1 {
		makes.columns = append(makes.columns, m.makeColumn(i))
	}
	out = append(out, makes)

	mean, _ := m.model.Coefficients()
	cov := m.model.Covariance()
	for i := range out {
		for _, a := range out[i].columns {
			out[i].mean = append(out[i].mean, mean[a])
			for _, b := range out[i].columns {
				out[i].cov = append(out[i].cov, cov.At(a, b))
			}
		}
	}
	return out
}

// effect is the push in ln price of going from one row to another in this fact, and its uncertainty.
func (p pull) effect(from, to []float64) (push, doubt float64) {
	n := len(p.columns)
	for i, a := range p.columns {
		step := to[a] - from[a]
		if step == 0 {
			continue
		}
		push += step * p.mean[i]
		for j, b := range p.columns {
			doubt += step * p.cov[i*n+j] * (to[b] - from[b])
		}
	}
	return push, math.Sqrt(math.Max(0, doubt))
}
