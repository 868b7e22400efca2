package workbook

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// reading prints every cell that holds anything, as openpyxl reads it: the values kept beside formulas.
const reading = `
import datetime, json, openpyxl, sys
book = openpyxl.load_workbook(sys.argv[1], data_only=True, read_only=False)
out = {}
for sheet in book:
    for row in sheet.iter_rows():
        for cell in row:
            v = cell.value
            if v is None: continue
            if isinstance(v, datetime.datetime): v = "day " + v.date().isoformat()
            out[sheet.title + " " + cell.coordinate] = v
print(json.dumps({"cells": out, "tables": sum(len(s.tables) for s in book), "charts": sum(len(s._charts) for s in book)}))
`

// TestASecondReaderReadsTheSame has openpyxl, a reader that shares nothing with the library we write with,
// read the workbook of the example shop, and compares every cell.
func TestASecondReaderReadsTheSame(t *testing.T) {
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import openpyxl").Run(); err != nil {
		t.Fatal("openpyxl is needed to read the workbook a second way: install the package python3-openpyxl")
	}
	data := written(t, bookOf(t, exampleShop(t), 2026))
	path := filepath.Join(t.TempDir(), "year.xlsx")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, "-c", reading, path).Output()
	if err != nil {
		t.Fatalf("openpyxl: %v", err)
	}
	var read struct {
		Cells          map[string]any
		Tables, Charts int
	}
	if err := json.Unmarshal(out, &read); err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, c := range cellsOf(t, opened(t, data)) {
		if c.value == "" {
			continue
		}
		got, ok := read.Cells[c.sheet+" "+c.cell]
		said := ""
		switch v := got.(type) {
		case string:
			said = v
			if len(v) == len("day 2026-11-25") && v[:4] == "day " {
				serial, _ := strconv.ParseFloat(c.value, 64)
				on, err := excelize.ExcelDateToTime(serial, false)
				if err != nil || on.Format(time.DateOnly) != v[4:] {
					t.Errorf("%s %s: %s is read as %s", c.sheet, c.cell, c.value, v)
				}
				compared++
				continue
			}
		case float64:
			said = strconv.FormatFloat(v, 'g', -1, 64)
		}
		compared++
		if !ok || !same(c.value, said) {
			t.Errorf("%s %s: %.60q is read as %.60v", c.sheet, c.cell, c.value, got)
		}
	}
	if compared < 3000 || read.Tables < 10 || read.Charts != 4 {
		t.Errorf("only %d cells, %d tables and %d charts were read", compared, read.Tables, read.Charts)
	}
}
