package intake

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

// save gives the bytes of a workbook.
func save(t testing.TB, f *excelize.File) []byte {
	t.Helper()
	b, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func put(t testing.TB, f *excelize.File, sheet string, row int, values ...any) {
	t.Helper()
	if err := f.SetSheetRow(sheet, fmt.Sprintf("A%d", row), &values); err != nil {
		t.Fatal(err)
	}
}

func style(t testing.TB, f *excelize.File, cell, format string) {
	t.Helper()
	id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellStyle("Sheet1", cell, cell, id); err != nil {
		t.Fatal(err)
	}
}

// what a workbook's rows are, without their fingerprints.
func rowsOf(t testing.TB, data []byte) (rows, refused []string) {
	t.Helper()
	b, err := Read(bytes.NewReader(data), "a.xlsx", usual)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range b.Rows {
		m := r.Record.Motor
		words := []string{r.Record.Sale.Sold.String(), usual.Currency.Plain(r.Record.Sale.Price), m.Text("power"), m.Text("year")}
		for _, more := range []string{m.Make, m.Model, m.Text("hours"), m.Text("propeller")} {
			if more != "" {
				words = append(words, more)
			}
		}
		rows = append(rows, fmt.Sprintf("%d: %s", r.Line, strings.Join(words, " ")))
	}
	for _, r := range b.Refused {
		refused = append(refused, r.String())
	}
	return rows, refused
}

func TestWorkbookCells(t *testing.T) {
	f := excelize.NewFile()
	put(t, f, "Sheet1", 1, "Sold", "Price", "HP", "Year", "Stroke", "Make", "Model", "Hours", "Prop")
	april := time.Date(2026, time.April, 30, 0, 0, 0, 0, time.UTC)
	put(t, f, "Sheet1", 2, april, 1480.5, 90, 2003, "two", "Halvard")
	put(t, f, "Sheet1", 3, 46142, "1.480", 9.9, 2003.0, 2, "Halvard", nil, 120.25, true) // General, a price typed as text
	put(t, f, "Sheet1", 4, "2026-04-30", 1480.4999999999998, "67 kW", "2003", "four", "Halvard", 90, nil, false)
	put(t, f, "Sheet1", 6, 46142, 46142, 90, 2003, "two") // a price that became a date
	style(t, f, "B6", `d\.m\.yyyy`)
	put(t, f, "Sheet1", 7, 46142, 640, 90, 37622, "two") // a year that is the day 2003-01-01
	style(t, f, "E7", "General")
	style(t, f, "D7", "yyyy")
	put(t, f, "Sheet1", 8, 2026, 640, 90, 2003, "two")
	put(t, f, "Sheet1", 9, 46142, 640, 90, 2003, "two", "Halvard", 45543)
	style(t, f, "G9", "d-mmm")
	put(t, f, "Sheet1", 10, 20260430, 640, 90, 2003, "two")
	rows, refused := rowsOf(t, save(t, f))
	want := []string{
		"2: 2026-04-30 1480.50 90 2003 Halvard",
		"3: 2026-04-30 1480.00 9.9 2003 Halvard 120.25 yes",
		"4: 2026-04-30 1480.50 89.8485 2003 Halvard 90 no",
		"7: 2026-04-30 640.00 90 2003",
		"10: 2026-04-30 640.00 90 2003",
	}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Error(diff)
	}
	wantRefused := []string{"line 6: price: the spreadsheet has made a date", "line 8: sold: \"2026\" is not a date", "line 9: model: the spreadsheet has made a date"}
	if len(refused) != len(wantRefused) {
		t.Fatalf("refused %q", refused)
	}
	for i, w := range wantRefused {
		if !strings.HasPrefix(refused[i], w) {
			t.Errorf("%s, want %s", refused[i], w)
		}
	}
}

