package intake

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
)

// TestHostileWorkbooks gives workbooks made or cut so as to break the reader: each is a clear error,
// or reads what is whole in it.
func TestHostileWorkbooks(t *testing.T) {
	good := bare(plainHeader+plainRow(2, "2024-01-02", "450", "15", "1990", "two"), "", "", "")
	with := func(name, content string) []byte {
		p := pieces{}
		for n, c := range good {
			p[n] = c
		}
		if p[name] = content; content == "" {
			delete(p, name)
		}
		return p.pack(t)
	}
	whole := good.pack(t)
	if b, err := Read(bytes.NewReader(whole), "a.xlsx", usual); err != nil || len(b.Rows) != 1 {
		t.Fatalf("the good workbook: %+v, %v", b, err)
	}
	sheet := "xl/worksheets/sheet1.xml"
	for _, c := range []struct {
		name string
		data []byte
		err  error // nil: read without error
	}{
		{"cut in half", whole[:len(whole)/2], ErrDamaged},
		{"cut by a byte", whole[:len(whole)-1], ErrDamaged},
		{"a byte turned", turned(whole), ErrDamaged},
		{"no workbook", with("xl/workbook.xml", ""), ErrNotTable},
		{"no sheet", with(sheet, ""), ErrEmpty},
		{"no relations", with("xl/_rels/workbook.xml.rels", ""), ErrEmpty},
		{"no texts and no styles", with("xl/styles.xml", ""), nil},
		{"a binary workbook", with("xl/workbook.bin", "x"), ErrNotTable},
		{"a sheet that is no XML", with(sheet, "sold,price"), ErrEmpty},
		{"a sheet cut off", with(sheet, strings.TrimSuffix(good[sheet], "</sheetData></worksheet>")+`<row r="3"><c t="inlineStr"><is><t>2024`), ErrDamaged},
		{"a row said twice", with(sheet, strings.Replace(good[sheet], `<row r="2">`, `<row r="1">`, 1)), ErrDamaged},
		{"rows backwards", with(sheet, strings.Replace(good[sheet], `</sheetData>`, plainRow(1, "x")+`</sheetData>`, 1)), ErrDamaged},
		{"a row past the last", with(sheet, strings.Replace(good[sheet], `</sheetData>`, plainRow(99999999, "x")+`</sheetData>`, 1)), ErrDamaged},
		{"the last row there is", with(sheet, strings.Replace(good[sheet], `</sheetData>`, plainRow(1048576, "2024-01-02", "450", "15", "1990", "two")+`</sheetData>`, 1)), nil},
		{"a cell address that is none", with(sheet, strings.Replace(good[sheet], `</sheetData>`, `<row r="3"><c r="ZZZZ3"><v>1</v></c></row></sheetData>`, 1)), ErrDamaged},
		{"styles out of range", with(sheet, strings.Replace(good[sheet], `</sheetData>`, `<row r="3"><c s="-9"><v>1</v></c><c s="999999"><v>1</v></c></row></sheetData>`, 1)), nil},
		{"every cell in the last column", with(sheet, strings.Replace(good[sheet], `</sheetData>`, lastColumn(5000)+`</sheetData>`, 1)), nil},
		{"more cells than a shop has", with(sheet, strings.Replace(good[sheet], `</sheetData>`, `<row r="3">`+strings.Repeat("<c/>", maxCells+1)+`</row></sheetData>`, 1)), ErrTooLarge},
		{"texts beyond the limit", with("xl/sharedStrings.xml", strings.Repeat(" ", maxTexts+1)), ErrTooLarge},
		{"a sheet beyond the limit", with(sheet, strings.Repeat(" ", maxUnzipped+1)), ErrTooLarge},
		{"relations beyond the limit", with("xl/_rels/workbook.xml.rels", strings.Repeat(" ", maxDirectory+1)), ErrTooLarge},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(bytes.NewReader(c.data), "a.xlsx", usual)
			if !errors.Is(err, c.err) {
				t.Errorf("%v, want %v", err, c.err)
			}
			if err != nil && strings.ContainsAny(err.Error(), "\n\x00") {
				t.Errorf("the error is not one line: %q", err)
			}
		})
	}
	many := pieces{"xl/workbook.xml": good["xl/workbook.xml"]}
	for i := range maxParts {
		many[fmt.Sprint("x", i)] = ""
	}
	if _, err := Read(bytes.NewReader(many.pack(t)), "a.xlsx", usual); !errors.Is(err, ErrTooLarge) {
		t.Errorf("too many parts: %v", err)
	}
}

// turned has one byte changed in the middle of the packed sheet.
func turned(data []byte) []byte {
	out := bytes.Clone(data)
	at := bytes.Index(out, []byte("xl/worksheets/sheet1.xml"))
	out[at+40] ^= 0x55
	return out
}

func lastColumn(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `<row r="%d"><c r="XFD%d"><v>1</v></c></row>`, i+3, i+3)
	}
	return b.String()
}

// One quote that is never closed costs one row, not the rest of the file.
func TestBrokenQuotesCostOneRow(t *testing.T) {
	row := "2025-01-02,450,15,1990,two,fine\n"
	s := "sold,price,power,year,stroke,note\n" + strings.Repeat(row, 50) + "2025-01-02,450,15,1990,two,\"not closed\n" + strings.Repeat(row, 500)
	b := must(t, s)
	if len(b.Rows) != 550 || len(b.Refused) != 1 || b.Refused[0].Line != 52 {
		t.Errorf("%d rows, refused %v", len(b.Rows), b.Refused)
	}
}

// A price with a comma, left without quotes, must not become another price.
func TestCellsThatSlip(t *testing.T) {
	b := must(t, "sold,price,power,year,stroke\n2025-01-02,1,450,15,1990,two\n2025-01-02,450,15,1990,two,,,\n")
	if len(b.Rows) != 1 || b.Rows[0].Line != 3 || len(b.Refused) != 1 {
		t.Errorf("read %+v", b)
	}
}

// TestHostileText gives text that is no list of sales, an eighth of a megabyte of each.
func TestHostileText(t *testing.T) {
	const header = "sold,price,power,year,stroke\n"
	fill := func(s string) string { return strings.Repeat(s, 1<<17/len(s)) }
	for _, c := range []struct {
		name, text string
		err        error
		refused    int
	}{
		{"quotes", header + fill("\""), nil, 1},
		{"lines of one quote", header + fill("\"\n"), ErrNoRows, 0}, // each two are a blank cell
		{"lines that open a quote", header + fill("\"aaaaaa\n"), nil, 16384},
		{"quotes that open and close across lines", header + fill("\"\n\",aaaa"), nil, 16384},
		{"separators", header + fill(","), nil, 1},
		{"line ends", header + fill("\n"), ErrNoRows, 0},
		{"line ends, and nothing else", fill("\r\n"), ErrEmpty, 0},
		{"blank rows", header + fill(" , ,\n"), ErrNoRows, 0},
		{"one letter", fill("x"), ErrNoHeader, 0},
		{"one heading", fill("sold,"), ErrNoHeader, 0},
		{"the heading over and over", fill(header), ErrNoRows, 0},
		{"marks of byte order", fill("\xff\xfe"), ErrEmpty, 0},
		{"a name that opens no door", header + fill("../../etc,"), nil, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, err := Read(strings.NewReader(c.text), "a.csv", usual)
			if !errors.Is(err, c.err) || len(b.Rows) != 0 || len(b.Refused) != c.refused {
				t.Errorf("%v, %d rows, %d refused; want %v, %d refused", err, len(b.Rows), len(b.Refused), c.err, c.refused)
			}
		})
	}
}
