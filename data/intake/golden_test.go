package intake

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

var update = flag.Bool("update", false, "write what is read now into testdata/*.want, to be looked at before it is kept")

// usual is the shop most tests stand in.
var usual = Options{Currency: money.Must("USD"), Language: "en-US", Today: day.Of(2026, time.November, 25)}

// TestGolden reads each file of testdata and compares all that came of it with the .want file beside
// it, which was written by this test and read by eye.
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/*.*")
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for _, path := range files {
		if ext := filepath.Ext(path); ext == ".want" || ext == ".md" {
			continue
		}
		read++
		t.Run(filepath.Base(path), func(t *testing.T) {
			var got string
			if strings.HasPrefix(filepath.Base(path), "motors") {
				got = tellMotors(listMotorsFile(path))
			} else {
				got = tell(ReadFile(path, usual))
			}
			if *update {
				if err := os.WriteFile(path+".want", []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path + ".want")
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Error(diff)
			}
		})
	}
	if read == 0 {
		t.Error("no files in testdata")
	}
}

// tell writes everything a batch holds, for a person.
func tell(b Batch, err error) string {
	var out strings.Builder
	if err != nil {
		fmt.Fprintf(&out, "error: %v\n", err)
	}
	for _, n := range b.Notes {
		fmt.Fprintf(&out, "note: %s\n", n)
	}
	for _, r := range b.Refused {
		fmt.Fprintf(&out, "refused: %s\n", r)
	}
	for _, r := range b.Rows {
		s := r.Record.Sale
		fmt.Fprintf(&out, "line %d: sold=%s price=%s", r.Line, s.Sold, usual.Currency.Plain(s.Price))
		tellMotor(&out, r.Record.Motor)
		if r.Record.ListedOn != 0 {
			fmt.Fprintf(&out, " listed=%s", r.Record.ListedOn)
		}
		if r.Record.Ask != 0 {
			fmt.Fprintf(&out, " asked=%s", usual.Currency.Plain(r.Record.Ask))
		}
		if s.Channel != "" {
			fmt.Fprintf(&out, " channel=%q", s.Channel)
		}
		if s.Note != "" {
			fmt.Fprintf(&out, " note=%q", s.Note)
		}
		fmt.Fprintf(&out, " print=%.8s\n", r.Fingerprint)
	}
	return out.String()
}

func tellMotor(out *strings.Builder, m valuation.Motor) {
	for _, f := range valuation.Fields() {
		if v := m.Text(f.Name); v != "" {
			fmt.Fprintf(out, " %s=%q", f.Name, v)
		}
	}
}
