package shop

import (
	"strings"
	"testing"

	"skegworth/valuation"
)

func TestTenthsInWords(t *testing.T) {
	for _, c := range []struct {
		what        string
		bins        [10]int
		above       int
		words, says string
		warned      bool
	}{
		{"nothing", [10]int{}, 0, "", "", false},
		{"even", [10]int{6, 6, 6, 6, 6, 6, 6, 6, 6, 6}, 30, "tenths.right", "30 of 60 above the middle", false},
		{"few", [10]int{1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, 5, "tenths.right", "", true},
		{"prices above", [10]int{2, 2, 3, 4, 5, 7, 8, 10, 10, 9}, 44, "tenths.low", "Too many sales above their bands' middles, 44 of 60", false},
		{"prices below", [10]int{9, 10, 10, 8, 7, 5, 4, 3, 2, 2}, 16, "tenths.high", "16 of 60", false},
		{"at the ends", [10]int{14, 5, 4, 4, 3, 3, 4, 4, 5, 14}, 30, "tenths.narrow", "28 of 60: the bands are too narrow", false},
		{"in the middle", [10]int{1, 4, 7, 9, 9, 9, 9, 7, 4, 1}, 30, "tenths.wide", "2 of 60", false},
		{"above and at the ends", [10]int{8, 2, 2, 2, 2, 4, 6, 6, 8, 20}, 44, "tenths.low-narrow", "too narrow", false},
		{"below and at the ends", [10]int{20, 8, 6, 6, 4, 2, 2, 2, 2, 8}, 16, "tenths.high-narrow", "too narrow", false},
	} {
		tenths := valuation.Tenths{Bins: c.bins, Above: c.above}
		for _, n := range c.bins {
			tenths.Count += n
		}
		a := tenthsAnswer(tenths)
		if a.Words.Key != c.words || !strings.Contains(a.Words.String(), c.says) || a.Warning.Empty() == c.warned {
			t.Errorf("%s: %q, warned %q", c.what, a.Words, a.Warning)
		}
		if least, most := tenths.ByChance(); a.Least != least || a.Most != most {
			t.Errorf("%s: chance gives %d to %d", c.what, a.Least, a.Most)
		}
	}
}
