package csvfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestGuard(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""}, {"impeller, 9.9", "impeller, 9.9"}, {"=1+1", "'=1+1"}, {"+1", "'+1"}, {"-2", "'-2"}, {"@SUM(A1)", "'@SUM(A1)"},
		{"\t=1", "'\t=1"}, {"\r=1", `'\r=1`}, {"\n=1", `'\n=1`}, {"'=1", "''=1"}, {"＝1+1", "'＝1+1"}, {"12'", "12'"},
		{"two\nlines", `two\nlines`}, {`C:\new`, `C:\\new`}, {"a\r\nb", `a\r\nb`}, {"été", "été"},
	} {
		if got := Guard(c.in); got != c.want {
			t.Errorf("%q is kept as %q, want %q", c.in, got, c.want)
		}
		if got, err := Bare(c.want); err != nil || got != c.in {
			t.Errorf("%q comes back as %q (%v), want %q", c.want, got, err, c.in)
		}
	}
	for _, cell := range []string{"=1+1", "'plain", `a\b`, `trailing\`, "two\nlines", "plain\r"} {
		if got, err := Bare(cell); !errors.Is(err, ErrNotGuarded) {
			t.Errorf("%q was taken for %q (%v)", cell, got, err)
		}
	}
}

// TestEveryTextComesBack writes any rows, reads them back exactly, and lets no cell start a formula.
func TestEveryTextComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wide := rapid.IntRange(2, 5).Draw(t, "cells")
		rows := rapid.SliceOf(rapid.SliceOfN(rapid.OneOf(rapid.String(),
			rapid.SampledFrom([]string{"=1", "'", `"`, "\r\n", "a,b", `\n`, `\`, " ", "\ufeff", "-", "＋1"})), wide, wide)).Draw(t, "rows")
		var out bytes.Buffer
		w := NewWriter(&out)
		for _, row := range rows {
			cells := make([]string, wide)
			for i, s := range row {
				cells[i] = Guard(s)
				if cells[i] != "" && strings.ContainsAny(cells[i][:1], "=+-@\t\r\n") {
					t.Fatalf("%q starts a formula", cells[i])
				}
			}
			if err := w.Row(cells); err != nil {
				t.Fatal(err)
			}
		}
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
		if lines := strings.Count(out.String(), "\r\n"); lines != len(rows) {
			t.Fatalf("%d rows became %d lines", len(rows), lines)
		}
		r := NewReader(bytes.NewReader(out.Bytes()), wide)
		for _, want := range rows {
			cells, err := r.Row()
			if err != nil {
				t.Fatal(err)
			}
			got := make([]string, wide)
			for i := range cells {
				if got[i], err = Bare(cells[i]); err != nil {
					t.Fatal(err)
				}
			}
			if !slices.Equal(got, want) {
				t.Fatalf("%q came back as %q", want, got)
			}
		}
		if _, err := r.Row(); err != io.EOF {
			t.Fatalf("after the last row: %v", err)
		}
	})
}

// endless is an opening quote and then text without an end.
type endless struct{ begun bool }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'a'
	}
	if !e.begun {
		p[0], e.begun = '"', true
	}
	return len(p), nil
}

func TestEndlessRowIsRefused(t *testing.T) {
	r := NewReader(&endless{}, 1)
	r.limit = 1 << 20
	if _, err := r.Row(); !errors.Is(err, ErrLong) {
		t.Errorf("a row without an end: %v", err)
	}
}

// FuzzBare: a cell either is refused or is exactly what Guard writes, except the mark of text that is empty.
func FuzzBare(f *testing.F) {
	for _, s := range []string{"", "'", "'=1", `\\n`, "a\nb"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, cell string) {
		s, err := Bare(cell)
		if err == nil && Guard(s) != cell && cell != "'" {
			t.Errorf("%q was taken for %q, which is written %q", cell, s, Guard(s))
		}
		if again, err := Bare(Guard(cell)); err != nil || again != cell {
			t.Errorf("%q came back as %q (%v)", cell, again, err)
		}
	})
}

// FuzzReader holds the reader to the standard library's on rows that both take.
func FuzzReader(f *testing.F) {
	f.Add("a,b\r\n\"c\",d\r\n")
	f.Add("\"a")
	f.Fuzz(func(t *testing.T, text string) {
		r := NewReader(strings.NewReader(text), 2)
		want := csv.NewReader(strings.NewReader(text))
		want.FieldsPerRecord = 2
		for {
			row, err := r.Row()
			other, wrong := want.Read()
			if (err == nil) != (wrong == nil) {
				t.Fatalf("%v, the library says %v", err, wrong)
			}
			if err != nil {
				return
			}
			if !slices.Equal(row, other) {
				t.Fatalf("%q, the library reads %q", row, other)
			}
		}
	})
}
