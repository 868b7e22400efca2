package intake

import (
	"fmt"
	"strings"
	"testing"

	"skegworth/valuation/money"
)

// TestAmounts gives whole columns of amounts and what becomes of each.
func TestAmounts(t *testing.T) {
	for _, c := range []struct {
		name     string
		currency string
		column   string // parted by |
		want     string
		notes    string
	}{
		{"point for fractions", "USD", "1,480.50|1,480|640", "1480.50 1480.00 640.00", "intake.money.settled"},
		{"comma for fractions", "USD", "1.480,50|1.480|640", "1480.50 1480.00 640.00", "intake.money.settled"},
		{"a lone fraction settles it", "USD", "1.480|99,5", "1480.00 99.50", "intake.money.settled"},
		{"against the column", "USD", "1,480.50|1.480", "1480.50 refused", "intake.money.refused"},
		{"against the column, comma", "EUR", "1.480,50|1,480", "1480.50 refused", "intake.money.refused"},
		{"three digits throughout", "USD", "1480.500|850.000|0.500", "1480.50 850.00 0.50", "intake.money.settled"},
		{"three digits with a point for thousands", "USD", "1,480.500|850.000|850,000", "1480.50 850.00 850000.00", "intake.money.settled"},
		{"nothing to tell", "USD", "1.480|2,150|900", "1480.00 2150.00 900.00", "intake.money.open"},
		{"thousands twice", "USD", "1.480.500|2.150", "1480500.00 2150.00", "intake.money.settled"},
		{"both ways", "USD", "1,480.50|1.480,50|1.480|2,150", "1480.50 1480.50 1480.00 2150.00", "intake.money.both"},
		{"what is no amount teaches nothing", "USD", "12.04.2025|1,480", "refused 1480.00", "intake.money.open"},
		{"three minor digits, open", "KWD", "1.480|2,150", "1.480 2.150", "intake.money.open"},
		{"three minor digits, settled", "KWD", "1,480.500|1.480|2,150", "1480.500 1.480 2150.000", "intake.money.settled"},
		{"three minor digits, both ways", "KWD", "1,480.500|1.480,500|2,150", "1480.500 1480.500 refused", "intake.money.refused"},
		{"no minor digits", "JPY", "¥21,500|150,000", "21500 150000", "intake.money.open"},
		{"signs", "USD", "$1480|1480 USD|US$ 1480|(20)|1480,-|1'480.50", "1480.00 1480.00 1480.00 -20.00 1480.00 1480.50", ""},
		{"a foreign sign is said", "USD", "€ 1480|1480 CHF", "1480.00 1480.00", "intake.money.foreign"},
		{"words", "USD", "call|1.5k|3 for 600|1400-1600|12%", "refused refused refused refused refused", ""},
		{"more digits than the currency has", "USD", "1480.505|12.3456", "refused refused", ""},
		{"not known", "USD", "-|n/a|?", "none none none", ""},
		{"far too large", "USD", "99999999999", "refused", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var lines []line
			for i, s := range strings.Split(c.column, "|") {
				lines = append(lines, line{number: i + 2, cells: []cell{{text: s}}})
			}
			r := &reckoning{field: price, money: money.Must(c.currency)}
			r.learn(lines, column{})
			var got, notes []string
			for _, l := range lines {
				a, known, why := r.read(l.at(0))
				switch {
				case !why.Empty():
					got = append(got, "refused")
				case !known:
					got = append(got, "none")
				default:
					got = append(got, r.money.Plain(a))
				}
			}
			for _, n := range r.notes() {
				notes = append(notes, n.Key)
			}
			if s := strings.Join(got, " "); s != c.want {
				t.Errorf("%s was read as %s, want %s", c.column, s, c.want)
			}
			if s := strings.Join(notes, " "); s != c.notes {
				t.Errorf("notes %v, want %s", r.notes(), c.notes)
			}
		})
	}
}

// A number of a workbook has a point and no thousands, whatever the rest of the column does.
func TestAmountsOfAWorkbook(t *testing.T) {
	r := &reckoning{field: price, money: money.Must("USD"), decimal: ','}
	for _, c := range []struct {
		cell cell
		want string
	}{
		{cell{"1480.5", number}, "148050"},
		{cell{"1.125", number}, "113"},
		{cell{"1480.4999999999998", number}, "148050"},
		{cell{"1.48E3", number}, "148000"},
		{cell{"1E+400", number}, "refused"},
		{cell{"NaN", number}, "refused"},
		{cell{"46142", dated}, "refused"},
		{cell{"1", truth}, "refused"},
		{cell{"#REF!", fault}, "refused"},
		{cell{"=", unworked}, "refused"},
	} {
		a, _, why := r.read(c.cell)
		got := fmt.Sprint(int64(a))
		if !why.Empty() {
			got = "refused"
		}
		if got != c.want {
			t.Errorf("%v was read as %s, want %s", c.cell, got, c.want)
		}
	}
}
