package main

import (
	"flag"
	"os"
	"strings"
	"testing"
)

// go test ./app -run TestReadme -update writes what the commands print into the README.
var update = flag.Bool("update", false, "write what the README's commands print into it")

// Every command shown in a console block of the README is run, in their order, in one folder, and prints
// exactly what stands there.
func TestReadme(t *testing.T) {
	const path = "../README.md"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	home := t.TempDir()
	var out strings.Builder
	inBlock, skip, commands := false, false, 0
	for _, line := range strings.SplitAfter(string(text), "\n") {
		bare := strings.TrimSuffix(line, "\n")
		switch {
		case bare == "```console":
			inBlock, skip = true, false
		case inBlock && bare == "```":
			inBlock = false
		case inBlock && strings.HasPrefix(bare, "$ skegworth "):
			commands++
			out.WriteString(line)
			out.WriteString(must(t, home, words(strings.TrimPrefix(bare, "$ skegworth "))...))
			skip = true
			continue
		case inBlock && skip:
			continue
		}
		out.WriteString(line)
	}
	if commands < 5 {
		t.Errorf("only %d commands are shown", commands)
	}
	if out.String() == string(text) {
		return
	}
	if *update {
		if err := os.WriteFile(path, []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	t.Errorf("the README shows something else than its commands print; run this test with -update and read what changed\n%s", firstDifference(string(text), out.String()))
}

// words splits a command line at blanks, minding double quotes.
func words(line string) []string {
	var all []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			all = append(all, part)
			continue
		}
		all = append(all, strings.Fields(part)...)
	}
	return all
}

func firstDifference(a, b string) string {
	as, bs := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(as), len(bs)) {
		if as[i] != bs[i] {
			return "-" + as[i] + "\n+" + bs[i]
		}
	}
	return "one ends early"
}