func TestWorkbookFormulas(t *testing.T) {
	f := excelize.NewFile()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range [][]any{
		{"sold", "price", "power", "year", "stroke", "note"},
		{excelize.Cell{Formula: "DATE(2026,4,30)", Value: 46142}, excelize.Cell{Formula: "1000+480.5", Value: 1480.5}, 90, 2003, excelize.Cell{Formula: `"tw"&"o"`, Value: "two"}},
		{46142, excelize.Cell{Formula: "1/0", Value: "#DIV/0!"}, 90, 2003, "two"},
		{46142, 640, 90, 2003, "two", "=not a formula"},
	} {
		if err := w.SetRow(fmt.Sprintf("A%d", i+1), row); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	rows, refused := rowsOf(t, save(t, f))
	if diff := cmp.Diff([]string{"2: 2026-04-30 1480.50 90 2003", "4: 2026-04-30 640.00 90 2003"}, rows); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{`line 3: price: "#DIV/0!" is not an amount of money`}, refused); diff != "" {
		t.Error(diff)
	}
}

// Cells written by hand: errors, formulas that nobody worked out, truths, ISO dates, rich and shared text.
func TestWorkbookByHand(t *testing.T) {
	sheet := plainHeader +
		`<row r="2"><c t="d"><v>2026-04-30T00:00:00</v></c><c><v>1.48E3</v></c><c t="s"><v>0</v></c><c><v>2003</v></c><c t="inlineStr"><is><r><t>tw</t></r><r><t>o</t></r></is></c></row>` +
		`<row><c s="1"><v>46142</v></c><c t="e"><v>#REF!</v></c><c><v>90</v></c><c><v>2003</v></c><c><v>2</v></c></row>` +
		`<row r="5"><c s="1"><v>46142</v></c><c><f>B2</f></c><c><v>90</v></c><c><v>2003</v></c><c><v>2</v></c></row>` +
		`<row r="7"><c r="A7" s="1"><v>46142</v></c><c r="B7"><v>640</v></c><c r="C7"><v>90</v></c><c r="D7"><v>2003</v></c><c r="E7"><v>2</v></c><c r="F7" s="1"/><c r="XFD7" s="1"/></row>` +
		`<row r="8"><c r="A8" s="1"><v>46142</v></c><c r="XFD8"><v>1</v></c></row>` +
		`<row r="9"><c r="A9"><v>46142</v></c><c r="B9"><v>1</v></c><c r="C9" t="s"><v>99</v></c><c r="D9"><v>2003</v></c><c r="E9"><v>2</v></c></row>`
	rows, refused := rowsOf(t, bare(sheet, `<si><t>90 hp</t></si>`, `<cellXfs><xf/><xf numFmtId="14"/></cellXfs>`, "").pack(t))
	if diff := cmp.Diff([]string{"2: 2026-04-30 1480.00 90 2003", "7: 2026-04-30 640.00 90 2003"}, rows); diff != "" {
		t.Error(diff)
	}
	want := []string{
		"line 3: price: the spreadsheet shows the error #REF! here",
		"line 5: price: the formula has no value stored with it; open the workbook in a spreadsheet, save it, and take it in again",
		"line 8: the row has more than 256 cells",
		"line 9: power: the rated power is needed, such as 90, or 67 kW",
	}
	if diff := cmp.Diff(want, refused); diff != "" {
		t.Error(diff)
	}
}

func TestWorkbookFrom1904(t *testing.T) {
	sheet := plainHeader + `<row r="2"><c s="1"><v>44680</v></c><c><v>640</v></c><c><v>90</v></c><c><v>2003</v></c><c><v>2</v></c></row>`
	for properties, want := range map[string]string{`date1904="1"`: "2: 2026-04-30 640.00 90 2003", `date1904="0"`: "2: 2022-04-29 640.00 90 2003"} {
		rows, refused := rowsOf(t, bare(sheet, "", `<cellXfs><xf/><xf numFmtId="14"/></cellXfs>`, properties).pack(t))
		if diff := cmp.Diff([]string{want}, rows); diff != "" {
			t.Error(properties, refused, diff)
		}
	}
}

