package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/language"

	"skegworth/testdata/largeshop"
	"skegworth/valuation/say"
)

// recalculating is a LibreOffice profile that works every formula out anew on loading, whatever values
// the file has beside them (0 is "always" of that setting).
const recalculating = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`

// recalculated gives each workbook as LibreOffice Calc saves it after working out every formula, by name.
func recalculated(t *testing.T, books map[string][]byte) map[string][]byte {
	t.Helper()
	soffice, err := exec.LookPath("soffice")
	if err != nil {
		t.Fatal("LibreOffice Calc is needed to check the workbook from outside: install the package libreoffice-calc-nogui (or libreoffice-calc)")
	}
	dir := t.TempDir()
	profile := filepath.Join(dir, "profile")
	if err := os.MkdirAll(filepath.Join(profile, "user"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(profile, "user", "registrymodifications.xcu"), []byte(recalculating), 0o600); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(dir, "out")
	args := []string{"-env:UserInstallation=file://" + profile, "--headless", "--norestore", "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", to}
	for name, data := range books {
		path := filepath.Join(dir, name+".xlsx")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	run := exec.Command(soffice, args...)
	run.Env = append(os.Environ(), "HOME="+dir)
	said, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("run LibreOffice: %v\n%s", err, said)
	}
	out := make(map[string][]byte)
	for name := range books {
		data, err := os.ReadFile(filepath.Join(to, name+".xlsx"))
		if err != nil {
			t.Fatalf("LibreOffice did not convert %s: %v\n%s", name, err, said)
		}
		out[name] = data
	}
	return out
}

// differences are the formula cells whose value beside the formula is not what LibreOffice works out, and
// those it works out to an error. compared counts the formulas.
func differences(t *testing.T, ours, theirs []byte) (apart []string, compared int) {
	t.Helper()
	f := opened(t, theirs)
	values := make(map[string]found)
	for _, c := range cellsOf(t, f) {
		values[c.sheet+" "+c.cell] = c
		if strings.HasPrefix(c.value, "#") && c.formula != "" || strings.HasPrefix(c.value, "Err:") {
			apart = append(apart, fmt.Sprintf("%s %s: an error, %s", c.sheet, c.cell, c.value))
		}
	}
	for _, c := range cellsOf(t, opened(t, ours)) {
		if c.formula == "" {
			continue
		}
		compared++
		got, ok := values[c.sheet+" "+c.cell]
		if !ok || got.formula == "" {
			apart = append(apart, fmt.Sprintf("%s %s: LibreOffice lost =%s", c.sheet, c.cell, c.formula))
		} else if !same(c.value, got.value) {
			apart = append(apart, fmt.Sprintf("%s %s: =%s is kept as %s and comes to %s", c.sheet, c.cell, c.formula, c.value, got.value))
		}
	}
	return apart, compared
}

// same tells whether two values are one: words letter by letter, numbers to the twelfth digit, or to a
// billionth where they are near nothing.
func same(a, b string) bool {
	x, errX := strconv.ParseFloat(a, 64)
	y, errY := strconv.ParseFloat(b, 64)
	if errX != nil || errY != nil {
		return a == b
	}
	return math.Abs(x-y) <= math.Max(1e-9, 1e-12*math.Max(math.Abs(x), math.Abs(y)))
}

// tampered is the workbook with another value beside the formula of one cell.
func tampered(t *testing.T, data []byte, part, cell, value string) []byte {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	changed := false
	for _, f := range archive.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if f.Name == part {
			text := string(content)
			from := strings.Index(text, `<c r="`+cell+`"`)
			end := from + strings.Index(text[from:], "</c>")
			v, shut := strings.Index(text[from:end], "<v>"), strings.Index(text[from:end], "</v>")
			if from < 0 || v < 0 || shut < 0 {
				t.Fatalf("%s of %s is no formula with a value", cell, part)
			}
			content = []byte(text[:from+v+3] + value + text[from+shut:])
			changed = true
		}
		p, err := w.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.Write(content); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if !changed {
		t.Fatalf("the workbook has no %s", part)
	}
	return out.Bytes()
}

// TestLibreOfficeAgrees has LibreOffice Calc work out every formula of several workbooks anew and holds
// each against the value kept beside it. That it really reckons is shown by a copy with one wrong value,
// which it must find, and nothing else.
func TestLibreOfficeAgrees(t *testing.T) {
	shop := exampleShop(t)
	books := map[string][]byte{
		"this-year": written(t, bookOf(t, shop, 2026)),
		"last-year": written(t, bookOf(t, shop, 2025)),
		"no-year":   written(t, bookOf(t, shop, 2019)),
		"empty":     written(t, bookOf(t, emptyShop(), 2026)),
		"nasty":     written(t, bookOf(t, nastyShop(), 2026)),
	}
	for code, tag := range map[string]language.Tag{"JPY": language.Japanese, "KWD": language.AmericanEnglish, "EUR": language.EuropeanSpanish} {
		foreign := shop
		foreign.Settings.Currency, foreign.Settings.Language, foreign.Settings.Volume = code, tag.String(), "L"
		books[code] = written(t, bookOf(t, foreign, 2026))
	}
	mute := bookOf(t, shop, 2026)
	mute.Say = func(say.Sentence) string { return "x" }
	books["mute"] = written(t, mute)
	total := fmt.Sprintf("V%d", 4+len(bookOf(t, shop, 2026).Review.Sold)) // of the profits before own time
	books["wrong"] = tampered(t, books["this-year"], "xl/worksheets/sheet4.xml", total, "1")
	books["large"] = written(t, bookOf(t, largeshop.Contents(400, 20), 2026))

	theirs := recalculated(t, books)
	for name := range books {
		apart, compared := differences(t, books[name], theirs[name])
		if name == "wrong" {
			if len(apart) != 1 || !strings.Contains(apart[0], "Motors "+total) {
				t.Errorf("a wrong value beside a total should be found, and it alone: %q", apart)
			}
			continue
		}
		least := 20
		switch name {
		case "this-year", "last-year":
			least = 500
		case "large":
			least = 15_000
		}
		if compared < least {
			t.Errorf("%s: only %d formulas", name, compared)
		}
		for _, a := range apart {
			t.Errorf("%s: %s", name, a)
		}
		t.Logf("%s: %d formulas agree", name, compared-len(apart))
	}
	checkNasty(t, opened(t, theirs["nasty"]))
}

// TestAChangeFlowsThrough changes one part's amount by hand in the file and has LibreOffice work everything
// out anew: the motor, the schedule, the year and the cover must differ by just that, and the checks must
// say so where they hold the year against what was written, and nowhere else.
func TestAChangeFlowsThrough(t *testing.T) {
	b := bookOf(t, exampleShop(t), 2026)
	f := opened(t, written(t, b))
	row := 0
	lines, err := f.GetRows("Lines", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	var was float64
	for i, r := range lines {
		if len(r) > 12 && r[10] == "parts" && r[12] == "Cost of sales" && r[11] == "Parts" {
			if formula, _ := f.GetCellFormula("Lines", fmt.Sprintf("J%d", i+1)); strings.HasPrefix(formula, "ROUND(G") && r[6] == "1" {
				row = i + 1
				was, err = strconv.ParseFloat(r[8], 64)
				if err != nil {
					t.Fatal(err)
				}
				break
			}
		}
	}
	if row == 0 {
		t.Fatal("no part was bought for a motor sold")
	}
	changed := tampered(t, written(t, b), "xl/worksheets/sheet6.xml", fmt.Sprintf("I%d", row), strconv.FormatFloat(was+100, 'f', 2, 64))
	after := opened(t, recalculated(t, map[string][]byte{"changed": changed})["changed"])
	for _, n := range f.GetDefinedName() {
		name, of := strings.CutPrefix(n.Name, "Year_")
		if !of {
			continue
		}
		want := map[string]float64{"parts": 100, "spent": 100, "cost_of_sales": 100, "left": 100,
			"gross_margin": -100, "before_own_time": -100, "after_own_time": -100}[name]
		if got := at(t, after, n.RefersTo) - at(t, f, n.RefersTo); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s moved by %v, want %v", name, got, want)
		}
	}
	for _, c := range []struct {
		sheet, head string
		by          float64
	}{{"Motors", "Parts", 100}, {"Motors", "Cost of sale", 100}, {"Motors", "Profit before own time", -100}} {
		if got := footed(t, after, c.sheet, c.head) - footed(t, f, c.sheet, c.head); math.Abs(got-c.by) > 1e-6 {
			t.Errorf("%s, %s moved by %v, want %v", c.sheet, c.head, got, c.by)
		}
	}
	checks, err := after.GetRows("Checks", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	differing := 0
	for _, r := range checks[3:] {
		written := strings.HasSuffix(r[5], "as the program wrote it")
		if r[4] == "differs" {
			differing++
			if !written {
				t.Errorf("%s: the two ways differ by %s", r[0], r[3])
			}
		}
	}
	if differing != 7 {
		t.Errorf("%d figures differ from what was written, want 7", differing)
	}
	if said := cover(t, after, "Checks"); said != "some differ: see the sheet Checks" {
		t.Errorf("the cover says of the checks: %s", said)
	}
	if said := cover(t, f, "Checks"); !strings.HasPrefix(said, "all ") {
		t.Errorf("before the change the cover says of the checks: %s", said)
	}
}

// cover reads a line of the cover.
func cover(t *testing.T, f *excelize.File, label string) string {
	t.Helper()
	rows, err := f.GetRows("Cover", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		if len(r) > 1 && r[0] == label {
			return r[1]
		}
	}
	t.Fatalf("the cover has no line %s", label)
	return ""
}
