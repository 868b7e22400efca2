package costing

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"skegworth/valuation/day"
)

// takeDay takes a day off the front or the end of the words: today, yesterday, 12 may, may 12, 12 may
// 2026, 2026-05-12. A day without its year is the last such day. Without one it is today.
func takeDay(words []string, today day.Day) (rest []string, on day.Day, err error) {
	for n := min(3, len(words)-1); n > 0; n-- {
		for _, from := range []int{len(words) - n, 0} {
			d, ok := dayOf(words[from:from+n], today)
			if !ok {
				continue
			}
			rest = slices.Concat(words[:from], words[from+n:])
			if from > 0 && len(rest) > 1 && strings.EqualFold(rest[len(rest)-1], "on") {
				rest = rest[:len(rest)-1]
			}
			if d > today {
				return nil, 0, fmt.Errorf("day: %s has not come yet", d)
			}
			return rest, d, nil
		}
	}
	return words, today, nil
}

// dayOf reads all of the words as one day.
func dayOf(words []string, today day.Day) (day.Day, bool) {
	switch len(words) {
	case 1:
		switch strings.ToLower(words[0]) {
		case "today":
			return today, true
		case "yesterday":
			return today - 1, true
		}
		if len(words[0]) != len("2026-05-12") {
			return 0, false
		}
		d, err := day.Parse(words[0])
		return d, err == nil && d != 0
	case 2, 3:
		month, number := monthOf(words[0]), words[1]
		if month == 0 {
			month, number = monthOf(words[1]), words[0]
		}
		n, err := strconv.Atoi(strings.TrimRight(strings.ToLower(number), "stndrh."))
		if month == 0 || err != nil || len(number) > 4 {
			return 0, false
		}
		if len(words) == 3 {
			year, err := strconv.Atoi(words[2])
			if err != nil || year < 1990 || year > today.Year()+1 || !day.Valid(year, month, n) {
				return 0, false
			}
			return day.Of(year, month, n), true
		}
		for year := today.Year(); year > today.Year()-9; year-- { // 29 February comes every four years, or eight
			if day.Valid(year, month, n) && day.Of(year, month, n) <= today {
				return day.Of(year, month, n), true
			}
		}
	}
	return 0, false
}

// monthOf is the month that a word names, in full or by three letters; 0 for none.
func monthOf(word string) time.Month {
	w := strings.ToLower(strings.TrimRight(word, "."))
	for m := time.January; m <= time.December; m++ {
		name := strings.ToLower(m.String())
		if w == name || w == name[:3] || (m == time.September && w == "sept") {
			return m
		}
	}
	return 0
}
