package timetosell

import "math"

// Sold is the chance that what stands under circumstances x is sold within so many days, the doubt about the
// parameters included. Doubt is that of the doubtful column.
func (m *Model) Sold(days float64, x []float64, doubt float64) float64 {
	if !(days > 0) {
		return 0
	}
	sum := 0.0
	ln := math.Log(days)
	for _, d := range m.draws {
		sum += d.Weight * 0.5 * math.Erfc(-(ln-dot(x, d.B))/(d.spread(m.prior, doubt)*math.Sqrt2))
	}
	return math.Min(sum, 1)
}

func (d Draw) spread(p Prior, doubt float64) float64 {
	if !p.HasDoubtful || doubt == 0 {
		return d.Scale
	}
	return math.Hypot(d.Scale, d.B[p.Doubtful]*doubt)
}

// Days within which a share q of such things is sold, from a thousandth of a second to longer than anything
// stands.
func (m *Model) Days(q float64, x []float64, doubt float64) float64 {
	const shortest, farthest = 1e-8, 1e12
	if math.IsNaN(q) || q <= 0 {
		return 0
	}
	low, high := math.Log(shortest), math.Log(farthest)
	for range 80 {
		mid := (low + high) / 2
		if m.Sold(math.Exp(mid), x, doubt) < q {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Exp((low + high) / 2)
}
