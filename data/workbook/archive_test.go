package workbook

import (
	"archive/zip"
	"bytes"
	"errors"
	"math"
	"runtime/debug"
	"strings"
	"testing"
)

// Every part stands in the file once, and every sheet is there.
func TestEveryPartOnce(t *testing.T) {
	data := written(t, bookOf(t, exampleShop(t), 2026))
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	seen := make(map[string]bool)
	sheets := 0
	for _, f := range z.File {
		if seen[f.Name] {
			t.Errorf("%s stands there twice", f.Name)
		}
		seen[f.Name] = true
		if strings.HasPrefix(f.Name, "xl/worksheets/sheet") {
			sheets++
		}
	}
	f := opened(t, data)
	if n := len(f.GetSheetList()); sheets != n {
		t.Errorf("%d sheets are named, %d are there", n, sheets)
	}
	if f.GetActiveSheetIndex() != 0 {
		t.Errorf("it opens at sheet %d", f.GetActiveSheetIndex())
	}
}

// A disk that fills up, early or late, is told of.
func TestDiskFillsUp(t *testing.T) {
	in := bookOf(t, exampleShop(t), 2026)
	size := len(written(t, in))
	for _, room := range []int{10, size / 4, size / 2, size - 1000} {
		disk := filling(room)
		if err := Write(&disk, in); !errors.Is(err, errFull) {
			t.Errorf("with room for %d bytes of %d it says %v", room, size, err)
		}
	}
}

// filling is a disk with so much room left.
type filling int

func (f *filling) Write(p []byte) (int, error) {
	if len(p) > int(*f) {
		return 0, errFull
	}
	*f -= filling(len(p))
	return len(p), nil
}

// However many workbooks are written at once, memory is bounded as before when the last is done.
func TestThriftEnds(t *testing.T) {
	before := debug.SetMemoryLimit(-1)
	first, second := thrifty(), thrifty()
	if held := debug.SetMemoryLimit(-1); held >= before || held == math.MaxInt64 {
		t.Errorf("memory may grow to %d, as before to %d", held, before)
	}
	first()
	if debug.SetMemoryLimit(-1) == before {
		t.Error("the bound was lifted while another was being written")
	}
	second()
	if after := debug.SetMemoryLimit(-1); after != before {
		t.Errorf("memory may grow to %d afterwards, before to %d", after, before)
	}
}
