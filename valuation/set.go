package valuation

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"skegworth/valuation/say"
)

// KWPerPS: 1 metric horsepower (PS, cv) is 0.73549875 kW (NIST SP 811, appendix B.8).
const KWPerPS = 0.73549875

// KPaPerPSI: 1 pound-force per square inch is 6.894757 kPa (NIST SP 811, appendix B.8).
const KPaPerPSI = 6.894757

func setPower(m *Motor, text string, kW bool) error {
	q, ok := readQuantity(text)
	unit := q.unit
	if unit == "" && kW {
		unit = "kw"
	}
	hp := q.value
	switch unit {
	case "", "hp", "h.p", "bhp", "shp":
	case "kw", "kilowatt", "kilowatts":
		hp /= KWPerHP
	case "ps", "cv", "ch", "pk":
		hp *= KWPerPS / KWPerHP
	default:
		ok = false
	}
	if !ok {
		return &FieldError{"power", say.New("field.power.form", "\"{{.Given}}\" is not a power; write 90, 67 kW, 90 PS or about 90", "Given", clip(text))}
	}
	if hp != q.value {
		hp = math.Round(hp*1e4) / 1e4 // a converted rating has no more digits than this
	}
	if !(hp >= LeastPower && hp <= MostPower) {
		return powerRange(hp)
	}
	m.Power, m.PowerAbout = hp, q.about
	return nil
}

func setYear(m *Motor, text string, _ bool) error {
	q, ok := readQuantity(text)
	if !ok || q.unit != "" || q.value != math.Trunc(q.value) || math.Abs(q.value) > 1e6 {
		return &FieldError{"year", say.New("field.year.form", "\"{{.Given}}\" is not a year; write 2003 or about 2003", "Given", clip(text))}
	}
	if q.value < FirstYear || q.value > LastYear {
		return yearRange(int(q.value))
	}
	m.Year, m.YearAbout = int(q.value), q.about
	return nil
}

func setShaft(m *Motor, text string, _ bool) error {
	switch fold(text) {
	case "s", "short", "shortshaft", "corta", "corto":
		m.Shaft = 15
		return nil
	case "l", "long", "longshaft", "larga", "largo":
		m.Shaft = 20
		return nil
	case "xl", "x", "extralong", "extralongshaft", "extralarga", "extralargo":
		m.Shaft = 25
		return nil
	case "xxl", "ul", "ultralong", "extraextralong":
		m.Shaft = 30
		return nil
	}
	q, ok := readQuantity(text)
	inches := q.value
	switch q.unit {
	case "", "in", "inch", "inches", "\"", "″", "”", "''":
	case "cm":
		inches /= 2.54
	case "mm":
		inches /= 25.4
	default:
		ok = false
	}
	if !ok {
		return &FieldError{"shaft", say.New("field.shaft.form", "\"{{.Given}}\" is not a shaft length; write inches such as 20, a word such as long, or 508 mm", "Given", clip(text))}
	}
	if inches = math.Round(inches); !(inches >= LeastShaft && inches <= MostShaft) {
		return shaftRange(inches)
	}
	m.Shaft = int(inches)
	return nil
}

// thousandHours is one point before exactly three digits. An hour meter reads tenths, so nobody writes
// three decimals of an hour: the point is a thousands mark of those who write 1.200 for twelve hundred.
var thousandHours = regexp.MustCompile(`\b([1-9][0-9]{0,2})\.([0-9]{3})\b`)

func setHours(m *Motor, text string, _ bool) error {
	q, ok := readQuantity(thousandHours.ReplaceAllString(text, "$1$2"))
	switch q.unit {
	case "", "h", "hr", "hrs", "hour", "hours", "horas":
	default:
		ok = false
	}
	if !ok {
		return &FieldError{"hours", say.New("field.hours.form", "\"{{.Given}}\" is not a number of hours; write 120, or leave it empty when not known", "Given", clip(text))}
	}
	if !(q.value >= 0 && q.value <= MostHours) {
		return numberRange("hours", q.value, 0, MostHours)
	}
	m.Hours, m.HoursKnown = q.value, true
	return nil
}

