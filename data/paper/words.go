package paper

import (
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// dated is a day as it is written, "" when it is not known.
func dated(d day.Day) string {
	if d == 0 {
		return ""
	}
	return d.String()
}

// priced is an amount to the last minor unit with the currency, "" for none.
func (s *sheet) priced(a money.Amount) string {
	if a == 0 {
		return ""
	}
	return s.Currency.Format(a) + " " + s.Currency.Code()
}

// estimated is an amount in whole units with the currency.
func (s *sheet) estimated(a money.Amount) string {
	return s.Currency.Whole(a) + " " + s.Currency.Code()
}

// power in the unit, "about" where it is.
func (s *sheet) power(m valuation.Motor, unit string) string {
	if m.Power <= 0 {
		return ""
	}
	p, digits := m.Power, -1
	if unit == "kW" {
		p, digits = p*valuation.KWPerHP, 1
	} else {
		unit = "hp"
		if p != float64(int(p)) {
			digits = 1
		}
	}
	text := strconv.FormatFloat(p, 'f', digits, 64) + " " + unit
	if m.PowerAbout {
		text = s.say(say.New("page.about", "about {{.What}}", "What", text))
	}
	if m.OldRating {
		text = s.say(say.New("page.powerhead-rating", "{{.Power}}, rated at the powerhead", "Power", text))
	}
	return text
}

func (s *sheet) year(m valuation.Motor) string {
	if m.Year <= 0 {
		return ""
	}
	text := strconv.Itoa(m.Year)
	if m.YearAbout {
		text = s.say(say.New("page.about", "about {{.What}}", "What", text))
	}
	return text
}

// known is a label, and "" where the word is not known.
func (s *sheet) known(word string, label say.Sentence) string {
	if word == "" {
		return ""
	}
	return s.say(label)
}

// described is the motor's facts as far as they are known, with how.
func (s *sheet) described(m valuation.Motor, powerUnit string) []fact {
	field := func(name, value string) fact {
		if value != "" && m.HowKnown[name] != "" {
			value = s.say(say.New("page.known-how", "{{.Fact}} ({{.How}})", "Fact", value, "How", m.HowKnown[name].Label()))
		}
		return fact{valuation.FieldLabel(name), value}
	}
	number := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	hours := s.say(say.New("page.hours-unknown", "not known"))
	if m.HoursKnown {
		hours = strconv.FormatFloat(m.Hours, 'f', -1, 64)
	}
	shaft, looks := "", ""
	if m.Shaft > 0 {
		shaft = s.say(valuation.ShaftLabel(m.Shaft))
	}
	if m.Looks > 0 {
		looks = s.say(valuation.LooksLabel(m.Looks))
	}
	return []fact{
		field("make", m.Make), field("model", m.Model), field("power", s.power(m, powerUnit)), field("year", s.year(m)),
		field("stroke", s.known(string(m.Stroke), m.Stroke.Label())), field("cylinders", number(m.Cylinders)),
		field("fuel", s.known(string(m.Fuel), m.Fuel.Label())), field("state", s.known(string(m.State), m.State.Label())),
		field("shaft", shaft), field("start", s.known(string(m.Start), m.Start.Label())),
		field("lift", s.known(string(m.Lift), m.Lift.Label())), field("steering", s.known(string(m.Steering), m.Steering.Label())),
		field("water", s.known(string(m.Water), m.Water.Label())), field("hours", hours),
		field("oil", s.known(string(m.Oil), m.Oil.Label())), field("looks", looks),
	}
}

// reading is the figures of a check with their unit: "118 121 119 psi, warm, gauge 2".
func (s *sheet) reading(c costing.Check, unit string) string {
	var words []string
	if len(c.Readings) > 0 {
		words = append(words, strings.TrimSpace(costing.WriteReadings(c.Trial, c.Readings, unit)+" "+unit))
	}
	if c.Verdict != "" {
		words = append(words, s.say(c.Verdict.Name()))
	}
	if c.Heat != "" {
		words = append(words, s.say(c.Heat.Name()))
	}
	switch c.Throttle {
	case valuation.Yes:
		words = append(words, s.say(say.New("page.throttle-open", "throttle open")))
	case valuation.No:
		words = append(words, s.say(say.New("page.throttle-shut", "throttle shut")))
	}
	if c.Gauge != "" {
		words = append(words, s.say(say.New("page.gauge", "gauge: {{.Gauge}}", "Gauge", clipped(c.Gauge, 60))))
	}
	if c.Minutes > 0 {
		words = append(words, s.say(say.New("page.minutes", "watched for {{.Minutes}} min", "Minutes", strconv.FormatFloat(c.Minutes, 'f', -1, 64))))
	}
	return strings.Join(words, ", ")
}

// listed joins what is not empty.
func listed(between string, all ...string) string {
	var out []string
	for _, a := range all {
		if strings.TrimSpace(a) != "" {
			out = append(out, a)
		}
	}
	return strings.Join(out, between)
}
