package shopfile

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"
)

// Whatever lies on a page, looking at it ends, and nothing is told of pages that are not there.
func TestSurveyOfNoise(t *testing.T) {
	path := filepath.Join(t.TempDir(), "noise")
	rapid.Check(t, func(t *rapid.T) {
		data := make([]byte, rapid.IntRange(1, 4*pageSize).Draw(t, "length"))
		for i, b := range rapid.SliceOfN(rapid.Byte(), 0, 200).Draw(t, "noise") {
			for at := i; at < len(data); at += 197 {
				data[at] = b
			}
		}
		// The looks of a b-tree, so that its cells are read too.
		for at := headerSize; at+12 < len(data); at = (at/pageSize + 1) * pageSize {
			data[at] = rapid.SampledFrom([]byte{indexBranch, tableBranch, indexLeaf, tableLeaf}).Draw(t, "kind")
			cells := rapid.IntRange(0, 20).Draw(t, "cells")
			binary.BigEndian.PutUint16(data[at+3:], uint16(cells))
			binary.BigEndian.PutUint16(data[at+5:], 200)
			for c := range cells {
				if p := at + 8 + 2*c; p+2 <= len(data) {
					binary.BigEndian.PutUint16(data[p:], uint16(rapid.IntRange(200, pageSize).Draw(t, "cell")))
				}
			}
		}
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := surveyOf(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, root := range s.own {
			if root < 0 || root > s.pages {
				t.Errorf("a root on page %d of %d", root, s.pages)
			}
		}
		for free := range s.free {
			if free < 2 || free > s.pages {
				t.Errorf("a free page %d of %d", free, s.pages)
			}
		}
	})
}

// A number as SQLite writes it: https://www.sqlite.org/fileformat2.html#varint
func TestVarint(t *testing.T) {
	for _, c := range []struct {
		in []byte
		v  uint64
		n  int
	}{
		{[]byte{0x07}, 7, 1},
		{[]byte{0x81, 0x00}, 128, 2},
		{[]byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff}, 1<<64 - 1, 9},
		{[]byte{0x81}, 0, 0},
		{nil, 0, 0},
	} {
		if v, n := varint(c.in); v != c.v || n != c.n {
			t.Errorf("% x is %d of %d bytes, want %d of %d", c.in, v, n, c.v, c.n)
		}
	}
}
