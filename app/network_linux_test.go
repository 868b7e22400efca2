package main

import (
	"bytes"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"skegworth/app/shop"
	"skegworth/costing"
)

// alone runs a command in a network namespace of its own, in which there is nothing to talk to: not even
// this machine answers. Only root may make one as it is; others make one inside a namespace of users.
func alone(c *exec.Cmd) {
	c.SysProcAttr = &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWNET}
	if id := os.Getuid(); id != 0 {
		c.SysProcAttr.Cloneflags |= syscall.CLONE_NEWUSER
		c.SysProcAttr.UidMappings = []syscall.SysProcIDMap{{ContainerID: id, HostID: id, Size: 1}}
		c.SysProcAttr.GidMappings = []syscall.SysProcIDMap{{ContainerID: os.Getgid(), HostID: os.Getgid(), Size: 1}}
	}
}

// watched has strace write down every socket that a command and its children ask for.
func watched(c *exec.Cmd, log string) error {
	strace, err := exec.LookPath("strace")
	if err != nil {
		return fmt.Errorf("strace, of Debian's package strace: %w", err)
	}
	c.Args = append([]string{"strace", "-f", "-qq", "--seccomp-bpf", "-e", "trace=socket,connect,bind,sendto,sendmsg", "-e", "signal=none", "-o", log, c.Path}, c.Args[1:]...)
	c.Path = strace
	return nil
}

// onNetwork finds sockets of the internet's families in what strace wrote, and every other family by name.
var family = regexp.MustCompile(`\b(AF_[A-Z0-9]+|PF_[A-Z0-9]+)\b`)

func families(t *testing.T, log string) map[string]bool {
	t.Helper()
	text, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, f := range family.FindAllString(string(text), -1) {
		out[f] = true
	}
	return out
}

// Unix sockets reach programs of this machine: the display, and the desktop's bus for its colours. Netlink
// reaches the kernel alone.
func onlyHere(t *testing.T, what, log string) {
	t.Helper()
	for f := range families(t, log) {
		if f != "AF_UNIX" && f != "AF_NETLINK" {
			text, _ := os.ReadFile(log)
			t.Errorf("%s asked for a socket of %s:\n%s", what, f, text)
		}
	}
}

// dialling is what the two ways of watching must notice, so that their silence means something.
const dialling = "SKEGWORTH_TEST_DIALS"

func init() {
	if where := os.Getenv(dialling); where != "" {
		c, err := net.DialTimeout("tcp", where, 5*time.Second)
		if err != nil {
			fmt.Println("nobody answers")
			os.Exit(0)
		}
		c.Close()
		fmt.Println("somebody answers")
		os.Exit(0)
	}
}

func TestWatchingNoticesTheNetwork(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dial := func(change func(*exec.Cmd)) string {
		c := exec.Command(self)
		c.Env = append(os.Environ(), dialling+"="+listener.Addr().String())
		change(c)
		out, err := c.CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		return strings.TrimSpace(string(out))
	}
	log := filepath.Join(t.TempDir(), "sockets")
	if said := dial(func(*exec.Cmd) {}); said != "somebody answers" {
		t.Errorf("as it is, %s", said)
	}
	if said := dial(alone); said != "nobody answers" {
		t.Errorf("alone, %s", said)
	}
	said := dial(func(c *exec.Cmd) {
		if err := watched(c, log); err != nil {
			t.Fatal(err)
		}
	})
	if said != "somebody answers" || !families(t, log)["AF_INET"] {
		t.Errorf("watched, %s, and strace noted %v", said, families(t, log))
	}
}

