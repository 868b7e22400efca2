package timetosell

import "math"

// The parameters are the coefficients and, last, ln s.

// posterior is the logarithm of prior times likelihood as a function of the parameters.
type posterior struct {
	prior  Prior
	spells []Spell
}

// at is its value; where grad is given, its slopes are put there.
func (p posterior) at(theta, grad []float64) float64 {
	n := len(theta) - 1
	for j := range grad {
		grad[j] = 0
	}
	sum := 0.0
	scratch := make([]float64, n)
	for _, s := range p.spells {
		sum += p.spell(s, theta, grad, scratch)
	}
	return sum + p.belief(theta, grad)
}

// belief is the part of the prior. A flat one adds nothing.
func (p posterior) belief(theta, grad []float64) float64 {
	n := len(theta) - 1
	sum := 0.0
	add := func(j int, mean, sd float64) {
		z := (theta[j] - mean) / sd
		if math.IsInf(sd, 1) {
			return
		}
		sum -= z*z/2 + math.Log(sd) + lnRoot2Pi
		if grad != nil {
			grad[j] -= z / sd
		}
	}
	for j := range n {
		add(j, p.prior.Mean[j], p.prior.SD[j])
	}
	add(n, p.prior.LnScale, p.prior.LnScaleSD)
	return sum
}

// spread of ln baseline time, and its slopes by ln s and by the doubtful coefficient.
func (p Prior) spread(theta []float64, doubt float64) (s, byLnScale, byDoubtful float64) {
	scale := math.Exp(theta[len(theta)-1])
	if !p.HasDoubtful || doubt == 0 {
		return scale, scale, 0
	}
	b := theta[p.Doubtful]
	s = math.Sqrt(scale*scale + b*b*doubt*doubt)
	return s, scale * scale / s, b * doubt * doubt / s
}

// spell is the logarithm of the likelihood of one spell.
func (p posterior) spell(sp Spell, theta, grad, slope []float64) float64 {
	n := len(theta) - 1
	gathered, last := gather(sp.Stretches, theta[:n], slope, grad != nil)
	s, byLnScale, byDoubtful := p.prior.spread(theta, sp.Doubt)
	z := gathered / s
	var value, byZ, byS, byGathered float64
	if sp.Sold {
		value = -z*z/2 - lnRoot2Pi - math.Log(s) - gathered - last
		byZ, byS, byGathered = -z, -1/s, -1
	} else {
		value = lnAbove(z)
		if grad != nil {
			byZ = -mills(z)
		}
	}
	if grad == nil {
		return value
	}
	byGathered += byZ / s
	byS -= byZ * z / s
	for j := range n {
		grad[j] += byGathered * slope[j]
	}
	if sp.Sold {
		for j, v := range sp.Stretches[len(sp.Stretches)-1].X {
			grad[j] -= v
		}
	}
	grad[n] += byS * byLnScale
	if byDoubtful != 0 {
		grad[p.prior.Doubtful] += byS * byDoubtful
	}
	return value
}

// gather is the logarithm of the baseline time of the stretches and, for a sale, x'b of the last of them;
// slope gets the slopes of the former.
func gather(stretches []Stretch, b, slope []float64, slopes bool) (ln, last float64) {
	if len(stretches) == 1 {
		t := stretches[0]
		last = dot(t.X, b)
		if slopes {
			for j, v := range t.X {
				slope[j] = -v
			}
		}
		return math.Log(t.Days) - last, last
	}
	top := math.Inf(-1)
	for _, t := range stretches {
		top = math.Max(top, math.Log(t.Days)-dot(t.X, b))
	}
	for j := range slope {
		slope[j] = 0
	}
	sum := 0.0
	for _, t := range stretches {
		last = dot(t.X, b)
		w := math.Exp(math.Log(t.Days) - last - top)
		sum += w
		if slopes {
			for j, v := range t.X {
				slope[j] -= w * v
			}
		}
	}
	if slopes {
		for j := range slope {
			slope[j] /= sum
		}
	}
	return top + math.Log(sum), last
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
