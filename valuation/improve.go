package valuation

import (
	"cmp"
	"math"
	"slices"

	"skegworth/valuation/day"
	"skegworth/valuation/hedonic"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Improvement is what one thing done to a motor would add to the middle of its band.
type Improvement struct {
	Field          string // "state", "looks", "controls", "propeller" or "tank"
	State          State  // reached, where Field is state
	Name           say.Sentence
	Low, Mid, High money.Amount // Mid is the change of the middle; eight times in ten it is from Low to High
	Prior          bool         // mostly the trade prior
	Sales          int          // own sales in which the fact is told and is other than the anchor's
}

// Improvements are what can be done to the motor as it stands, sold on the day (0: the market's own day),
// the most worth first: each state beyond its own, one step of looks, and what could be included in the
// price. What does not fit or is not known to be lacking in state or looks is left out. Errors are those
// of [Market.Worth].
//
// The range is that of the change itself, under the joint belief in the price level and in what the step
// does: as both ends share the level, it is far narrower than the differences of the bands' ends.
func (m *Market) Improvements(mo Motor, on day.Day) ([]Improvement, error) {
	on, err := m.usable(mo, on)
	if err != nil {
		return nil, err
	}
	row, noise := m.row(mo, on)
	before := m.middle(row, noise)
	spread := m.spread()
	var out []Improvement
	for _, step := range mo.steps() {
		if step.to.CheckOn(on) != nil {
			continue
		}
		better, noise := m.row(step.to, on)
		contrast := make([]float64, len(row))
		for j := range row {
			contrast[j] = better[j] - row[j]
		}
		i := step.Improvement
		i.Mid = m.middle(better, noise) - before
		low, high := m.change(row, contrast, spread)
		i.Low, i.High = min(m.options.Currency.FromFloat(low), i.Mid), max(m.options.Currency.FromFloat(high), i.Mid)
		i.Sales = m.showing(i.Field, contrast)
		i.Prior = i.Sales == 0 || m.effect(i.Field, say.Sentence{}, contrast).Prior
		out = append(out, i)
	}
	slices.SortStableFunc(out, func(a, b Improvement) int { return cmp.Compare(b.Mid, a.Mid) })
	return out, nil
}

func (m *Market) middle(row []float64, noise float64) money.Amount {
	return m.options.Currency.FromFloat(math.Exp(m.predict(row, noise).Quantile(0.5)))
}

// step is an improvement with the motor that it leads to.
type step struct {
	Improvement
	to Motor
}

// steps are the improvements that fit the motor.
func (mo Motor) steps() []step {
	var out []step
	if at := slices.Index(States, mo.State); at >= 0 {
		for _, s := range States[at+1:] {
			out = append(out, step{Improvement{Field: "state", State: s, Name: say.New("improve.state", "state: {{.State}} (now: {{.Now}})", "State", s.Label(), "Now", mo.State.Label())}, mo.brought(s)})
		}
	}
	if mo.Looks > 0 && mo.Looks < 5 {
		to := mo
		to.Looks++
		out = append(out, step{Improvement{Field: "looks", Name: say.New("improve.looks", "looks one step up: {{.Looks}}", "Looks", LooksLabel(to.Looks))}, to})
	}
	if mo.Controls != Yes && mo.Steering != Tiller {
		to := mo
		to.Controls = Yes
		out = append(out, step{Improvement{Field: "controls", Name: say.New("effect.controls", "controls with harness included")}, to})
	}
	if mo.Propeller != Yes {
		to := mo
		to.Propeller = Yes
		out = append(out, step{Improvement{Field: "propeller", Name: say.New("effect.propeller", "propeller included")}, to})
	}
	const builtIn = 4 // hp below which the tank is usually under the cowl; common practice, from memory
	if mo.Tank != Yes && mo.Power >= builtIn {
		to := mo
		to.Tank = Yes
		out = append(out, step{Improvement{Field: "tank", Name: say.New("effect.tank", "tank included")}, to})
	}
	return out
}

// brought is the motor brought to a better state, without what can then no longer be so: one that runs
// turns and can be shown running, and after a rebuild the old compression readings say nothing.
func (mo Motor) brought(to State) Motor {
	ran := subject{Motor: mo}.runs()
	mo.State = to
	if runs := (subject{Motor: mo}).runs(); runs && !ran {
		mo.ShownRunning = ""
		if mo.Turns == No {
			mo.Turns = Yes
		}
	}
	if to == Rebuilt {
		mo.Compression = nil
	}
	return mo
}

// The lattice on which a change is weighed: so many equally likely prices, each with so many equally
// likely changes of ln price.
const lattice = 41

// spread stands for the Student-t about 0 that the level has once the change is given, the same for each.
func (m *Market) spread() []float64 {
	return hedonic.NewStudent(0, 1, m.model.DF()+1).Sample(lattice)
}

// change is the range, eight times in ten, of what going by the contrast does to the expectation of the
// price from the row, exp(a+b) - exp(a), where a = row'beta and b = contrast'beta are Student-t together:
// b by itself, and a given b with one degree of freedom more, about a line in b and the wider the further
// out b lies. Spread is [Market.spread].
func (m *Market) change(row, contrast, spread []float64) (low, high float64) {
	scale, df := m.model.Scale(), m.model.DF()
	after := make([]float64, len(row))
	for j := range row {
		after[j] = row[j] + contrast[j]
	}
	aa, bb := m.leverage(row), m.leverage(contrast)
	ab := (m.leverage(after) - aa - bb) / 2
	a, b := m.predict(row, 0).Quantile(0.5), m.predict(contrast, 0)
	if bb <= 0 {
		same := math.Exp(a) * math.Expm1(b.Quantile(0.5))
		return same, same
	}
	centre := b.Quantile(0.5)
	rest := scale * math.Sqrt(math.Max(0, aa-ab*ab/bb))
	all := make([]float64, 0, lattice*lattice)
	for _, push := range b.Sample(lattice) {
		off := push - centre
		z := off / (scale * math.Sqrt(bb))
		wide := rest * math.Sqrt((df+z*z)/(df+1))
		level, step := a+ab/bb*off, math.Expm1(push)
		for _, t := range spread {
			all = append(all, math.Exp(level+wide*t)*step)
		}
	}
	slices.Sort(all)
	tail := (1 - shownLevel) / 2
	cut := int(math.Round(tail * float64(len(all))))
	return all[cut], all[len(all)-1-cut]
}
