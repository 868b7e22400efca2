package workbook

import (
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
)

// nasty are texts that some spreadsheet somewhere has taken for more than text.
var nasty = []string{
	`=1+1`, `=HYPERLINK("http://example.com","click")`, `=cmd|' /C calc'!A0`, `+1+1`, `-2+3`, `@SUM(1+1)`, `=`, `'=1+1`, `"=1+1"`,
	"\t=1+1", "\r=1+1", "\n=1+1", ` =1+1`, `＝1+1`, `%0A=1+1`, `=1+1;`, `,=1+1`,
	`#REF!`, `TRUE`, `1e5`, `0123`, `2026-01-01`, `1/2`, `12%`, `$5`,
	`<v>1</v>`, `</t></is></c><c r="A1"><f>1+1</f></c>`, `&amp;`, `&#61;1+1`, `]]>`, `_x0041_`, `_x003D_1+1`,
	"a\x00b", "a\x0bb", "a\uFFFEb", "\xff\xfe", "two\nlines", "\u202e=1+1", "\ufeff=1+1", "emoji 🛥", strings.Repeat("long ", 8000),
}

// nastyShop has every nasty text in every place where a shop can write one.
func nastyShop() shopfile.Contents {
	c := emptyShop()
	c.Settings.ShopName = nasty[1] + " & sons"
	for i, text := range nasty {
		id := string(rune('a'+i/26)) + string(rune('a'+i%26))
		m := valuation.Motor{Make: text, Model: text, Power: 40, Year: 2005, Stroke: valuation.TwoStroke, State: valuation.Runs}
		sold := costing.Record{ID: "s" + id, Stage: costing.Sold, Motor: m, Tag: text, Note: text, BoughtOn: today - 90,
			Sale: &costing.Sale{Sold: today - 10, Price: 90000, Channel: text, Buyer: text, Note: text}}
		sold.Lines = []costing.Line{{ID: "l" + id, MotorID: sold.ID, Kind: costing.Purchase, On: today - 90, Text: text, Quantity: 1, Unit: text,
			Each: 40000, Total: 40000, Supplier: text}}
		sold.Sessions = []costing.Session{{ID: "w" + id, MotorID: sold.ID, On: today - 50, Time: 100, Task: text, Rate: 2000}}
		bench := costing.Record{ID: "b" + id, Stage: costing.Bench, Motor: m, Tag: text, BoughtOn: today - 5}
		out := costing.Record{ID: "h" + id, Stage: costing.History, Motor: m,
			Sale: &costing.Sale{Sold: today - 700, Price: 50000, Channel: text, LeftOut: true, LeftOutWhy: text}}
		c.Records = append(c.Records, sold, bench, out)
		good := costing.Good{ID: "g" + id, Name: text, Unit: text, Reorder: 1}
		c.Goods = append(c.Goods, good)
		c.Moves = append(c.Moves, costing.Move{ID: "m" + id, GoodID: good.ID, Kind: costing.Bought, On: today - 60, Quantity: 3, Cost: 999, Supplier: text})
	}
	return c
}

// checkNasty looks for every nasty text as plain text, and for formulas that are not ours.
func checkNasty(t *testing.T, f *excelize.File) {
	t.Helper()
	seen := make(map[string]bool)
	for _, c := range cellsOf(t, f) {
		seen[c.value] = true
		if c.formula != "" && !ourFormula(c.formula) {
			t.Errorf("%s %s holds the formula %q", c.sheet, c.cell, c.formula)
		}
	}
	for _, text := range nasty {
		if want := harmless(text); !seen[want] {
			t.Errorf("%.60q is not in the workbook as text", want)
		}
	}
}

// ourFormula tells whether a formula has only the words that ours have.
func ourFormula(s string) bool {
	for _, bad := range []string{"HYPERLINK", "cmd", "1+1", "2+3", "http", "|"} {
		if strings.Contains(s, bad) {
			return false
		}
	}
	return true
}

// TestTextStaysText: what people write is text in the file, in a cell whose format keeps it text when it
// is edited, whatever it begins with.
func TestTextStaysText(t *testing.T) {
	f := opened(t, written(t, bookOf(t, nastyShop(), 2026)))
	checkNasty(t, f)
	for _, c := range cellsOf(t, f) {
		for _, text := range nasty {
			if c.value != harmless(text) || c.formula != "" {
				continue
			}
			if c.kind != excelize.CellTypeInlineString && c.kind != excelize.CellTypeSharedString {
				t.Errorf("%s %s: %.40q is kept as kind %d", c.sheet, c.cell, c.value, c.kind)
			}
			id, err := f.GetCellStyle(c.sheet, c.cell)
			if err != nil {
				t.Fatal(err)
			}
			style, err := f.GetStyle(id)
			if err != nil {
				t.Fatal(err)
			}
			if style.CustomNumFmt == nil || *style.CustomNumFmt != "@" {
				t.Errorf("%s %s: %.40q is not in the text format", c.sheet, c.cell, c.value)
			}
		}
	}
}

func TestHarmless(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""}, {"=1+1", "=1+1"}, {"a\x00b", "a b"}, {"two\r\nlines", "two  lines"}, {"\xff", "\uFFFD"}, {"a\uFFFEb", "a b"}, {"impeller, 9.9", "impeller, 9.9"},
	} {
		if got := harmless(c.in); got != c.want {
			t.Errorf("%q became %q, want %q", c.in, got, c.want)
		}
	}
}

// FuzzText writes any text into a workbook and finds it again as text, cut where a cell ends.
func FuzzText(f *testing.F) {
	for _, text := range nasty {
		f.Add(text)
	}
	f.Add(`_x005F_x0041_`) // comes back from us whole; LibreOffice 7.4 saves it as _x005FA
	shop := emptyShop()
	f.Fuzz(func(t *testing.T, text string) {
		c := shop
		c.Settings.ShopName = text
		c.Records = []costing.Record{{ID: "x", Stage: costing.Bench, BoughtOn: today - 5, Tag: "tag " + text, Motor: valuation.Motor{Make: text}}}
		f := opened(t, written(t, bookOf(t, c, 2026)))
		got, err := f.GetCellValue("Stock", "B4")
		if err != nil {
			t.Fatal(err)
		}
		want := harmless("tag " + text)
		if got != want {
			t.Errorf("%q came back as %q", want, got)
		}
		if n := len(utf16.Encode([]rune(got))); n > excelize.TotalCellChars {
			t.Errorf("%d characters are more than a cell holds", n)
		}
		if formula, err := f.GetCellFormula("Stock", "A4"); err != nil || formula != "" {
			t.Errorf("%q became the formula %q (%v)", text, formula, err)
		}
	})
}
