package workbook

import (
	"strings"
	"unicode"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// kind is what the figures of a column are, and so how they are written.
type kind int

const (
	words    kind = iota
	date          // a calendar day
	amount        // money, in units of the currency
	hours         // time worked, in hours
	whole         // a count
	measure       // a quantity with as many digits as it has
	share         // a part of one, shown in per cent
	estimate      // money that is not known to the cent, shown in whole units
	exact         // money whose nothing is written as nought
)

// cell is one cell: a value of one of the types that carry meaning, and for a derived figure also the
// formula that gives it. The value is then what the formula comes to, worked out in whole minor units, and
// is kept in the file for programs that do not reckon.
type cell struct {
	value   any // nil, string, day.Day, money.Amount, costing.Hours, int or float64
	formula string
}

// plain is the value as a spreadsheet keeps it: numbers in units of the currency, hours as decimals,
// days as dates, and text that can be nothing but text.
func (b *book) plain(boxed any) any {
	switch v := boxed.(type) {
	case nil:
		return nil
	case string:
		if v == "" {
			return nil
		}
		if cleared := harmless(v); cleared != v {
			return cleared
		}
		return boxed
	case day.Day:
		if v == 0 {
			return nil
		}
		return v.Time()
	case money.Amount:
		return b.Currency.Float(v)
	case costing.Hours:
		return v.Float()
	}
	return boxed
}

// longest text a cell holds: the format's limit is 32,767 UTF-16 units.
const longest = 16_000

// harmless is text fit for a cell. It is always written as a string, never as a formula, and its cell has
// the text format, so that a spreadsheet does not take it for a formula even when somebody edits it; what
// begins with = + - or @ needs no mark put before it. Control characters, which XML cannot hold, become
// blanks, and what is longer than a cell is cut with a sign that it was.
func harmless(s string) string {
	if len(s) <= longest && !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r > '~' }) {
		return s
	}
	s = strings.ToValidUTF8(s, "\uFFFD")
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\uFFFE' || r == '\uFFFF' {
			return ' '
		}
		return r
	}, s)
	if runes := []rune(s); len(runes) > longest {
		s = string(runes[:longest]) + " …"
	}
	return s
}

// dayOf is the day in a cell, 0 when it holds none.
func dayOf(v any) day.Day {
	d, _ := v.(day.Day)
	return d
}

// amounts is a sum known to be of money.
func amounts(v any) money.Amount {
	a, _ := v.(money.Amount)
	return a
}

// dayOrNone leaves a day that is not known blank.
func dayOrNone(d day.Day) any {
	if d == 0 {
		return nil
	}
	return d
}
