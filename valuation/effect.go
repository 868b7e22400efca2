package valuation

import (
	"math"

	"skegworth/valuation/say"
)

// Effect is what one difference does to the price.
type Effect struct {
	Key            string       // the column's name, or "make:" and the folded make
	Name           say.Sentence // "ten years older"
	Low, Mid, High float64      // multiplier of the price; 80 % of the belief lies from Low to High
	Prior          bool         // mostly the trade prior: own sales have not narrowed it by a fifth
	Sales          int          // own sales in which the column is other than 0
}

// mostlyPrior is the part of the prior's spread from which on an effect is still the prior's.
const mostlyPrior = 0.8

// Effects tells what moves the price, in the order of the trade table, then the makes by name. Age is
// shown for a motor of the anchor's size from 15 to 25 years, with its flattening.
func (m *Market) Effects() []Effect {
	var out []Effect
	for j, c := range trade {
		if c.key == "age-squared" {
			continue // part of age
		}
		contrast := make([]float64, len(m.prior.Mean))
		contrast[j+1] = c.step
		if c.key == "age" {
			contrast[j+2] = 1 // from 15 to 25 years
		}
		out = append(out, m.effect(c.key, c.name, contrast))
	}
	if len(m.asks) > 0 {
		out = append(out, m.effect("asked", say.New("effect.asked", "an asking price instead of a sale"), unit(len(m.prior.Mean), askedColumn)))
	}
	for i, name := range m.makes {
		contrast := make([]float64, len(m.prior.Mean))
		contrast[m.makeColumn(i)] = 1
		out = append(out, m.effect("make:"+name, say.New("effect.of-make", "{{.Make}} instead of the average make", "Make", m.makeName(name)), contrast))
	}
	return out
}

func (m *Market) effect(key string, name say.Sentence, contrast []float64) Effect {
	p := m.predict(contrast, 0)
	low, high := p.Interval(shownLevel)
	e := Effect{Key: key, Name: name, Low: math.Exp(low), Mid: math.Exp(p.Quantile(0.5)), High: math.Exp(high)}
	before := 0.0
	for j, step := range contrast {
		if step != 0 {
			spread := step * m.prior.SD[j]
			before += spread * spread
		}
	}
	// Both in units of the residual scale, so that a scale that sales have shown to be smaller than
	// guessed does not pass for knowledge of the effect.
	e.Prior = math.Sqrt(m.leverage(contrast)) > mostlyPrior*m.model.Tau()*math.Sqrt(before)/residual
	for _, row := range m.rows {
		for j, step := range contrast {
			if step != 0 && row[j] != 0 {
				e.Sales++
				break
			}
		}
	}
	return e
}

// makeName is the make as the first sale of it writes it.
func (m *Market) makeName(folded string) string {
	for _, s := range m.sales {
		if foldMake(s.Motor.Make) == folded {
			return s.Motor.Make
		}
	}
	return folded
}
