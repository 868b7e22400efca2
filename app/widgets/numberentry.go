package widgets

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2/lang"
)

// Number is a number that may be not known.
type Number struct {
	Value float64
	Known bool
}

// Known is a number that is known.
func Known(v float64) Number { return Number{v, true} }

// NumberEntry is a field for a plain number: hours, a quantity, a year. Left empty the number is not
// known. A point or a comma may stand before the decimals.
type NumberEntry struct {
	valued[Number]
	Least, Most float64 // refused beyond these; infinite unless set
	Digits      int     // decimals shown at most
	Whole       bool    // only whole numbers
}

// NewNumberEntry is an empty field that shows at most so many decimals.
func NewNumberEntry(digits int) *NumberEntry {
	n := &NumberEntry{Least: math.Inf(-1), Most: math.Inf(1), Digits: digits}
	n.startValue(n, n.parseNumber, n.formatNumber)
	return n
}

// NewYearEntry is an empty field for a year between two.
func NewYearEntry(least, most int) *NumberEntry {
	n := NewNumberEntry(0)
	n.Least, n.Most, n.Whole = float64(least), float64(most), true
	return n
}

func (n *NumberEntry) parseNumber(text string) (Number, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return Number{}, nil
	}
	v, err := ParseNumber(text)
	if err != nil {
		return Number{}, err
	}
	if n.Whole && v != math.Trunc(v) {
		return Number{}, errors.New(lang.X("entry.whole", "Write a whole number."))
	}
	if v < n.Least || v > n.Most {
		return Number{}, n.outOfRange()
	}
	return Known(v), nil
}

func (n *NumberEntry) outOfRange() error {
	low, high := n.formatNumber(Known(n.Least)), n.formatNumber(Known(n.Most))
	switch {
	case math.IsInf(n.Most, 1):
		return errors.New(lang.X("entry.least", "This must be {{.Least}} or more.", map[string]any{"Least": low}))
	case math.IsInf(n.Least, -1):
		return errors.New(lang.X("entry.most", "This must be {{.Most}} or less.", map[string]any{"Most": high}))
	}
	return errors.New(lang.X("entry.between", "This must be between {{.Least}} and {{.Most}}.",
		map[string]any{"Least": low, "Most": high}))
}

func (n *NumberEntry) formatNumber(v Number) string {
	if !v.Known {
		return ""
	}
	return FormatNumber(v.Value, n.Digits)
}

// ParseNumber reads a number with a point or a comma before the decimals. A comma before exactly three
// last digits, as in 1,200, is a thousands mark; so is a blank.
func ParseNumber(text string) (float64, error) {
	t := strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "", "'", "").Replace(strings.TrimSpace(text))
	if i := strings.LastIndexByte(t, ','); i >= 0 {
		thousands := len(t)-i-1 == 3 && strings.TrimLeft(t[:i], "-0") != "" || strings.Contains(t, ".")
		switch {
		case thousands:
			t = strings.ReplaceAll(t, ",", "")
		case strings.Count(t, ",") == 1:
			t = strings.Replace(t, ",", ".", 1)
		}
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) || strings.ContainsAny(t, "xXpPiInN_") {
		return 0, errors.New(lang.X("entry.number", "Write a number."))
	}
	return v, nil
}

// FormatNumber writes a number with at most so many decimals and no zeros after them.
func FormatNumber(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
