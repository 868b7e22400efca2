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

// along fills ascending quantiles from a curve through knots evenly apart in log-odds.
func (p Predictive) along(out []float64) {
	n := float64(len(out))
	last := math.Log(2*n - 1) // log-odds of the last stratum's middle
	knots := 2*int(math.Ceil(last/knotStep)) + 1
	step := 2 * last / float64(knots-1)
	var from, to knot
	at := -1
	for i := range out {
		u := math.Log((float64(i) + 0.5) / (n - float64(i) - 0.5))
		k := min(max(int((u+last)/step), 0), knots-2)
		if k != at {
			if k == at+1 && at >= 0 {
				from = to
			} else {
				from = p.knot(float64(k)*step - last)
			}
			to, at = p.knot(float64(k+1)*step-last), k
		}
		t := (u - from.u) / (to.u - from.u)
		out[i] = from.curve(to, t)
		if i > 0 && out[i] < out[i-1] {
			out[i] = out[i-1]
		}
	}
}

// knot is a quantile at a log-odds, with its slope there.
type knot struct{ u, x, slope float64 }

func (p Predictive) knot(u float64) knot {
	q := 1 / (1 + math.Exp(-u))
	x := p.Quantile(q)
	return knot{u, x, q * (1 - q) / p.density(x)}
}

// curve is Hermite's cube from one knot to the next, at a share t of the way.
func (k knot) curve(to knot, t float64) float64 {
	h, r := to.u-k.u, 1-t
	return float64(r*r*(1+2*t))*k.x + float64(t*t*(3-2*t))*to.x + float64(h*t*r*r)*k.slope - float64(h*t*t*r)*to.slope
}
