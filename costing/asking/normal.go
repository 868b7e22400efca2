package asking

import "math"

// The chance that a standard normal lies below z is asked for millions of times a curve. It is read off a
// table with its slopes, right to 1e-9.
const (
	cellsPerUnit = 64
	tableEnd     = 8
)

type tabled struct{ chance, step0, step1 float64 }

var table = func() []tabled {
	out := make([]tabled, 2*tableEnd*cellsPerUnit+1)
	density := func(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / cellsPerUnit }
	for i := range out {
		z := float64(i)/cellsPerUnit - tableEnd
		out[i] = tabled{0.5 * math.Erfc(-z/math.Sqrt2), density(z), density(z + 1.0/cellsPerUnit)}
	}
	return out
}()

// below is the chance that a standard normal lies below z.
func below(z float64) float64 {
	at := (z + tableEnd) * cellsPerUnit
	if !(at > 0) {
		return 0
	}
	if at >= 2*tableEnd*cellsPerUnit {
		return 1
	}
	i := int(at)
	f := at - float64(i)
	c := &table[i]
	rise := table[i+1].chance - c.chance
	return c.chance + f*(c.step0+f*(3*rise-2*c.step0-c.step1+f*(c.step0+c.step1-2*rise)))
}
