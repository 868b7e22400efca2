package command

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestPaperWord prints each page in a terminal and refuses in one sentence what cannot be printed.
func TestPaperWord(t *testing.T) {
	folder := t.TempDir()
	shop, page, notes := filepath.Join(folder, "s.skegworth"), filepath.Join(folder, "page.pdf"), filepath.Join(folder, "notes.txt")
	if err := os.WriteFile(notes, []byte("buy oil"), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(args ...string) (code int, out, failed string) {
		var o, e bytes.Buffer
		code = Program{Out: &o, Err: &e}.Run(args)
		return code, o.String(), e.String()
	}
	if code, _, failed := run("example", shop, "--on", "2026-11-25"); code != Good {
		t.Fatal(failed)
	}
	for _, args := range [][]string{
		{"check-sheet", shop, "Halvard 90"}, {"page", shop, "Halvard 90"}, {"hand-over", shop, "S137", "--ratio", "100:1"}, {"bill", shop, "S137"}, {"schedule", shop}, {"schedule", shop, "2025"},
	} {
		code, out, failed := run(append(append([]string{"paper"}, args...), "--on", "2026-11-25", "--out", page)...)
		if code != Good || out != "wrote "+page+"\n" {
			t.Errorf("%v: %d, %q, %q", args, code, out, failed)
		}
		if got, err := os.ReadFile(page); err != nil || !bytes.HasPrefix(got, []byte("%PDF-")) {
			t.Errorf("%v wrote %.10q, %v", args, got, err)
		}
		if err := os.Remove(page); err != nil {
			t.Error(err)
		}
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"bill", shop, "Halvard 90", "--out", page}, "prospect"},
		{[]string{"check-sheet", shop, "Nobody", "--out", page}, "motor: "},
		{[]string{"schedule", shop, "soon", "--out", page}, "year: "},
		{[]string{"hand-over", shop, "S137", "--ratio", "soup", "--out", page}, "ratio: "},
		{[]string{"page", shop, "Halvard 90", "--out", notes}, "is no PDF"},
		{[]string{"page", shop, "Halvard 90"}, "--out"},
	} {
		code, _, failed := run(append([]string{"paper"}, c.args...)...)
		if code != Wrong || !strings.Contains(failed, c.want) || strings.Count(strings.TrimSpace(failed), "\n") > 0 {
			t.Errorf("%v: %d, %q", c.args, code, failed)
		}
	}
	if _, err := os.Stat(page); err == nil {
		t.Error("a page was written all the same")
	}
	if got, err := os.ReadFile(notes); err != nil || string(got) != "buy oil" {
		t.Errorf("the notes are now %q, %v", got, err)
	}
}
