package workbook

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// TestNothingIsCutOff: every figure, as it is written, fits its column, or a spreadsheet shows ####.
func TestNothingIsCutOff(t *testing.T) {
	rich := exampleShop(t)
	rich.Records = slices.Clone(rich.Records)
	for i := range rich.Records {
		r := &rich.Records[i]
		if r.Sale != nil {
			sale := *r.Sale
			sale.Price *= 90_000
			r.Sale = &sale
		}
		r.SellerAsks *= 90_000
		r.Ask *= 90_000
	}
	foreign := exampleShop(t)
	foreign.Settings.Currency = "KWD"
	for name, shop := range map[string]shopfile.Contents{"example": exampleShop(t), "rich": rich, "KWD": foreign} {
		f := opened(t, written(t, bookOf(t, shop, 2026)))
		figures := 0
		for _, c := range cellsOf(t, f) {
			if _, err := strconv.ParseFloat(c.value, 64); err != nil || c.kind == excelize.CellTypeInlineString {
				continue
			}
			shown, err := f.GetCellValue(c.sheet, c.cell)
			if err != nil {
				t.Fatal(err)
			}
			width, err := f.GetColWidth(c.sheet, strings.TrimRight(c.cell, "0123456789"))
			if err != nil {
				t.Fatal(err)
			}
			figures++
			if long := utf8.RuneCountInString(shown); float64(long)+0.7 > width {
				t.Errorf("%s: %s %s shows %s in a column of %.1f", name, c.sheet, c.cell, shown, width)
			}
		}
		if figures < 1000 {
			t.Errorf("%s: only %d figures", name, figures)
		}
	}
}

// TestAnyLanguage: words that translate badly, even all to one, leave the figures as they are.
func TestAnyLanguage(t *testing.T) {
	b := bookOf(t, exampleShop(t), 2026)
	want := figure(t, opened(t, written(t, b)), "Profit before own time")
	for name, words := range map[string]func(say.Sentence) string{
		"one word":  func(say.Sentence) string { return "x" },
		"no word":   func(say.Sentence) string { return "" },
		"any":       func(s say.Sentence) string { return "*" + s.String() },
		"backwards": func(s say.Sentence) string { r := []rune(s.String()); slices.Reverse(r); return string(r) },
	} {
		b.Say = words
		f := opened(t, written(t, b))
		rows, err := f.GetRows("Year", excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(rows, func(row []string) bool { return len(row) > 1 && row[1] == strconv.FormatFloat(want, 'f', -1, 64) }) {
			t.Errorf("%s: the profit %v is not on the year's sheet", name, want)
		}
	}
}