// hostileBook is a workbook of past sales full of what a spreadsheet would fetch.
func hostileBook(t *testing.T, path string) {
	t.Helper()
	book := excelize.NewFile()
	defer book.Close()
	for row, cells := range [][]any{
		{"sold", "price", "power", "year", "stroke", "note"},
		{"2025-04-12", 1850, 60, 1998, "two", "http://127.0.0.1:9/a.png"},
		{"2025-05-30", 2400, 90, 2004, "four", "![x](http://127.0.0.1:9/b.png)"},
	} {
		if err := book.SetSheetRow("Sheet1", fmt.Sprintf("A%d", row+1), &cells); err != nil {
			t.Fatal(err)
		}
	}
	for _, err := range []error{
		book.SetCellHyperLink("Sheet1", "F2", "http://127.0.0.1:9/c", "External"),
		book.SetCellFormula("Sheet1", "G2", `WEBSERVICE("http://127.0.0.1:9/d")`),
		book.SetCellFormula("Sheet1", "G3", `'http://127.0.0.1:9/[e.xlsx]Sheet1'!A1`),
		book.SaveAs(path),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
}

// everyWord is each word of the terminal with what follows it, in an order in which they can be said. HOME
// stands for the folder, where shop.skegworth is the example shop and more.xlsx a workbook full of links.
var everyWord = [][]string{
	{"--version"},
	{"example", "HOME/another.skegworth", "--on", "2026-11-25"},
	{"intake", "HOME/new.skegworth", "HOME/more.csv"},
	{"intake", "HOME/shop.skegworth", "HOME/more.xlsx"},
	{"motors", "HOME/shop.skegworth", "--all"},
	{"worth", "HOME/shop.skegworth", "--power", "90", "--year", "2003", "--stroke", "two", "--state", "rebuilt", "--on", "2026-11-25"},
	{"offer", "HOME/shop.skegworth", "--on", "2026-11-25"},
	{"ask", "HOME/shop.skegworth", "S138", "--on", "2026-11-25"},
	{"review", "HOME/shop.skegworth", "--year", "2026", "--on", "2026-11-25", "--out", "HOME/year.xlsx", "--csv", "HOME/year"},
	{"shelf", "HOME/shop.skegworth", "--on", "2026-11-25"},
	{"spend", "HOME/shop.skegworth", "S138", "--on", "2026-11-25"},
	{"paper", "schedule", "HOME/shop.skegworth", "2026", "--out", "HOME/year.pdf"},
	{"check", "HOME/shop.skegworth"},
	{"export", "HOME/shop.skegworth", "HOME/open"},
	{"rebuild", "HOME/open", "HOME/rebuilt.skegworth"},
	{"copy", "HOME/shop.skegworth", "HOME/copy.skegworth"},
	{"restore", "HOME/shop.skegworth"},
	{"rescue", "HOME/shop.skegworth", "HOME/rescued.skegworth"},
	{"move", "HOME/shop.skegworth", "HOME/moved.skegworth"},
	{"move", "HOME/shop.skegworth", "postgres:///shop?host=HOME/none"},
	{"check", "postgres:///shop?host=HOME/none"},
	{"roles"},
	{"tour", "HOME/shop.skegworth", "HOME/tour"},
	{"open", "HOME/shop.skegworth"},
}

// said is what a word printed, without what differs from run to run: the folder, the clock and ids.
var passing = regexp.MustCompile(`\b\d\d:\d\d(:\d\d)?\b|\b\d{6}\b|\b[0-9a-f]{8}-[0-9a-f-]{27}\b`)

// Every word of the terminal says the same with nobody to talk to, and asks for no socket of the internet.
func TestWordsNeedNoNetwork(t *testing.T) {
	here, there := t.TempDir(), t.TempDir()
	for _, home := range []string{here, there} {
		must(t, home, "example", filepath.Join(home, "shop.skegworth"), "--on", "2026-11-25")
		hostileBook(t, filepath.Join(home, "more.xlsx"))
		if err := os.WriteFile(filepath.Join(home, "more.csv"), []byte(pastSales+"03/08/2025;900;20;1999;two;=WEBSERVICE(\"http://127.0.0.1:9/\");runs;3;\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	log := filepath.Join(t.TempDir(), "sockets")
	say := func(home string, words []string, apart bool) result {
		words = append([]string(nil), words...)
		for n := range words {
			words[n] = strings.ReplaceAll(words[n], "HOME", home)
		}
		c := exec.Command(program, words...)
		c.Env, c.Dir = plainEnv(home), home
		var out, errs bytes.Buffer
		c.Stdout, c.Stderr = &out, &errs
		if apart {
			if err := watched(c, log); err != nil {
				t.Fatal(err)
			}
			alone(c)
		}
		var exit *exec.ExitError
		if err := c.Run(); err != nil && !errors.As(err, &exit) {
			t.Fatalf("%s: %v", strings.Join(words, " "), err)
		}
		plain := func(s string) string {
			return passing.ReplaceAllString(strings.ReplaceAll(s, home, "HOME"), "#")
		}
		return result{plain(out.String()), plain(errs.String()), c.ProcessState.ExitCode()}
	}
	tried := map[string]bool{}
	for _, words := range everyWord {
		what := strings.Join(words, " ")
		tried[words[0]] = true
		want, got := say(here, words, false), say(there, words, true)
		if got != want {
			t.Errorf("%s alone: exit %d, %q\n%s\nand otherwise exit %d, %q\n%s", what, got.code, got.err, got.out, want.code, want.err, want.out)
		}
		if want.out+want.err == "" && words[0] != "spend" {
			t.Errorf("%s says nothing", what)
		}
		onlyHere(t, what, log)
	}
	listed := regexp.MustCompile(`(?m)^  ([a-z]+) .*\n    \S`).FindAllStringSubmatch(must(t, here, "--help"), -1)
	if len(listed) < 12 {
		t.Errorf("--help lists only %v", listed)
	}
	for _, word := range listed {
		if !tried[word[1]] {
			t.Errorf("the word %s is not tried without a network", word[1])
		}
	}
}

// The window works with nobody to talk to but the display, and asks for no socket of the internet: a motor
// typed in it is saved, and it closes as ever.
func TestWindowNeedsNoNetwork(t *testing.T) {
	home := t.TempDir()
	path, log := filepath.Join(home, "shop.skegworth"), filepath.Join(home, "sockets")
	must(t, home, "example", path, "--on", "2026-11-25")
	var before int
	look(t, path, func(s *shop.Shop) { before = len(s.Records(costing.Prospect)) })
	w := openWindow(t, home, path, alone, func(c *exec.Cmd) {
		if err := watched(c, log); err != nil {
			t.Fatal(err)
		}
	})
	for screen := 8; screen >= 1; screen-- {
		w.keys(fmt.Sprintf("ctrl+%d", screen))
		time.Sleep(300 * time.Millisecond)
	}
	w.await("one more prospect", func() bool {
		more := false
		look(t, path, func(s *shop.Shop) { more = len(s.Records(costing.Prospect)) > before })
		if !more {
			w.keys("ctrl+n")
			time.Sleep(time.Second)
		}
		return more
	})
	w.keys("ctrl+q")
	select {
	case err := <-w.done:
		if err != nil {
			t.Errorf("quitting: %v", err)
		}
	case <-time.After(60 * time.Second):
		t.Fatal("Ctrl+Q does not end the program")
	}
	if !families(t, log)["AF_UNIX"] {
		t.Error("strace saw not even the display")
	}
	onlyHere(t, "the window", log)
}
