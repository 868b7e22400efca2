package valuation

import (
	"math"
	"slices"
	"strconv"
	"unicode"
	"unicode/utf8"

	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// Limits of what is taken for a fact about an outboard.
const (
	LeastPower, MostPower = 0.1, 1000 // hp
	FirstYear, LastYear   = 1900, 2100
	LeastShaft, MostShaft = 10, 40 // inches
	MostHours             = 100_000
	MostCylinders         = 12
	MostCompression       = 1000 // psi
	MostWarranty          = 3650 // days
	longestText           = 200  // characters
)

// Check tells whether every fact that is given is a known word or within range. What is not given is
// legal. The error is a [*FieldError].
func (m Motor) Check() error {
	for _, text := range []struct{ field, value string }{
		{"make", m.Make}, {"model", m.Model}, {"bracket-number", m.BracketNumber}, {"powerhead-number", m.PowerheadNumber},
	} {
		if !plainText(text.value) {
			return &FieldError{text.field, say.New("field.text", "this is not plain text of at most {{.Most}} characters", "Most", strconv.Itoa(longestText))}
		}
	}
	if m.Power != 0 && !(m.Power >= LeastPower && m.Power <= MostPower) {
		return powerRange(m.Power)
	}
	if m.Year != 0 && (m.Year < FirstYear || m.Year > LastYear) {
		return yearRange(m.Year)
	}
	if err := m.checkWords(); err != nil {
		return err
	}
	if m.Cylinders < 0 || m.Cylinders > MostCylinders {
		return numberRange("cylinders", float64(m.Cylinders), 1, MostCylinders)
	}
	if m.Shaft != 0 && (m.Shaft < LeastShaft || m.Shaft > MostShaft) {
		return shaftRange(float64(m.Shaft))
	}
	if m.HoursKnown && !(m.Hours >= 0 && m.Hours <= MostHours) {
		return numberRange("hours", m.Hours, 0, MostHours)
	}
	if m.Looks < 0 || m.Looks > 5 {
		return looksRange(m.Looks)
	}
	if len(m.Compression) > MostCylinders {
		return &FieldError{"compression", say.New("field.compression.many", "{{.Given}} readings are more than the {{.Most}} cylinders that a motor can have", "Given", strconv.Itoa(len(m.Compression)), "Most", strconv.Itoa(MostCylinders))}
	}
	for _, psi := range m.Compression {
		if !(psi >= 0 && psi <= MostCompression) {
			return numberRange("compression", psi, 0, MostCompression)
		}
	}
	if m.WarrantyDays < 0 || m.WarrantyDays > MostWarranty {
		return numberRange("warranty", float64(m.WarrantyDays), 0, MostWarranty)
	}
	return nil
}

// checkWords looks at the facts that are one word of a list.
func (m Motor) checkWords() error {
	for _, f := range fields {
		if f.choices == nil {
			continue
		}
		word := f.word(&m)
		if word != "" && !slices.Contains(f.choices, word) {
			return notAChoice(f, word)
		}
	}
	return nil
}

// Needed tells which of the four facts that a first band rests on is missing: power, year, stroke or
// state, in that order; nil when none is. The error is a [*FieldError].
func (m Motor) Needed() error {
	if err := m.needed(); err != nil {
		return err
	}
	if m.State == "" {
		return &FieldError{"state", say.New("field.state.needed", "the state is needed: parts, dead, runs, serviced or rebuilt")}
	}
	return nil
}

// needed is Needed without the state, which a band can do without at the cost of width.
func (m Motor) needed() error {
	switch {
	case m.Power == 0:
		return &FieldError{"power", say.New("field.power.needed", "the rated power is needed, such as 90, or 67 kW")}
	case m.Year == 0:
		return &FieldError{"year", say.New("field.year.needed", "the model year is needed, such as 2003")}
	case m.Stroke == "":
		return &FieldError{"stroke", say.New("field.stroke.needed", "the stroke is needed: two or four")}
	}
	return nil
}

// CheckOn is Check for a motor sold on a day: its model year may be at most the year after.
func (m Motor) CheckOn(on day.Day) error {
	if err := m.Check(); err != nil {
		return err
	}
	if on != 0 && m.Year > on.Year()+1 {
		return &FieldError{"year", say.New("field.year.future", "{{.Year}} is later than the year after the sale, {{.Next}}", "Year", strconv.Itoa(m.Year), "Next", strconv.Itoa(on.Year()+1))}
	}
	return nil
}

func plainText(s string) bool {
	if !utf8.ValidString(s) || utf8.RuneCountInString(s) > longestText {
		return false
	}
	for _, r := range s {
		if unicode.IsControl(r) {
			return false
		}
	}
	return true
}

func powerRange(hp float64) error {
	return &FieldError{"power", say.New("field.power.range", "{{.Given}} hp is not between {{.Least}} and {{.Most}} hp", "Given", short(hp), "Least", short(LeastPower), "Most", short(MostPower))}
}

func yearRange(year int) error {
	return &FieldError{"year", say.New("field.year.range", "{{.Given}} is not a year from {{.First}} to {{.Last}}", "Given", strconv.Itoa(year), "First", strconv.Itoa(FirstYear), "Last", strconv.Itoa(LastYear))}
}

func shaftRange(inches float64) error {
	return &FieldError{"shaft", say.New("field.shaft.range", "{{.Given}} in is not a length from {{.Least}} to {{.Most}} in", "Given", short(inches), "Least", strconv.Itoa(LeastShaft), "Most", strconv.Itoa(MostShaft))}
}

func looksRange(looks int) error {
	return &FieldError{"looks", say.New("field.looks.range", "{{.Given}} is not a step from 1 to 5", "Given", strconv.Itoa(looks))}
}

func numberRange(field string, given float64, least, most int) error {
	return &FieldError{field, say.New("field.range", "{{.Given}} is not between {{.Least}} and {{.Most}}", "Given", short(given), "Least", strconv.Itoa(least), "Most", strconv.Itoa(most))}
}

// short writes a number with the digits it has, three after the point at the most.
func short(v float64) string {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "?"
	case math.Abs(v) >= 1e9:
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}
