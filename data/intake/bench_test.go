package intake

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

const benchRows = 100_000

func BenchmarkCSV(b *testing.B) {
	var s strings.Builder
	s.WriteString("sold,price,power,year,stroke,make,state,hours,note\n")
	for i := range benchRows {
		fmt.Fprintf(&s, "%02d/%02d/2024,\"$1,%03d.50\",%d,%d,two,Halvard,runs,%d,\"row, %d\"\n", i%12+1, i%28+1, i%1000, i%200+5, 1980+i%40, i%3000, i)
	}
	file := s.String()
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		batch, err := Read(strings.NewReader(file), "a.csv", usual)
		if err != nil || len(batch.Rows) != benchRows {
			b.Fatal(err, len(batch.Rows), batch.Refused[:1])
		}
	}
}

func BenchmarkWorkbook(b *testing.B) {
	f := excelize.NewFile()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		b.Fatal(err)
	}
	if err := w.SetRow("A1", []any{"sold", "price", "power", "year", "stroke", "make", "state", "hours", "note"}); err != nil {
		b.Fatal(err)
	}
	for i := range benchRows {
		if err := w.SetRow(fmt.Sprintf("A%d", i+2), []any{45000 + i%365, 1000.5 + float64(i%1000), i%200 + 5, 1980 + i%40, "two", "Halvard", "runs", i % 3000, fmt.Sprint("row ", i)}); err != nil {
			b.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	file := save(b, f)
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		batch, err := Read(bytes.NewReader(file), "a.xlsx", usual)
		if err != nil || len(batch.Rows) != benchRows {
			b.Fatal(err, len(batch.Rows))
		}
	}
}
