package picture

import (
	"math"
	"strconv"
	"time"

	"fyne.io/fyne/v2/lang"

	"skegworth/valuation/day"
)

// MonthName is the short name of a month in the user's language; "" for none.
func MonthName(m time.Month) string {
	switch m {
	case time.January:
		return lang.X("picture.month.1", "Jan")
	case time.February:
		return lang.X("picture.month.2", "Feb")
	case time.March:
		return lang.X("picture.month.3", "Mar")
	case time.April:
		return lang.X("picture.month.4", "Apr")
	case time.May:
		return lang.X("picture.month.5", "May")
	case time.June:
		return lang.X("picture.month.6", "Jun")
	case time.July:
		return lang.X("picture.month.7", "Jul")
	case time.August:
		return lang.X("picture.month.8", "Aug")
	case time.September:
		return lang.X("picture.month.9", "Sep")
	case time.October:
		return lang.X("picture.month.10", "Oct")
	case time.November:
		return lang.X("picture.month.11", "Nov")
	case time.December:
		return lang.X("picture.month.12", "Dec")
	}
	return ""
}

// dayText is a day with its month as a word; "" for no day.
func dayText(d day.Day) string {
	if d == 0 {
		return ""
	}
	return lang.X("picture.day", "{{.Day}} {{.Month}} {{.Year}}", map[string]any{
		"Day": strconv.Itoa(d.Time().Day()), "Month": MonthName(d.Month()), "Year": strconv.Itoa(d.Year())})
}

// percent is a share as people write it: 79 %.
func percent(share float64) string {
	return lang.X("picture.percent", "{{.Percent}} %", map[string]any{"Percent": strconv.Itoa(int(math.Round(share * 100)))})
}

// figure is a number without needless noughts.
func figure(v float64, digits int) string {
	p := math.Pow10(digits)
	return strconv.FormatFloat(math.Round(v*p)/p, 'f', -1, 64)
}

// positive tells whether a number can stand on a logarithmic axis: above 0, and neither so small nor so
// large that no motor, price or multiplier of one could be meant.
func positive(all ...float64) bool {
	for _, v := range all {
		if !(v >= 1e-9 && v <= 1e20) {
			return false
		}
	}
	return true
}

// usable tells whether a number can be drawn.
func usable(all ...float64) bool {
	for _, v := range all {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
