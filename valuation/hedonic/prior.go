package hedonic

import (
	"fmt"
	"math"
	"slices"
)

// Prior is what is believed before any data, in the units of the response. Where it offers several
// possibilities (Taus, Groups, Leans, Tails) the answers are averaged over all of them by how likely each
// makes the data, so that what few data cannot settle widens the answer instead of being picked.
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

	// Taus are multipliers of all spreads: large when the prior was too sure of itself. Nil is 1 alone.
	Taus []Option

	// Groups are columns whose spreads have a multiplier in common, such as the offsets of a dozen makers:
	// how far makers differ is learned from all of them. A column is in one group at the most.
	Groups []Group

	// Leans are the ways of spreading the belief over columns that move together. With 0 each column has
	// its own say. With 1 a combination of columns is believed in as far as the data vary along it, as in
	// regression on principal components: what few rows tell apart badly is then not told apart at all.
	// Nil is 0 alone.
	Leans []Option

	// Tails are how residuals may be spread: degrees of freedom of a Student-t, +Inf the normal. They are
	// averaged by how well each foretells every row from the others. Nil is the normal alone.
	Tails []Option

	// Calibration is the number of rows at which half of what leave-one-out shows of bands too wide or too
	// narrow is taken out of them; with fewer rows less. 0 leaves bands as the model has them.
	Calibration float64
}

// Option is one possibility and how far it is believed in beside the others; weights need not sum to 1.
type Option struct{ Value, Weight float64 }

// Options are possibilities believed in alike.
func Options(values ...float64) []Option {
	out := make([]Option, len(values))
	for i, v := range values {
		out[i] = Option{v, 1}
	}
	return out
}

// Group is columns that share a multiplier of their spreads.
type Group struct {
	Columns []int
	Spreads []Option
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

// alone is the list of possibilities, or the one that stands where there is none.
func alone(options []Option, value float64) []Option {
	if len(options) == 0 {
		return []Option{{value, 1}}
	}
	return options
}

// spreads is every way of taking one multiplier from each group: a multiplier a column, and the belief.
func (p Prior) spreads() (multipliers [][]float64, beliefs []float64) {
	plain := make([]float64, len(p.SD))
	for j := range plain {
		plain[j] = 1
	}
	multipliers, beliefs = [][]float64{plain}, []float64{1}
	for _, g := range p.Groups {
		var wider [][]float64
		var believed []float64
		for i, m := range multipliers {
			for _, o := range alone(g.Spreads, 1) {
				next := slices.Clone(m)
				for _, j := range g.Columns {
					next[j] = o.Value
				}
				wider = append(wider, next)
				believed = append(believed, beliefs[i]*o.Weight)
			}
		}
		multipliers, beliefs = wider, believed
	}
	return multipliers, beliefs
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
	if !finite(p.Calibration) || p.Calibration < 0 {
		return fmt.Errorf("the prior's calibration is %v rows and must be 0 or more", p.Calibration)
	}
	return p.checkOptions()
}

func (p Prior) checkOptions() error {
	lists := []struct {
		name    string
		options []Option
		least   float64
		endless bool // +Inf may stand
	}{{"tau", p.Taus, 0, false}, {"tail", p.Tails, 1, true}, {"lean", p.Leans, math.Inf(-1), false}}
	grouped := make([]bool, len(p.SD))
	for _, g := range p.Groups {
		lists = append(lists, lists[0])
		lists[len(lists)-1].name, lists[len(lists)-1].options = "spread of a group", g.Spreads
		for _, j := range g.Columns {
			if j < 0 || j >= len(p.SD) || grouped[j] || p.flat(j) {
				return fmt.Errorf("the prior's groups: column %d is not there, has no spread or stands in two", j+1)
			}
			grouped[j] = true
		}
	}
	for _, l := range lists {
		for _, o := range l.options {
			if math.IsNaN(o.Value) || o.Value <= l.least || math.IsInf(o.Value, 1) && !l.endless {
				return fmt.Errorf("the prior's %s is %v and must be above %v", l.name, o.Value, l.least)
			}
			if !finite(o.Weight) || o.Weight <= 0 {
				return fmt.Errorf("the prior's %s of %v has a weight of %v, which must be above 0", l.name, o.Value, o.Weight)
			}
		}
	}
	return nil
}