func setLooks(m *Motor, text string, _ bool) error {
	q, ok := readQuantity(text)
	if strip := strings.ReplaceAll(q.unit, " ", ""); strip != "" && strip != "/5" && strip != "of5" {
		ok = false
	}
	if !ok || q.value != math.Trunc(q.value) || q.value < 1 || q.value > 5 {
		return &FieldError{"looks", say.New("field.looks.form", "\"{{.Given}}\" is not a step of looks; write a whole number from 1 to 5", "Given", clip(text))}
	}
	m.Looks = int(q.value)
	return nil
}

func setCylinders(m *Motor, text string, _ bool) error {
	q, ok := readQuantity(text)
	if (q.unit != "" && q.unit != "cyl" && q.unit != "cylinders") || !ok || q.value != math.Trunc(q.value) || math.Abs(q.value) > 1e6 {
		return &FieldError{"cylinders", say.New("field.cylinders.form", "\"{{.Given}}\" is not a number of cylinders; write a whole number such as 3", "Given", clip(text))}
	}
	if q.value < 1 || q.value > MostCylinders {
		return numberRange("cylinders", q.value, 1, MostCylinders)
	}
	m.Cylinders = int(q.value)
	return nil
}

// setCompression reads the cylinders' readings, parted by blanks, strokes, semicolons or, where none of
// those part them, commas; a unit may stand at the end.
func setCompression(m *Motor, text string, _ bool) error {
	refuse := func() error {
		return &FieldError{"compression", say.New("field.compression.form", "\"{{.Given}}\" is not a row of readings; write one per cylinder, such as 120 118 95, or 8.2 8.1 6.5 bar", "Given", clip(text))}
	}
	body, factor := strings.ToLower(strings.TrimSpace(text)), 1.0
	for _, unit := range []struct {
		name string
		psi  float64
	}{{"psi", 1}, {"bar", 100 / KPaPerPSI}, {"kpa", 1 / KPaPerPSI}} {
		if before, found := strings.CutSuffix(body, unit.name); found {
			body, factor = strings.TrimSpace(before), unit.psi
			break
		}
	}
	parts := strings.FieldsFunc(body, func(r rune) bool { return r == '/' || r == ';' || r == '|' || r == ' ' || r == '\t' || r == '\u00a0' })
	if len(parts) == 1 {
		parts = strings.Split(body, ",")
	}
	if len(parts) > MostCylinders {
		return &FieldError{"compression", say.New("field.compression.many", "{{.Given}} readings are more than the {{.Most}} cylinders that a motor can have", "Given", strconv.Itoa(len(parts)), "Most", strconv.Itoa(MostCylinders))}
	}
	readings := make([]float64, 0, len(parts))
	for _, part := range parts {
		q, ok := readQuantity(strings.TrimRight(part, ","))
		if !ok || q.unit != "" || q.about {
			return refuse()
		}
		psi := q.value
		if factor != 1 {
			psi = math.Round(psi*factor*100) / 100
		}
		if !(psi >= 0 && psi <= MostCompression) {
			return numberRange("compression", psi, 0, MostCompression)
		}
		readings = append(readings, psi)
	}
	if len(readings) == 0 {
		return refuse()
	}
	m.Compression = readings
	return nil
}

func setWarranty(m *Motor, text string, _ bool) error {
	q, ok := readQuantity(text)
	days := q.value
	switch q.unit {
	case "", "d", "day", "days", "dias":
	case "w", "week", "weeks":
		days *= 7
	case "month", "months":
		days *= 30
	case "y", "year", "years":
		days *= 365
	default:
		ok = false
	}
	if !ok || days != math.Trunc(days) {
		return &FieldError{"warranty", say.New("field.warranty.form", "\"{{.Given}}\" is not a number of days; write 30, or 3 months", "Given", clip(text))}
	}
	if days < 0 || days > MostWarranty {
		return numberRange("warranty", days, 0, MostWarranty)
	}
	m.WarrantyDays = int(days)
	return nil
}

func compressionText(m Motor) string {
	words := make([]string, len(m.Compression))
	for i, psi := range m.Compression {
		words[i] = strconv.FormatFloat(psi, 'f', -1, 64)
	}
	return strings.Join(words, " ")
}

// aboutText marks a number as a guess.
func aboutText(about bool, number string) string {
	if about && number != "" {
		return "about " + number
	}
	return number
}

// decimal writes a number with all its digits, "" for 0.
func decimal(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// whole writes a whole number, "" for 0.
func whole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}
