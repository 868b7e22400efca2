package command

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
)

// In a terminal a year is drawn up with the lines of every figure, closed, and opened again with a reason.
func TestReviewWord(t *testing.T) {
	shop := filepath.Join(t.TempDir(), "s.skegworth")
	run := func(args ...string) (int, string) {
		var o, e bytes.Buffer
		code := Program{Out: &o, Err: &e}.Run(args)
		return code, o.String() + e.String()
	}
	if code, said := run("example", shop, "--on", "2026-11-25"); code != Good {
		t.Fatal(said)
	}
	type line struct{ Amount json.Number }
	var got struct {
		Figures map[string]struct {
			Name   string
			Amount json.Number
			Lines  []line
		}
		Sales    json.Number
		Receipts struct {
			In, Out []struct {
				Amount json.Number
				Lines  []line
			}
		} `json:"receipts_and_payments"`
		Stock []struct {
			Cost  json.Number
			Basis *string
		} `json:"closing_stock_lines"`
		ClosingStock json.Number `json:"closing_stock"`
		Cuts         map[string][]struct{ Sold int }
		Sold         int
		Closed       *struct {
			Digest      string
			Corrections []any
		}
	}
	review := func(args ...string) {
		t.Helper()
		code, said := run(append([]string{"review", shop, "--year", "2025", "--json", "--on", "2026-11-25"}, args...)...)
		if code != Good {
			t.Fatalf("%v: %s", args, said)
		}
		if err := json.Unmarshal([]byte(said), &got); err != nil {
			t.Fatal(err)
		}
	}
	cents := func(n json.Number) (v int64) {
		whole, part, _ := strings.Cut(strings.TrimPrefix(n.String(), "-"), ".")
		for _, d := range whole + (part + "00")[:2] {
			v = v*10 + int64(d-'0')
		}
		if strings.HasPrefix(n.String(), "-") {
			return -v
		}
		return v
	}
	sum := func(lines []line) (v int64) {
		for _, l := range lines {
			v += cents(l.Amount)
		}
		return v
	}
	review()
	if got.Closed == nil { // the example closed it
		t.Error("a closed year is not told as one")
	}
	got.Closed = nil
	review("--reopen", "to be looked at")
	if len(got.Figures) < 20 || got.Figures["sales"].Amount != got.Sales || got.Closed != nil {
		t.Errorf("%d figures, sales %s and %s, closed %v", len(got.Figures), got.Figures["sales"].Amount, got.Sales, got.Closed)
	}
	for key, f := range got.Figures {
		if f.Name == "" || sum(f.Lines) != cents(f.Amount) {
			t.Errorf("%s is %s, its lines come to %d", key, f.Amount, sum(f.Lines))
		}
	}
	for _, l := range append(got.Receipts.In, got.Receipts.Out...) {
		if sum(l.Lines) != cents(l.Amount) {
			t.Errorf("%s, its lines come to %d", l.Amount, sum(l.Lines))
		}
	}
	var stock int64
	for _, l := range got.Stock {
		stock += cents(l.Cost)
	}
	if stock != cents(got.ClosingStock) || len(got.Stock) == 0 {
		t.Errorf("stock of %d in lines, %s in all", stock, got.ClosingStock)
	}
	for by, rows := range got.Cuts {
		n := 0
		for _, r := range rows {
			n += r.Sold
		}
		if n != got.Sold {
			t.Errorf("by %s %d were sold, of %d", by, n, got.Sold)
		}
	}
	review("--close")
	if got.Closed == nil || len(got.Closed.Digest) != 64 || len(got.Closed.Corrections) != 0 {
		t.Fatalf("%+v", got.Closed)
	}
	if _, said := run("review", shop, "--year", "2025", "--on", "2026-11-25"); !strings.Contains(said, "2025 was closed on ") {
		t.Error(said)
	}
	if code, said := run("review", shop, "--year", "2025", "--close", "--on", "2026-11-25"); code == Good || !strings.Contains(said, "closed already") {
		t.Error(said)
	}
	got.Closed = nil
	if review("--reopen", "a bill was found"); got.Closed != nil {
		t.Error("still closed")
	}
}
