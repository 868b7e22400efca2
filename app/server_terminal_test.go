package main

import (
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"skegworth/app/shop"
	"skegworth/data/shopfile/throwaway"
)

// exampleOn is the example shop, moved to a server.
func exampleOn(t *testing.T, home, address string) (file string) {
	t.Helper()
	file = filepath.Join(home, "example.skegworth")
	must(t, home, "example", file, "--on", "2026-11-25")
	must(t, home, "move", file, address)
	return file
}

// lineTexts are what stands on the motor S138, in order.
func lineTexts(t *testing.T, where string) (texts []string) {
	t.Helper()
	look(t, where, func(s *shop.Shop) {
		id, err := s.Find("motor", "S138")
		ok(t, err)
		r, err := s.Record(id)
		ok(t, err)
		for _, l := range r.Lines {
			texts = append(texts, l.Text)
		}
	})
	slices.Sort(texts)
	return texts
}

// Two programs spend on one motor of a server at once, one of them through a connection that is lost before
// every other commit: each line that was said to be saved is there, once, and no other.
func TestSpendOnAServerFromTwoBenches(t *testing.T) {
	home, server := t.TempDir(), throwaway.Shop(t)
	exampleOn(t, home, server)
	hindered, cut := throwaway.Hindered(t, server)
	want := lineTexts(t, server)
	var benches sync.WaitGroup
	var mu sync.Mutex
	for bench, where := range []string{server, hindered} {
		benches.Add(1)
		go func() {
			defer benches.Done()
			const each = 6
			var typed strings.Builder
			for n := range each {
				fmt.Fprintf(&typed, "part%d%d 14.50\n", bench, n)
			}
			c := exec.Command(program, "spend", where, "S138", "--on", "2026-11-25")
			c.Env, c.Stdin = plainEnv(home), strings.NewReader(typed.String())
			out, err := c.CombinedOutput()
			if err != nil || strings.Count(string(out), "saved: ") != each {
				t.Errorf("bench %d: %v: %s", bench, err, out)
			}
			mu.Lock()
			defer mu.Unlock()
			for n := range each {
				want = append(want, fmt.Sprintf("part%d%d", bench, n))
			}
		}()
	}
	benches.Wait()
	slices.Sort(want)
	if got := lineTexts(t, server); !slices.Equal(got, want) {
		t.Errorf("there stand\n%q, not\n%q", got, want)
	}
	if cut.Load() < 6 {
		t.Errorf("only %d commits were cut off", cut.Load())
	}
	must(t, home, "check", server)
}

// A server that goes away while lines are typed: what was said to be saved is there, what was not is not,
// and the program says so in one sentence. Once the server is back the rest goes in.
func TestSpendWhileTheServerIsAway(t *testing.T) {
	home, server := t.TempDir(), throwaway.Own(t, throwaway.Settings{})
	where := throwaway.Schema(t, server.Address())
	exampleOn(t, home, where)
	want := lineTexts(t, where)
	if got := spendOn(t, home, where, "", "before 1.50"); got.code != 0 || got.out != "saved: new part: before, 1.50\n" {
		t.Fatalf("%+v", got)
	}
	server.Crash(t)
	if got := spendOn(t, home, where, "", "meanwhile 2.50"); got.code == 0 || got.out != "" || strings.Count(got.err, "\n") != 1 {
		t.Errorf("without the server: %+v", got)
	}
	server.Start(t)
	if got := spendOn(t, home, where, "", "after 3.50"); got.code != 0 || got.out != "saved: new part: after, 3.50\n" {
		t.Fatalf("%+v", got)
	}
	want = append(want, "after", "before")
	slices.Sort(want)
	if got := lineTexts(t, where); !slices.Equal(got, want) {
		t.Errorf("there stand %q, not %q", got, want)
	}
	must(t, home, "check", where)
}

// A shop on a server is copied into a folder, refuses to be replaced, and comes back from the copy the same
// to the last figure.
func TestAServerShopIsCopiedAndMovedInTheTerminal(t *testing.T) {
	home, server := t.TempDir(), throwaway.Shop(t)
	file := exampleOn(t, home, server)
	folder := t.TempDir()
	if said := must(t, home, "copy", server, folder); !strings.Contains(said, "in order") {
		t.Errorf("copy says %q", said)
	}
	copies, err := filepath.Glob(filepath.Join(folder, "*"))
	ok(t, err)
	if len(copies) != 1 {
		t.Fatalf("the copies are %q", copies)
	}
	before := exported(t, home, server)
	if got := run(t, home, "restore", server, copies[0]); got.code != 2 || got.out != "" ||
		!strings.Contains(got.err, "a shop on a server is not replaced while others work in it") || strings.Count(got.err, "\n") != 1 {
		t.Errorf("restore: %+v", got)
	}
	back, again := filepath.Join(home, "back.skegworth"), throwaway.Shop(t)
	must(t, home, "move", server, back)
	must(t, home, "move", copies[0], again)
	for _, where := range []string{file, server, copies[0], back, again} {
		if got := exported(t, home, where); got != before {
			t.Errorf("%s is another shop", where)
		}
		must(t, home, "check", where)
	}
}

// exported is all that a shop exports, file by file.
func exported(t *testing.T, home, where string) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "out")
	must(t, home, "export", where, folder)
	var all strings.Builder
	ok(t, filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		fmt.Fprintf(&all, "%s %x\n", strings.TrimPrefix(path, folder), sha256.Sum256(content))
		return err
	}))
	return all.String()
}
