package valuation

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Comparable is one own sale carried to a motor: the price it would have brought had it been that motor,
// sold on that day. This is the sales comparison of appraisers, the adjustments being the market's.
type Comparable struct {
	Sale          Sale
	AdjustedPrice money.Amount
	Distance      float64        // how unlike it is, as the size of ln price that the differences may make
	Adjustments   []Adjustment   // Sale.Price and these add up to AdjustedPrice to the minor unit
	Differences   []say.Sentence // the same in words
}

// Adjustment is the money that one difference makes.
type Adjustment struct {
	Field           string       // the fact that differs, such as "looks"; "sold" is the day of the sale
	Theirs, Subject say.Sentence // what it was in the sale, and what it is now
	Factor          float64      // the multiplier of the price
	Money           money.Amount
}

// Comparables are the n own sales that are most like the motor, the nearest first. It returns none when
// the motor cannot be valued or nothing was sold.
func (m *Market) Comparables(mo Motor, on day.Day, n int) []Comparable {
	on, err := m.usable(mo, on)
	if err != nil || n <= 0 {
		return nil
	}
	subjectRow, _ := m.row(mo, on)
	near := make([]Comparable, len(m.sales))
	for i := range near {
		near[i] = Comparable{Sale: m.sales[i], Distance: m.distance(m.rows[i], subjectRow)}
	}
	slices.SortStableFunc(near, func(a, b Comparable) int {
		return cmp.Or(cmp.Compare(a.Distance, b.Distance), cmp.Compare(b.Sale.Sold, a.Sale.Sold))
	})
	near = near[:min(n, len(near))]
	for i := range near {
		m.adjust(&near[i], mo, on, subjectRow)
	}
	return near
}

// distance is how far ln prices of the two may lie apart for what differs between them: the root of the
// summed mean squares of each fact's effect. A fact of several columns, such as the age, counts once.
func (m *Market) distance(from, to []float64) float64 {
	sum := 0.0
	for _, f := range m.facts() {
		push, doubt := f.effect(from, to)
		sum += push*push + doubt*doubt
	}
	return math.Sqrt(sum)
}

// adjust carries the sale's price to the subject, one fact after another. Each line is the step between
// two rounded prices, so that the lines add up exactly. What differs only in what is typical of a motor
// where neither fact is known goes with the power, which is what decides it.
func (m *Market) adjust(c *Comparable, mo Motor, on day.Day, subjectRow []float64) {
	row, _ := m.row(c.Sale.Motor, c.Sale.Sold)
	pushes, order, carried := map[string]float64{}, []string{}, 0.0
	for _, f := range m.facts() {
		push, _ := f.effect(row, subjectRow)
		if push == 0 {
			continue
		}
		if m.bothUnknown(f.field, c.Sale.Motor, mo) {
			carried += push
			continue
		}
		pushes[f.field] = push
		order = append(order, f.field)
	}
	if carried != 0 {
		if pushes["power"] == 0 {
			order = append(order, "power")
		}
		pushes["power"] += carried
	}
	total, at := 0.0, c.Sale.Price
	for _, field := range order {
		total += pushes[field]
		next := c.Sale.Price.Times(math.Exp(total))
		a := Adjustment{Field: field, Factor: math.Exp(pushes[field]), Money: next - at,
			Theirs: describe(field, c.Sale.Motor, c.Sale.Sold), Subject: describe(field, mo, on)}
		c.Adjustments = append(c.Adjustments, a)
		c.Differences = append(c.Differences, m.difference(a))
		at = next
	}
	c.AdjustedPrice = at
}

func (m *Market) bothUnknown(field string, a, b Motor) bool {
	return field != soldField && a.Text(field) == "" && b.Text(field) == ""
}

// difference puts one line in words.
func (m *Market) difference(a Adjustment) say.Sentence {
	name := FieldLabel(a.Field)
	if a.Field == soldField {
		name = say.New("field.sold", "day of the sale")
	}
	return say.New("comparable.line", "{{.Fact}}: {{.Theirs}} there, {{.Subject}} here: {{.Money}}",
		"Fact", name, "Theirs", a.Theirs, "Subject", a.Subject, "Money", signed(m.options.Currency, a.Money))
}

// describe is a fact of a motor in words.
func describe(field string, mo Motor, on day.Day) say.Sentence {
	switch field {
	case soldField:
		return asWritten(on.String())
	case "power":
		return asWritten(aboutText(mo.PowerAbout, hp(mo.Power)) + " hp")
	case "stroke":
		return mo.Stroke.Label()
	case "state":
		return mo.State.Label()
	case "fuel":
		return mo.Fuel.Label()
	case "water":
		return mo.Water.Label()
	case "start":
		return mo.Start.Label()
	case "lift":
		return mo.Lift.Label()
	case "oil":
		return mo.Oil.Label()
	case "shaft":
		return ShaftLabel(mo.Shaft)
	case "warranty":
		return say.New("warranty.days", "{{.Days}} days", "Days", strconv.Itoa(mo.WarrantyDays))
	case "compression":
		if len(mo.Compression) > 0 {
			return asWritten(strings.ReplaceAll(mo.Text(field), " ", "/"))
		}
	}
	text := mo.Text(field)
	switch Answer(text) {
	case "", Yes, No:
		return Answer(text).Label()
	}
	return asWritten(text)
}

// signed writes an amount with its sign in front, to the minor unit.
func signed(c money.Currency, a money.Amount) string {
	if a < 0 {
		return "-" + c.Format(-a)
	}
	return "+" + c.Format(a)
}
