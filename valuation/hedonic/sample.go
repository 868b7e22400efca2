package hedonic

import "math"

// Sample works every quantile out by its root up to this many; beyond, it lays a curve through some.
const exactSample = 4096

// Along the log-odds of the level a quantile is close to a line, so few knots carry it: the curve of
// cubes through them errs by less than a millionth for parts that overlap as those of a band do.
const knotStep = 1.0 / 8

// Sample gives n values that stand for the distribution, ascending: the quantiles at the middles of n
// equal strata. It is the same every time. Of more than 4,096 from a mixture, most lie on a curve through
// exact ones, a cube between each two with the slope that the density gives it.
func (p Predictive) Sample(n int) []float64 {
	out := make([]float64, max(n, 0))
	if n > exactSample && p.smooth() {
		p.along(out)
		return out
	}
	for i := range out {
		if mirror := n - 1 - i; len(p.parts) == 1 && mirror < i { // a Student-t is symmetric
			out[i] = 2*p.parts[0].location - out[mirror]
		} else {
			out[i] = p.Quantile((float64(i) + 0.5) / float64(n))
		}
		if i > 0 && out[i] < out[i-1] { // rounding in the root
			out[i] = out[i-1]
		}
	}
	return out
}

// smooth tells whether there is a density everywhere.
func (p Predictive) smooth() bool {
	for _, s := range p.parts {
		if !(s.scale > 0) {
			return false
		}
	}
	return len(p.parts) > 0
}

// along fills ascending quantiles from a curve through knots about evenly apart in log-odds.
func (p Predictive) along(out []float64) {
	n := float64(len(out))
	knots := p.knots(math.Log(2*n - 1)) // log-odds of the last stratum's middle
	k := 0
	for i := range out {
		u := math.Log((float64(i) + 0.5) / (n - float64(i) - 0.5))
		for k < len(knots)-2 && u > knots[k+1].u {
			k++
		}
		from, to := knots[k], knots[k+1]
		out[i] = from.curve(to, (u-from.u)/(to.u-from.u))
		if i > 0 && out[i] < out[i-1] {
			out[i] = out[i-1]
		}
	}
}

// knots from log-odds -last to last, no farther apart than a little more than a step. Only the two ends are
// quantiles of round levels: between them it matters that a knot lies on the curve and not where, so each is
// the level of a value near the quantile, at the price of one look at the distribution instead of a root.
func (p Predictive) knots(last float64) []knot {
	steps := 2 * int(math.Ceil(last/knotStep))
	out := make([]knot, 1, steps+8)
	out[0] = p.knotAt(p.Quantile(level(-last)))
	end := p.knotAt(p.Quantile(level(last)))
	for i := 1; i < steps; i++ {
		u := float64(2*i-steps) / float64(steps) * last
		if k := p.knotAt(p.near(level(u))); k.u < end.u {
			out = p.reach(out, k)
		}
	}
	return p.reach(out, end)
}

// reach adds a knot above the last, and others between them where they are far apart.
func (p Predictive) reach(all []knot, to knot) []knot {
	from := all[len(all)-1]
	if !(to.u > from.u && to.x > from.x) {
		return all
	}
	if middle := from.x + (to.x-from.x)/2; to.u-from.u > 1.5*knotStep && middle > from.x && middle < to.x {
		return p.reach(p.reach(all, p.knotAt(middle)), to)
	}
	return append(all, to)
}

// level of a log-odds.
func level(u float64) float64 { return 1 / (1 + math.Exp(-u)) }

// knot is the log-odds of a value, with the slope of values by log-odds there.
type knot struct{ u, x, slope float64 }

func (p Predictive) knotAt(x float64) knot {
	below, above := p.tails(x)
	return knot{math.Log(below / above), x, below * above / p.density(x)}
}

// curve is Hermite's cube from one knot to the next, at a share t of the way.
func (k knot) curve(to knot, t float64) float64 {
	h, r := to.u-k.u, 1-t
	return float64(r*r*(1+2*t))*k.x + float64(t*t*(3-2*t))*to.x + float64(h*t*r*r)*k.slope - float64(h*t*t*r)*to.slope
}
