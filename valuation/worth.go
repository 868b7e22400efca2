package valuation

import (
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// Worth is the band of prices that the motor would bring if sold on the day (0: the market's own day).
// Power, year and stroke are needed; every other fact that is missing widens the band. The error is a
// [*FieldError] that names the fact that is missing or cannot be used.
func (m *Market) Worth(mo Motor, on day.Day) (Band, error) {
	on, err := m.usable(mo, on)
	if err != nil {
		return Band{}, err
	}
	row, noise := m.row(mo, on)
	seen := m.model.At(row)
	b := Band{price: seen.Predict(noise), currency: m.options.Currency, sales: len(m.sales)}
	if row[m.otherMake()] != 0 { // a make never sold is a warning of its own
		row[m.otherMake()] = 0
		seen = m.model.At(row)
	}
	b.warnings, b.outside = m.experience(mo, on, seen.Leverage())
	b.narrower = m.vaguest(mo, on)
	return b, nil
}

// usable checks the motor and settles the day.
func (m *Market) usable(mo Motor, on day.Day) (day.Day, error) {
	if on == 0 {
		on = m.now
	}
	if on == 0 {
		return 0, &FieldError{"on", say.New("field.on.needed", "the day of the sale is needed, as 2026-04-30")}
	}
	if err := mo.needed(); err != nil {
		return 0, err
	}
	return on, mo.CheckOn(on)
}

// leastNarrowing is the part of the band's variance that a missing fact must make up to be worth a word.
const leastNarrowing = 0.02

// vaguest is the field that is not known and adds most to the variance.
func (m *Market) vaguest(mo Motor, on day.Day) string {
	best, most := "", leastNarrowing
	for _, d := range m.doubts(mo, on) {
		if d.variance > most {
			best, most = d.field, d.variance
		}
	}
	return best
}

// doubt is what a fact that is not known adds to the variance, in units of s2.
type doubt struct {
	field    string
	variance float64
}

// doubts are the facts that are not known and could be, in the order of the trade table. The make is one
// only where some make was sold: it would tell nothing else.
func (m *Market) doubts(mo Motor, on day.Day) []doubt {
	s := m.subject(mo, on)
	var out []doubt
	at := map[string]int{}
	for _, c := range trade {
		d := c.doubt(c.of(s))
		if d <= 0 {
			continue
		}
		i, seen := at[c.field]
		if !seen {
			i = len(out)
			at[c.field] = i
			out = append(out, doubt{field: c.field})
		}
		out[i].variance += d
	}
	if mo.Make == "" && len(m.makes) > 0 {
		out = append(out, doubt{"make", makeSpread * makeSpread / (residual * residual)})
	}
	return out
}
