package intake

import (
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/xuri/excelize/v2"

	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// The serial numbers of days that a spreadsheet date may have: 1927 to 2119 by the count from 1900.
// What lies outside is a year, a price or a slip.
const firstSerial, lastSerial = 10_000, 80_000

// The years a date may lie in; a year such as 202 or 20226 is a slip of the key.
const FirstYear, LastYear = 1900, 2199

// longestDate is how long the text of a date may be, in bytes: looking through a cell as long as cells may be
// for the words of a date takes thousands of times as long as reading one.
const longestDate = 200

// written is a date as read from one cell. Where the figures leave open which is the day and which the
// month, day is 0 and the order of the column decides.
type written struct {
	day   day.Day
	a, b  int // the first two figures, day and month in some order
	year  int
	given string
}

// open tells whether the order is not settled by the way the date is written.
func (w written) open() bool { return w.day == 0 }

// in is the day with its order settled.
func (w written) in(o order) (day.Day, bool) {
	if !w.open() {
		return w.day, true
	}
	d, m := w.a, w.b
	if o == monthFirst {
		d, m = m, d
	}
	if w.year < FirstYear || w.year > LastYear || !day.Valid(w.year, time.Month(m), d) {
		return 0, false
	}
	return day.Of(w.year, time.Month(m), d), true
}

// readDate reads one cell as a date; count1904 says from when the workbook counts days. Why is empty
// when it could be read.
func readDate(c cell, count1904 bool) (w written, why say.Sentence) {
	w.given = c.text
	switch c.kind {
	case fault, unworked:
		return w, faulty(c)
	case truth:
		return w, notADate(c.text)
	case dated:
		return serial(w, c.text, count1904)
	}
	if len(c.text) > longestDate {
		return w, notADate(c.text)
	}
	t := strings.ToLower(withoutClock(c.text))
	if v, err := strconv.ParseFloat(t, 64); err == nil && strings.Trim(t, "0123456789.") == "" && strings.Count(t, ".") < 2 {
		switch {
		case len(t) == 8 && !strings.Contains(t, "."): // 20260430
			return whole(w, int(v)/10000, int(v)/100%100, int(v)%100)
		case v >= firstSerial && v < lastSerial:
			return serial(w, t, count1904)
		}
		return w, notADate(c.text)
	}
	return parts(w, t)
}

// parts reads a date written as figures and words.
func parts(w written, t string) (written, say.Sentence) {
	var figures, lengths []int
	month := 0
	for _, word := range runs(t) {
		if word[0] >= '0' && word[0] <= '9' {
			n, err := strconv.Atoi(word)
			if err != nil || len(word) > 4 {
				return w, notADate(w.given)
			}
			figures, lengths = append(figures, n), append(lengths, len(word))
			continue
		}
		word = fold(word)
		switch m := monthOf(word); {
		case m != 0 && month == 0:
			month = m
		case m != 0 && m == month: // "mar. 5 mars": a Tuesday in March
		case !filler(word):
			return w, notADate(w.given)
		}
	}
	yearAt := len(figures) - 1
	switch {
	case month != 0 && len(figures) != 2, month == 0 && len(figures) != 3:
		return w, notADate(w.given)
	case lengths[0] == 4:
		yearAt = 0
	case lengths[yearAt] <= 2:
		figures[yearAt] = century(figures[yearAt])
	}
	year := figures[yearAt]
	switch {
	case month != 0:
		return whole(w, year, month, figures[1-yearAt])
	case yearAt == 0: // 2026-04-30, 2026/4/30
		return whole(w, year, figures[1], figures[2])
	}
	w.a, w.b, w.year = figures[0], figures[1], year
	_, dayFirstFits := w.in(dayFirst)
	_, monthFirstFits := w.in(monthFirst)
	if !dayFirstFits && !monthFirstFits {
		return w, noSuchDay(w)
	}
	return w, say.Sentence{}
}

// runs cuts a text into runs of digits and runs of letters, leaving out all else: 30-Apr-24, 1st, 30.4.
func runs(t string) []string {
	class := func(r rune) int {
		switch {
		case r >= '0' && r <= '9':
			return 1
		case unicode.IsLetter(r) || unicode.Is(unicode.Mn, r):
			return 2
		}
		return 0
	}
	var out []string
	start, last := 0, 0
	for i, r := range t {
		if c := class(r); c != last {
			if last != 0 {
				out = append(out, t[start:i])
			}
			start, last = i, c
		}
	}
	if last != 0 {
		out = append(out, t[start:])
	}
	return out
}

func whole(w written, year, month, dayOfMonth int) (written, say.Sentence) {
	w.year = year
	if year < FirstYear || year > LastYear || !day.Valid(year, time.Month(month), dayOfMonth) {
		return w, noSuchDay(w)
	}
	w.day = day.Of(year, time.Month(month), dayOfMonth)
	return w, say.Sentence{}
}

// serial reads the number by which spreadsheets store a day.
func serial(w written, text string, count1904 bool) (written, say.Sentence) {
	v, err := strconv.ParseFloat(text, 64)
	least := float64(firstSerial)
	if count1904 {
		least -= 1462 // days from one count to the other
	}
	if err != nil || !(v >= least && v < lastSerial) {
		return w, notADate(w.given)
	}
	t, err := excelize.ExcelDateToTime(math.Floor(v), count1904)
	if err != nil {
		return w, notADate(w.given)
	}
	w.day = day.FromTime(t)
	return w, say.Sentence{}
}

// century places a year of two digits as POSIX does (strptime, %y): 69 to 99 in the last century.
func century(n int) int {
	if n >= 69 {
		return 1900 + n
	}
	return 2000 + n
}

// withoutClock takes a time of day off: 2026-04-30T10:15:00Z, 30/04/2026 2:15 PM.
func withoutClock(s string) string {
	if len(s) > 11 && (s[10] == 'T' || s[10] == 't') && s[4] == '-' && s[7] == '-' {
		return s[:10]
	}
	fields := strings.Fields(s)
	for i, f := range fields {
		if i > 0 && strings.Contains(f, ":") {
			return strings.Join(fields[:i], " ")
		}
	}
	return s
}

// filler tells whether a word may stand in a date and say nothing: "30 de abril de 2026", "Thu", 1st.
func filler(word string) bool {
	switch word {
	case "de", "del", "of", "the", "den", "le", "am", "di", "do", "st", "nd", "rd", "th", "er", "o", "a":
		return true
	}
	for _, weekday := range []string{
		"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday",
		"lunes", "martes", "miercoles", "jueves", "viernes", "sabado", "domingo",
		"montag", "dienstag", "mittwoch", "donnerstag", "freitag", "samstag", "sonntag", "sonnabend",
		"lundi", "mardi", "mercredi", "jeudi", "vendredi", "samedi", "dimanche",
	} {
		if len(word) >= 2 && strings.HasPrefix(weekday, word) {
			return true
		}
	}
	return false
}

func notADate(given string) say.Sentence {
	if given == "" {
		return say.New("intake.date.missing", "the date is missing")
	}
	return say.New("intake.date", "{{.Given}} is not a date with day, month and year", "Given", strconv.Quote(short(given)))
}

func noSuchDay(w written) say.Sentence {
	if w.year != 0 && (w.year < FirstYear || w.year > LastYear) {
		return say.New("intake.date.year", "the year of {{.Given}} is not from {{.First}} to {{.Last}}",
			"Given", short(w.given), "First", strconv.Itoa(FirstYear), "Last", strconv.Itoa(LastYear))
	}
	return say.New("intake.date.nosuch", "there is no {{.Given}} in the calendar", "Given", short(w.given))
}