func TestDateFormats(t *testing.T) {
	for code, want := range map[string]bool{
		"General": false, "0.00": false, "#,##0.00": false, `yyyy\-mm\-dd`: true, "d/m/yy": true, "[$-407]d. mmmm yyyy;@": true,
		"h:mm": false, "[h]:mm:ss": false, `0.0" days"`: false, `\d0`: false, "[Red]0": false, "_d0": false, "mmm-yy": true, "@": false, `0;"day "0`: false,
	} {
		if got := showsDate(code); got != want {
			t.Errorf("%s shows a date: %v", code, got)
		}
	}
	for id, want := range map[int]bool{0: false, 2: false, 14: true, 17: true, 18: false, 22: true, 45: false, 49: false} {
		if got := builtInDate(id); got != want {
			t.Errorf("format %d shows a date: %v", id, got)
		}
	}
}

func TestFirstSheetWithTheHeader(t *testing.T) {
	f := excelize.NewFile()
	put(t, f, "Sheet1", 1, "What I think of the trade")
	for _, name := range []string{"Empty", "2025", "2024"} {
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
	}
	put(t, f, "2025", 1, "Sales of 2025")
	put(t, f, "2025", 4, nil, "sold", "price", "power", "year", "stroke")
	put(t, f, "2025", 60, nil, "2025-01-02", 450, 15, 1990, "two", "an aside to the right of the table")
	put(t, f, "2024", 1, "sold", "price", "power", "year", "stroke")
	put(t, f, "2024", 2, "2024-01-02", 450, 15, 1990, "two")
	b, err := Read(bytes.NewReader(save(t, f)), "a.xlsx", usual)
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Rows) != 1 || b.Rows[0].Line != 60 || len(b.Refused) != 0 {
		t.Errorf("read %+v", b)
	}
	var said []string
	for _, n := range b.Notes {
		said = append(said, n.String())
	}
	want := []string{"The headings stand on line 4; what is above was passed over.", "The rows come from the sheet 2025."}
	if diff := cmp.Diff(want, said); diff != "" {
		t.Error(diff)
	}
}

// A workbook called .csv and a CSV called .xlsx are what they hold.
func TestNamesLie(t *testing.T) {
	f := excelize.NewFile()
	put(t, f, "Sheet1", 1, "sold", "price", "power", "year", "stroke")
	put(t, f, "Sheet1", 2, "2024-01-02", 450, 15, 1990, "two")
	for name, data := range map[string][]byte{"a.csv": save(t, f), "a.xlsx": []byte("sold,price,power,year,stroke\n2024-01-02,450,15,1990,two\n")} {
		if b, err := Read(bytes.NewReader(data), name, usual); err != nil || len(b.Rows) != 1 {
			t.Errorf("%s: %+v, %v", name, b, err)
		}
	}
}

func TestWorkbooksWithoutAHeader(t *testing.T) {
	f := excelize.NewFile()
	if _, err := Read(bytes.NewReader(save(t, f)), "a.xlsx", usual); !errors.Is(err, ErrEmpty) {
		t.Errorf("empty: %v", err)
	}
	put(t, f, "Sheet1", 1, "sold", "price", "power", "year")
	put(t, f, "Sheet1", 2, "2024-01-02", 450, 15, 1990)
	if _, err := Read(bytes.NewReader(save(t, f)), "a.xlsx", usual); !errors.Is(err, ErrNoColumns) || !strings.Contains(err.Error(), "stroke") {
		t.Errorf("no stroke: %v", err)
	}
	put(t, f, "Sheet1", 1, "sold", "price", "power", "year", "stroke")
	if err := f.RemoveRow("Sheet1", 2); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(bytes.NewReader(save(t, f)), "a.xlsx", usual); !errors.Is(err, ErrNoRows) {
		t.Errorf("header only: %v", err)
	}
}
