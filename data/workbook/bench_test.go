package workbook

import (
	"io"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"skegworth/testdata/largeshop"
)

// BenchmarkLarge writes the workbook of a shop with 10,000 motors and 200,000 lines; and beside it the same
// cells, laid out beforehand, by the library's own streaming alone, which is as quick as it can be.
func BenchmarkLarge(b *testing.B) {
	in := bookOf(b, largeshop.Contents(10_000, 20), 2026)
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			if err := Write(io.Discard, in); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("plain", func(b *testing.B) {
		sheets := plainCells(b, in)
		for b.Loop() {
			if err := writePlain(sheets); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// plainSheet is a sheet's cells, ready to be written.
type plainSheet struct {
	name string
	rows [][]any
}

// plainCells lays out every cell of the workbook with its value, formula and style.
func plainCells(t testing.TB, in Book) []plainSheet {
	w := &book{Book: in, file: excelize.NewFile(), styles: make(map[look]int)}
	defer w.file.Close()
	w.Say = in.sayer()
	sheets, _, err := w.sheets()
	if err != nil {
		t.Fatal(err)
	}
	var out []plainSheet
	for _, s := range sheets {
		p := plainSheet{name: s.name}
		put := func(cells []cell, kinds func(j int) look) {
			row := make([]any, len(cells))
			for j, c := range cells {
				id, err := w.style(kinds(j))
				if err != nil {
					t.Fatal(err)
				}
				row[j] = &excelize.Cell{StyleID: id, Value: w.plain(c.value), Formula: c.formula}
			}
			p.rows = append(p.rows, row)
		}
		few := func(rows []row) {
			for _, r := range rows {
				cells := make([]cell, len(r.cells))
				for j := range r.cells {
					cells[j] = r.cells[j].cell
				}
				put(cells, func(j int) look { return r.cells[j].look })
			}
		}
		few(s.rows)
		if t := s.table; t != nil {
			for i := range t.count {
				cells := make([]cell, len(t.columns))
				t.cells(i, cells)
				put(cells, func(j int) look { return lookIn(j, t.columns[j].kind, body) })
			}
		}
		few(s.below)
		out = append(out, p)
	}
	return out
}

func writePlain(sheets []plainSheet) error {
	f := excelize.NewFile()
	defer f.Close()
	for range 200 { // as many styles as the cells call for
		size := 8 + float64(len(f.GetSheetList()))
		if _, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Size: size}}); err != nil {
			return err
		}
	}
	for _, s := range sheets {
		if _, err := f.NewSheet(s.name); err != nil {
			return err
		}
		w, err := f.NewStreamWriter(s.name)
		if err != nil {
			return err
		}
		for i, row := range s.rows {
			if err := w.SetRow("A"+strconv.Itoa(i+1), row); err != nil {
				return err
			}
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	return f.Write(io.Discard)
}
