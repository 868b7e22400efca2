package hedonic

import (
	"fmt"
	"math"
)

// Prior is what is believed before any data, in the units of the response.
type Prior struct {
	// Mean and SD of each coefficient. An SD of +Inf believes nothing of the coefficient, and its Mean is
	// then not used. Both nil is flat in every column of the data.
	Mean, SD []float64

	// Scale is a guess of the residual standard deviation. It ties the spreads to the units of y: the
	// prior variance of coefficient j is s2 tau2 (SD[j]/Scale)^2, which is (tau SD[j])^2 when the residuals
	// are as large as guessed. It must be above 0 unless all columns are flat and Strength is 0.
	Scale float64

	// Strength is a0, half the number of observations that the guess of Scale is worth; b0 is a0 Scale^2.
	// With 0 the residual scale is left to the data.
	Strength float64

	// Taus are the multipliers of the spreads to choose among by marginal likelihood: large when the data
	// say that the prior was too sure of itself. The earlier wins a tie. Nil is 1 alone.
	Taus []float64
}

// Flat believes nothing about any of k columns.
func Flat(k int) Prior {
	p := Prior{Mean: make([]float64, k), SD: make([]float64, k)}
	for j := range p.SD {
		p.SD[j] = math.Inf(1)
	}
	return p
}

// flat tells whether nothing is believed of column j.
func (p Prior) flat(j int) bool { return math.IsInf(p.SD[j], 1) }

// flats counts the columns of which nothing is believed.
func (p Prior) flats() int {
	n := 0
	for j := range p.SD {
		if p.flat(j) {
			n++
		}
	}
	return n
}

// row is the entry of coefficient j's prior row at tau: the reciprocal of its spread over s, 0 when flat.
func (p Prior) row(j int, tau float64) float64 {
	if p.flat(j) {
		return 0
	}
	return p.Scale / (p.SD[j] * tau)
}

// taus is the grid; without a proper column there is nothing to choose.
func (p Prior) taus() []float64 {
	if len(p.Taus) == 0 || p.flats() == len(p.SD) {
		return []float64{1}
	}
	return p.Taus
}

// check tells whether the prior can be used.
func (p Prior) check() error {
	if len(p.Mean) != len(p.SD) {
		return fmt.Errorf("the prior has %d means and %d spreads", len(p.Mean), len(p.SD))
	}
	if len(p.SD) == 0 {
		return fmt.Errorf("the prior has no columns")
	}
	for j, sd := range p.SD {
		if math.IsNaN(sd) || sd <= 0 {
			return fmt.Errorf("the prior's spread of column %d is %v and must be above 0", j+1, sd)
		}
		if !p.flat(j) && !finite(p.Mean[j]) {
			return fmt.Errorf("the prior's mean of column %d is %v", j+1, p.Mean[j])
		}
	}
	if !finite(p.Strength) || p.Strength < 0 {
		return fmt.Errorf("the prior's strength is %v and must be 0 or more", p.Strength)
	}
	if needed := p.Strength > 0 || p.flats() < len(p.SD); needed && (!finite(p.Scale) || p.Scale <= 0) {
		return fmt.Errorf("the prior's guess of the residual scale is %v and must be above 0", p.Scale)
	}
	for _, tau := range p.Taus {
		if !finite(tau) || tau <= 0 {
			return fmt.Errorf("the prior's tau is %v and must be above 0", tau)
		}
	}
	return nil
}
