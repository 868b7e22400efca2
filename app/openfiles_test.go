package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestOpenFilesInTheTerminal writes the example shop as open files, makes a shop of them again, and has
// both answer alike.
func TestOpenFilesInTheTerminal(t *testing.T) {
	home := t.TempDir()
	shop, again, folder := filepath.Join(home, "a.skegworth"), filepath.Join(home, "b.skegworth"), filepath.Join(home, "open")
	must(t, home, "example", shop, "--on", "2026-11-25")
	if said := must(t, home, "export", shop, folder); !strings.Contains(said, "6 pictures") || !strings.Contains(said, folder) {
		t.Errorf("export says %s", said)
	}
	must(t, home, "rebuild", folder, again)
	for _, word := range [][]string{{"check"}, {"motors", "--all"}, {"review", "--on", "2026-11-25", "--json"}} {
		line := func(path string) []string { return append([]string{word[0], path}, word[1:]...) }
		// Each has copies of its own, and check ends by telling of them.
		if was, is := withoutCopies(must(t, home, line(shop)...)), withoutCopies(must(t, home, line(again)...)); was != is {
			t.Errorf("%s: the rebuilt shop says %s, the first %s", word[0], is, was)
		}
	}
	if err := os.WriteFile(filepath.Join(folder, "sales.csv"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"export", shop, folder}, "there is something of that name already"},
		{[]string{"rebuild", folder, again}, "sales.csv"},
		{[]string{"rebuild", home, filepath.Join(home, "c.skegworth")}, "this is not a folder of open files"},
	} {
		if r := run(t, home, c.args...); r.code != 2 || !strings.Contains(r.err, c.says) || strings.Count(r.err, "\n") != 1 {
			t.Errorf("%s: exit %d, said %q", c.args[0], r.code, r.err)
		}
	}
}

// withoutCopies is what check says but for the copies that there are.
func withoutCopies(said string) string {
	lines := strings.Split(said, "\n")
	return strings.Join(slices.DeleteFunc(lines, func(l string) bool { return strings.HasPrefix(l, "There is no good copy of this shop in ") }), "\n")
}
