package intake

import (
	"bytes"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
)

// sound checks what must hold of anything that was read, whatever the file.
func sound(t *testing.T, data []byte, b Batch, err error) {
	t.Helper()
	if err != nil {
		known := false
		for _, e := range []error{ErrEmpty, ErrTooLarge, ErrNotTable, ErrDamaged, ErrNoHeader, ErrNoColumns, ErrNoRows, ErrOwn} {
			known = known || errors.Is(err, e)
		}
		if !known || len(b.Rows)+len(b.Refused) > 0 {
			t.Fatalf("%v, with %d rows", err, len(b.Rows))
		}
		if strings.ContainsAny(err.Error(), "\n\r\x00") {
			t.Fatalf("the error is not one line: %q", err)
		}
		return
	}
	last := 0
	for _, r := range b.Rows {
		s := r.Record.Sale
		if r.Line <= last || s.Price <= 0 || s.Sold == 0 || s.Sold > usual.Today+1 || r.Record.Stage != costing.History {
			t.Fatalf("line %d after %d: %+v", r.Line, last, s)
		}
		last = r.Line
		m := r.Record.Motor
		if err := m.CheckOn(s.Sold); err != nil || m.Power == 0 || m.Year == 0 || m.Stroke == "" {
			t.Fatalf("line %d: %v: %+v", r.Line, err, m)
		}
	}
	last = 0
	for _, r := range b.Refused {
		if r.Line <= last || r.Reason == "" || r.Reason != r.Why.String() || strings.ContainsAny(r.String(), "\n\r\x00") {
			t.Fatalf("refused %q after line %d", r, last)
		}
		last = r.Line
	}
	for _, n := range b.Notes {
		if s := n.String(); s == "" || strings.Contains(s, "{{") || strings.ContainsAny(s, "\n\r\x00") {
			t.Fatalf("the note %q", s)
		}
	}
	asGuessed := usual
	asGuessed.Layout = &b.Layout
	same, err := Read(bytes.NewReader(data), "told", asGuessed)
	if err != nil || !maps.Equal(prints(same), prints(b)) || len(same.Refused) != len(b.Refused) {
		t.Fatalf("told what was guessed: %d rows instead of %d, %v", len(same.Rows), len(b.Rows), err)
	}
	again, err := Read(bytes.NewReader(data), "again", usual)
	if err != nil || len(again.Rows) != len(b.Rows) {
		t.Fatalf("read again: %d rows instead of %d, %v", len(again.Rows), len(b.Rows), err)
	}
	seen := prints(b)
	for f, n := range prints(again) {
		if n != 1 || seen[f] != 1 {
			t.Fatalf("the fingerprint %s stands for %d and %d rows", f, seen[f], n)
		}
	}
}

func FuzzCSV(f *testing.F) {
	files, err := filepath.Glob("testdata/*.csv")
	if err != nil || len(files) == 0 {
		f.Fatal(files, err)
	}
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, s := range []string{
		"", "\n", "\"", "sep=;\n", "\ufeff", "\xff\xfe", "\xfe\xff\x00s", "PK\x03\x04", "sold,price,power,year,stroke\n",
		"sold,price,power,year,stroke\n2025-01-02,1.480,15,1990,two\n2025-01-02,\"1,480.5\",15,1990,2\n",
		"sold\tprice\tkW\tyear\t4-stroke\n4/5/25\t$1,480\t15\t1990\tyes\n13/4/25\t1480,5\t15 hp\t'90\tno\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := Read(bytes.NewReader(data), "a.csv", usual)
		sound(t, data, b, err)
		if _, _, err := ListMotors(bytes.NewReader(data), "a.csv", usual); err != nil && strings.Contains(err.Error(), "\n") {
			t.Fatal(err)
		}
	})
}

// FuzzWorkbook changes the parts of a workbook before they are packed: a changed zip would mostly fail
// its checksums and never reach the reader.
func FuzzWorkbook(f *testing.F) {
	good := bare("", "", "", "")
	sheet := func(rows string) string {
		return strings.Replace(good["xl/worksheets/sheet1.xml"], "<sheetData></sheetData>", "<sheetData>"+rows+"</sheetData>", 1)
	}
	texts, styles := good["xl/sharedStrings.xml"], good["xl/styles.xml"]
	workbook, relations := good["xl/workbook.xml"], good["xl/_rels/workbook.xml.rels"]
	f.Add(sheet(plainHeader+plainRow(2, "2024-01-02", "450", "15", "1990", "two")), texts, styles, workbook, relations)
	f.Add(sheet(plainHeader+`<row r="3"><c s="1"><v>46142</v></c><c><v>1480.5</v></c><c t="s"><v>0</v></c><c t="b"><v>1</v></c><c t="e"><v>#N/A</v></c></row>`),
		strings.Replace(texts, "</sst>", "<si><t>90 hp</t></si></sst>", 1), strings.Replace(styles, "</styleSheet>", `<numFmts><numFmt numFmtId="165" formatCode="d/m"/></numFmts><cellXfs><xf/><xf numFmtId="165"/></cellXfs></styleSheet>`, 1),
		strings.Replace(workbook, "<workbookPr ", `<workbookPr date1904="1" `, 1), relations)
	f.Add(sheet(`<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>`), "", "", workbook, relations)
	f.Add("<worksheet>", "<sst", "<styleSheet><cellXfs/>", "<workbook/>", "<Relationships/>")
	f.Fuzz(func(t *testing.T, sheet, texts, styles, workbook, relations string) {
		p := pieces{}
		for name, content := range good {
			p[name] = content
		}
		p["xl/worksheets/sheet1.xml"], p["xl/sharedStrings.xml"], p["xl/styles.xml"] = sheet, texts, styles
		p["xl/workbook.xml"], p["xl/_rels/workbook.xml.rels"] = workbook, relations
		data := p.pack(t)
		b, err := Read(bytes.NewReader(data), "a.xlsx", usual)
		sound(t, data, b, err)
	})
}

// FuzzZip gives the workbook's bytes themselves.
func FuzzZip(f *testing.F) {
	whole := bare(plainHeader+plainRow(2, "2024-01-02", "450", "15", "1990", "two"), "", "", "").pack(f)
	f.Add(whole)
	f.Add(whole[:len(whole)/2])
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := Read(bytes.NewReader(data), "a.xlsx", usual)
		sound(t, data, b, err)
	})
}
