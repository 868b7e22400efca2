package intake

import (
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// split gives every row as number and cells, refused ones as their reason.
func split(s string, separator byte) []string {
	var out []string
	r := newSplitter(s, separator, 1)
	for {
		l, more := r.next()
		if !more {
			return out
		}
		if !l.broken.Empty() {
			out = append(out, fmt.Sprintf("%d %s", l.number, l.broken.Key))
			continue
		}
		var cells []string
		for _, c := range l.cells {
			cells = append(cells, c.text)
		}
		out = append(out, fmt.Sprintf("%d %q", l.number, cells))
	}
}

func TestSplit(t *testing.T) {
	long := strings.Repeat("x", MaxCell+1)
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"plain", "a,b\nc,d\n", []string{`1 ["a" "b"]`, `2 ["c" "d"]`}},
		{"no last line end", "a,b\r\nc,d", []string{`1 ["a" "b"]`, `2 ["c" "d"]`}},
		{"empty lines are counted, not given", "a\n\n\r\nb\n", []string{`1 ["a"]`, `4 ["b"]`}},
		{"a line of separators", ",,\n", []string{`1 ["" "" ""]`}},
		{"quotes", `"a,b","say ""hi""",c` + "\n", []string{`1 ["a,b" "say \"hi\"" "c"]`}},
		{"line breaks in quotes count", "\"a\nb\",c\nd\n", []string{`1 ["a\nb" "c"]`, `3 ["d"]`}},
		{"a quote within a plain cell", "12\" shaft,b\n", []string{`1 ["12\" shaft" "b"]`}},
		{"blanks about quotes", `"a" , "b"` + "\n", []string{`1 ["a" "b"]`}},
		{"a stray quote", "a,\"b\" c,d\ne,f\n", []string{"1 intake.stray", `2 ["e" "f"]`}},
		{"a quote never closed", "a,\"b\nc,d\ne,f\n", []string{"1 intake.unclosed", `2 ["c" "d"]`, `3 ["e" "f"]`}},
		{"a quote closed far below", "a,\"b\n" + strings.Repeat("c,d\n", maxSpan+1) + "e\",f\n", append(append([]string{"1 intake.unclosed"}, lines(2, maxSpan+1)...), `103 ["e\"" "f"]`)},
		{"a zero byte", "a,\x00\nb,c\n", []string{"1 intake.zero", `2 ["b" "c"]`}},
		{"a long cell", long + "\nb\n", []string{"1 intake.long", `2 ["b"]`}},
		{"a long cell in quotes", `"` + long + "\"\nb\n", []string{"1 intake.long", `2 ["b"]`}},
		{"many cells", strings.Repeat(",", MaxColumns) + "\nb\n", []string{"1 intake.wide", `2 ["b"]`}},
		{"what a spreadsheet wraps", "=\"0815\",'90,\ufeffx\u200b\n", []string{`1 ["0815" "90" "x"]`}},
		{"empty", "", nil},
		{"one quote", `"`, []string{"1 intake.unclosed"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, split(c.text, ',')); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func lines(from, n int) []string {
	var out []string
	for i := range n {
		out = append(out, fmt.Sprintf(`%d ["c" "d"]`, from+i))
	}
	return out
}

// The yardstick is the standard library's reader: what its writer writes, both cut alike.
func TestSplitAgreesWithTheStandardLibrary(t *testing.T) {
	piece := rapid.SampledFrom([]string{"a", "1,480.50", "1.480,50", "\"", "\"\"", "\n", ";", "\t", " ", "é", "12\" shaft", "x"})
	rapid.Check(t, func(t *rapid.T) {
		separator := rapid.SampledFrom(separators).Draw(t, "separator")
		rows := rapid.SliceOfN(rapid.SliceOfN(rapid.Map(rapid.SliceOfN(piece, 0, 4), func(p []string) string { return strings.Join(p, "") }), 2, 5), 1, 8).Draw(t, "rows")
		var b strings.Builder
		w := csv.NewWriter(&b)
		w.Comma, w.UseCRLF = rune(separator), rapid.Bool().Draw(t, "crlf")
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(strings.NewReader(b.String()))
		r.Comma, r.FieldsPerRecord = rune(separator), -1
		mine := newSplitter(b.String(), separator, 1)
		for {
			record, err := r.Read()
			l, more := mine.next()
			if (err == nil) != more {
				t.Fatalf("one reader has ended and the other not: %v, %v", err, more)
			}
			if !more {
				return
			}
			number, _ := r.FieldPos(0)
			if l.number != number || len(l.cells) != len(record) {
				t.Fatalf("line %d with %d cells, want line %d with %d", l.number, len(l.cells), number, len(record))
			}
			for i, s := range record {
				want := clean(s)
				if got := strings.ReplaceAll(l.cells[i].text, "\r\n", "\n"); got != want {
					t.Fatalf("cell %q, want %q", got, want)
				}
			}
		}
	})
}
