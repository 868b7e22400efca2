package shop

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/montanaflynn/stats"

	"skegworth/valuation"
)

// mostOfAKind is the largest rated power, in horsepower, by which a column of numbers is taken for
// powers rather than prices or hours.
const mostOfAKind = 450

// columnsByContent tells the columns of rows without headings by what stands in them; nil when the five
// that a sale needs cannot all be told. Only what is plain is named: a wrong guess would be worse than
// a column passed over, and the user sees the first rows before anything goes in.
func (s *Shop) columnsByContent(rows [][]string, width int) []string {
	names := make([]string, width)
	first := func(name string, fits func(cell string) bool) bool {
		for c := range width {
			if names[c] == "" && all(rows, c, fits) {
				names[c] = name
				return true
			}
		}
		return false
	}
	is := func(field string) func(string) bool {
		return func(cell string) bool { return new(valuation.Motor).Set(field, cell) == nil }
	}
	latest := s.Today().Year() + 1
	if !first("sold", dateLike) ||
		!first("year", func(cell string) bool { n, err := strconv.Atoi(cell); return err == nil && n >= 1920 && n <= latest }) ||
		!first("stroke", is("stroke")) {
		return nil
	}
	first("state", is("state"))
	if !s.priceAndPower(rows, names) {
		return nil
	}
	if first("make", wordy) {
		first("model", wordy)
	}
	return names
}

// priceAndPower names the column of the largest numbers the price, and the first of small ones the power.
func (s *Shop) priceAndPower(rows [][]string, names []string) bool {
	price, power, largest := -1, -1, 0.0
	for c := range names {
		var values stats.Float64Data
		if names[c] != "" || !all(rows, c, func(cell string) bool {
			a, err := s.currency.Parse(cell)
			values = append(values, s.currency.Float(a))
			return err == nil && a > 0
		}) {
			continue
		}
		middle, err := stats.Median(values)
		if err == nil && middle > largest {
			price, largest = c, middle
		}
	}
	for c := range names {
		if names[c] == "" && c != price && power < 0 && all(rows, c, func(cell string) bool {
			var m valuation.Motor
			return m.Set("power", cell) == nil && m.Power <= mostOfAKind
		}) {
			power = c
		}
	}
	if price < 0 || power < 0 {
		return false
	}
	names[price], names[power] = "price", "power"
	return true
}

// all tells whether every cell of a column that is not blank fits, and one is not blank.
func all(rows [][]string, column int, fits func(string) bool) bool {
	some := false
	for _, r := range rows {
		if column >= len(r) || r[column] == "" {
			continue
		}
		if !fits(r[column]) {
			return false
		}
		some = true
	}
	return some
}

// dateLike tells whether a cell is written as dates are: three runs of digits, or two and a word, of
// which one may be a year.
func dateLike(cell string) bool {
	var runs []int
	letters := 0
	last := ' '
	for _, r := range cell {
		switch {
		case r >= '0' && r <= '9' && last >= '0' && last <= '9':
			runs[len(runs)-1]++
		case r >= '0' && r <= '9':
			runs = append(runs, 1)
		case unicode.IsLetter(r):
			letters++
		}
		last = r
	}
	long := slices.ContainsFunc(runs, func(n int) bool { return n != 1 && n != 2 && n != 4 })
	switch len(runs) {
	case 3:
		return !long && letters == 0
	case 2:
		return !long && letters >= 3
	}
	return false
}

// wordy tells whether a cell begins with a letter, as names do and numbers do not.
func wordy(cell string) bool {
	return strings.IndexFunc(cell, unicode.IsLetter) == 0
}
