package main

import (
	"bufio"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"skegworth/app/shop"
)

// spendOn runs `skegworth spend` on S138 of the example with lines on its standard input.
func spendOn(t *testing.T, home, path, typed string, lines ...string) result {
	t.Helper()
	c := exec.Command(program, append([]string{"spend", path, "S138", "--on", "2026-11-25"}, lines...)...)
	c.Env = []string{"LANG=C.UTF-8", "HOME=" + home, "PATH=" + os.Getenv("PATH")}
	c.Stdin = strings.NewReader(typed)
	var out, said strings.Builder
	c.Stdout, c.Stderr = &out, &said
	_ = c.Run()
	return result{out.String(), said.String(), c.ProcessState.ExitCode()}
}

// What spend says back is in the file; what it refuses is named by its line, and nothing from there on is.
func TestSpendInTheTerminal(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(home, "example.skegworth")
	must(t, home, "example", path, "--on", "2026-11-25")
	standing := func() (lines, sessions int) {
		look(t, path, func(s *shop.Shop) {
			id, err := s.Find("motor", "S138")
			if err != nil {
				t.Fatal(err)
			}
			r, err := s.Record(id)
			if err != nil {
				t.Fatal(err)
			}
			lines, sessions = len(r.Lines), len(r.Sessions)
		})
		return lines, sessions
	}
	lines, sessions := standing()
	for _, c := range []struct {
		name, typed     string
		given           []string
		out, said       string
		code            int
		lines, sessions int // more than before
	}{
		{name: "one line", given: []string{"2 x impeller 14.50 harbour supply"},
			out: "saved: new part: impeller, 2 at 14.50, 29.00, from harbour supply\n", lines: 1},
		{name: "several", given: []string{"1.5h carbs", "starter 128 core 40", "draw gear oil 3 floz yesterday"},
			out:   "saved: 1.5 h of your own time on carbs\nsaved: new part: starter, 128.00, and a core charge of 40.00\nsaved: 3 fl oz of gear oil from the shelf, on 2026-11-24\n",
			lines: 3, sessions: 1},
		{name: "read", typed: "fee 35\n\n  \n2 h paid 18 helper",
			out: "saved: marketplace fee, 35.00\nsaved: 2 h paid at 18.00 an hour: helper\n", lines: 1, sessions: 1},
		{name: "stopped midway", typed: "fee 1\nfee 2\nimpeller\nfee 3\n",
			out:  "saved: marketplace fee, 1.00\nsaved: marketplace fee, 2.00\n",
			said: "line 3: \"impeller\" has no amount in it: write it as 2 x impeller 14.50 harbour supply; the 2 lines before it are saved\n", code: 2, lines: 2},
		{name: "the second", typed: "fee 1\nfee\n", out: "saved: marketplace fee, 1.00\n",
			said: "line 2: \"fee\" has no amount in it: write it as 2 x impeller 14.50 harbour supply; the line before it is saved\n", code: 2, lines: 1},
		{name: "no quotes", given: []string{"impeller", "14.50"},
			said: "line 1: \"impeller\" has no amount in it: write it as 2 x impeller 14.50 harbour supply (a line of several words goes in quotes); nothing was written down\n", code: 2},
		{name: "two ways", given: []string{"fogging 2"},
			said: "\"fogging 2\" can be meant in more than one way, so write more of it: new part: fogging, 2.00; or 2 of fogging oil, cans from the shelf\n", code: 2},
		{name: "nothing", said: "no line was given, so nothing was written down\n", code: 2},
		{name: "without end", typed: strings.Repeat("x", 1<<20),
			said: "line 1: it is longer than any line of cost; nothing was written down\n", code: 2},
	} {
		got := spendOn(t, home, path, c.typed, c.given...)
		if got != (result{c.out, c.said, c.code}) {
			t.Errorf("%s: %+v", c.name, got)
		}
		lines, sessions = lines+c.lines, sessions+c.sessions
		if l, s := standing(); l != lines || s != sessions {
			t.Fatalf("%s: %d lines and %d stretches of time stand there, not %d and %d", c.name, l, s, lines, sessions)
		}
	}
	if got := run(t, home, "spend", path, "nobody", "fee 3"); got.code != 2 || got.err != "motor: no motor in hand is called \"nobody\"\n" {
		t.Errorf("of no motor: %+v", got)
	}
	must(t, home, "check", path)
}

// Each line is said back as soon as it is saved, while the next is still being typed.
func TestSpendSaysEachLineAtOnce(t *testing.T) {
	home := t.TempDir()
	path := filepath.Join(home, "example.skegworth")
	must(t, home, "example", path, "--on", "2026-11-25")
	c := exec.Command(program, "spend", path, "S138")
	c.Env = []string{"LANG=C.UTF-8", "HOME=" + home, "PATH=" + os.Getenv("PATH")}
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	said := bufio.NewReader(out)
	for _, amount := range []string{"31", "32"} {
		if _, err := io.WriteString(in, "fee "+amount+"\n"); err != nil {
			t.Fatal(err)
		}
		if line, err := said.ReadString('\n'); err != nil || line != "saved: marketplace fee, "+amount+".00\n" {
			t.Errorf("says %q, %v", line, err)
		}
	}
	in.Close()
	if err := c.Wait(); err != nil {
		t.Error(err)
	}
}
