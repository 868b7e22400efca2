package logbook

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"github.com/jackc/pgx/v5/pgconn"
	"github.com/mattn/go-sqlite3"
	"pgregory.net/rapid"

	"skegworth/data/shopfile"
)

// secret is spelled with letters that stand nowhere in the program, so that a log cannot hold it by chance.
var secret = rapid.StringOfN(rapid.RuneFrom([]rune("ΨΩЖЩ")), 3, 12, -1)

// nasty makes an error of some type with secrets wherever that type has room for words.
func nasty(t *rapid.T, depth int) error {
	s := func() string { return secret.Draw(t, "secret") }
	leaves := []func() error{
		func() error { return errors.New(s()) },
		func() error { return syscall.Errno(rapid.IntRange(1, 130).Draw(t, "errno")) },
		func() error { return fs.ErrNotExist },
		func() error { return shopfile.ErrDamaged },
		func() error { return &shopfile.Conflict{Thing: s(), Reason: s()} },
		func() error { return &pgconn.PgError{Code: s(), Message: s(), Detail: s(), SchemaName: s()} },
		func() error { return &pgconn.PgError{Code: "57P01", Message: s()} },
		func() error { return sqlite3.Error{Code: sqlite3.ErrCorrupt, ExtendedCode: 267} },
		func() error { return context.DeadlineExceeded },
		func() error { return incomparable{s()} },
		func() error { return nil },
	}
	if depth == 0 {
		return leaves[rapid.IntRange(0, len(leaves)-1).Draw(t, "leaf")]()
	}
	inner := func() error { return nasty(t, depth-1) }
	branches := append(leaves,
		func() error { return fmt.Errorf("%s: %w", s(), inner()) },
		func() error { return fmt.Errorf("%s: %w, %w", s(), inner(), inner()) },
		func() error { return errors.Join(inner(), inner(), errors.New(s())) },
		func() error { return &fs.PathError{Op: s(), Path: s(), Err: inner()} },
		func() error { return &os.LinkError{Op: s(), Old: s(), New: s(), Err: inner()} },
		func() error { return &url.Error{Op: s(), URL: "postgres://me:" + s() + "@" + s(), Err: inner()} },
	)
	return branches[rapid.IntRange(0, len(branches)-1).Draw(t, "branch")]()
}

// incomparable cannot be compared by ==, which would panic.
type incomparable []string

func (i incomparable) Error() string { return i[0] }

// vocabulary is every word that a log may hold beside numbers, versions and places in the source.
var vocabulary = func() map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(`time level msg INFO WARN ERROR started ended word failed crashed library version schema system go process
		code took kinds panic stack at other errno sqlite sqlstate
		syscall Errno shopfile Conflict pgconn PgError sqlite3 Error fs PathError os LinkError url context deadlineExceededError
		logbook incomparable string
		open review check`) {
		out[w] = true
	}
	for _, k := range known {
		for _, w := range strings.Fields(k.name) {
			out[w] = true
		}
	}
	for _, w := range strings.FieldsFunc(runtime.GOOS+"/"+runtime.GOARCH, apart) {
		out[w] = true
	}
	return out
}()

func apart(r rune) bool {
	return !('a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9' || r > 127)
}

var number = regexp.MustCompile(`^(go)?[0-9]+[TZ]?[0-9]*Z?$|^57P01$`)

// onlyKnownWords fails where a line holds a word that is in no list of ours.
func onlyKnownWords(t rapid.TB, log string) {
	t.Helper()
	for _, w := range strings.FieldsFunc(log, apart) {
		if !vocabulary[w] && !number.MatchString(w) {
			t.Fatalf("the log holds %q, in\n%s", w, log)
		}
	}
}

// Whatever goes wrong, the line that notes it holds nothing but words that stand in a list.
func TestOnlyWordsOfTheProgram(t *testing.T) {
	path := filepath.Join(t.TempDir(), "state", "skegworth.log")
	rapid.Check(t, func(t *rapid.T) {
		os.Remove(path)
		b := Open(path, "0.1.0")
		Word(rapid.SampledFrom([]string{"open", "review", "check"}).Draw(t, "word"))
		err := nasty(t, 4)
		Failed(err)
		fmt.Fprintf(Complaints(), "2026/01/02 03:04:05   Cause: %s\n", secret.Draw(t, "cause"))
		b.Close(2)
		text, reading := os.ReadFile(path)
		if reading != nil {
			t.Fatal(reading)
		}
		onlyKnownWords(t, string(text))
		if want := 3 + noted(err); strings.Count(string(text), "\n") != want {
			t.Fatalf("%d lines, want %d:\n%s", strings.Count(string(text), "\n"), want, text)
		}
	})
}

func noted(err error) int {
	if err == nil {
		return 0
	}
	return 1
}

func TestKinds(t *testing.T) {
	for _, c := range []struct {
		err  error
		want string
	}{
		{errors.New("the sale of Rosa Lind"), "other"},
		{fmt.Errorf("open: %w", &fs.PathError{Op: "open", Path: "/home/rosa", Err: syscall.ENOENT}), "no such file, *fs.PathError, syscall.Errno, errno 2"},
		{&os.SyscallError{Syscall: "write", Err: syscall.ENOSPC}, "*os.SyscallError, syscall.Errno, errno 28"},
		{fmt.Errorf("%w: %w", shopfile.ErrDamaged, sqlite3.Error{Code: 11, ExtendedCode: 267}), "damaged, sqlite3.Error, sqlite 11/267"},
		{&pgconn.PgError{Code: "57P01", Message: "terminating"}, "*pgconn.PgError, sqlstate 57P01"},
		{&pgconn.PgError{Code: "Rosa Lind"}, "*pgconn.PgError"},
		{io.ErrUnexpectedEOF, "end of file"},
	} {
		if got := strings.Join(Kinds(c.err), ", "); got != c.want {
			t.Errorf("%v is %q, want %q", c.err, got, c.want)
		}
	}
}

// An error that wraps itself, or wraps too much, ends nevertheless.
func TestKindsOfEndlessErrors(t *testing.T) {
	if got := Kinds(&endless{}); len(got) != 1 || got[0] != "*logbook.endless" {
		t.Errorf("%q", got)
	}
}

type endless struct{}

func (e *endless) Error() string   { return "" }
func (e *endless) Unwrap() []error { return []error{e, e} }

// A panic ends with one sentence, its own exit code, and the places it came through; the next run knows.
func TestCrash(t *testing.T) {
	path := filepath.Join(t.TempDir(), "skegworth.log")
	for _, c := range []struct {
		what string
		fall func()
		want []string
	}{
		{"a text", func() { panic("Rosa Lind owes 1,200") }, []string{"string"}},
		{"an error", func() { panic(fmt.Errorf("open /home/rosa: %w", fs.ErrExist)) }, []string{"file exists"}},
		{"an index", func() { _ = make([]int, 3)[len(os.Args)+4711] }, []string{"runtime.boundsError", "runtime error: index out of range [#] with length #"}},
		{"a nil", func() { var c *shopfile.Conflict; _ = c.Thing }, []string{"runtime.errorString", "runtime error: invalid memory address or nil pointer dereference"}},
	} {
		os.Remove(path)
		var errs bytes.Buffer
		code := Keep(path, "0.1.0", &errs, func() int { Word("open"); c.fall(); return 0 })
		if code != Crashed || strings.Count(errs.String(), "\n") != 1 || !strings.Contains(errs.String(), "safe in the shop file") || !strings.Contains(errs.String(), path) {
			t.Errorf("%s: exit %d, said %q", c.what, code, errs.String())
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, never := range []string{"Rosa", "rosa", "1,200", "4711", "471", filepath.Dir(path), "/home"} {
			if strings.Contains(string(text), never) {
				t.Errorf("%s: the log holds %q:\n%s", c.what, never, text)
			}
		}
		var line struct {
			Msg          string
			Panic, Stack []string
		}
		for text := range strings.Lines(string(text)) {
			if line.Msg != "crashed" {
				if err := json.Unmarshal([]byte(text), &line); err != nil {
					t.Fatal(err)
				}
			}
		}
		if strings.Join(line.Panic, "|") != strings.Join(c.want, "|") {
			t.Errorf("%s: it was noted as %q, want %q", c.what, line.Panic, c.want)
		}
		if !strings.Contains(strings.Join(line.Stack, "\n"), "TestCrash") || !strings.Contains(strings.Join(line.Stack, "\n"), " logbook_test.go:") {
			t.Errorf("%s: the stack is %q", c.what, line.Stack)
		}
		again := Open(path, "0.1.0")
		if at, stopped := StoppedBefore(); !stopped || at != path {
			t.Errorf("%s: the next run does not know of it", c.what)
		}
		again.Close(0)
		third := Open(path, "0.1.0")
		if _, stopped := StoppedBefore(); stopped {
			t.Errorf("%s: it is told of twice", c.what)
		}
		third.Close(0)
	}
}

// The log stays small however much goes wrong, and is its owner's alone whatever the umask.
func TestRoomAndRights(t *testing.T) {
	before := umask(0)
	defer umask(before)
	folder := filepath.Join(t.TempDir(), "state")
	path := filepath.Join(folder, "skegworth.log")
	b := Open(path, "0.1.0")
	err := fmt.Errorf("%w: %w", shopfile.ErrDamaged, sqlite3.Error{Code: 11, ExtendedCode: 267})
	for range 40_000 {
		Failed(err)
	}
	b.Close(0)
	if got := mode(t, folder); got != 0o700 && runtime.GOOS != "windows" {
		t.Errorf("the folder has mode %o", got)
	}
	entries, reading := os.ReadDir(folder)
	if reading != nil {
		t.Fatal(reading)
	}
	total := int64(0)
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			continue // swept meanwhile
		}
		total += info.Size()
		if info.Mode().Perm() != 0o600 && runtime.GOOS != "windows" {
			t.Errorf("%s has mode %o", e.Name(), info.Mode().Perm())
		}
	}
	if len(entries) < 2 || total > (older+2)*megabytes<<20 {
		t.Errorf("%d files of %d bytes", len(entries), total)
	}
}

// A log that cannot be written stops nobody, and a link in its place is not followed.
func TestNoLog(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "file"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if code := Keep(filepath.Join(folder, "file", "skegworth.log"), "0.1.0", io.Discard, func() int { Failed(io.EOF); return 7 }); code != 7 {
		t.Errorf("exit %d", code)
	}
	victim, link := filepath.Join(folder, "letter.txt"), filepath.Join(folder, "skegworth.log")
	if err := os.WriteFile(victim, []byte("dear Rosa"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(victim, link); err != nil {
		t.Fatal(err)
	}
	Keep(link, "0.1.0", io.Discard, func() int { Failed(io.EOF); return 0 })
	if text, err := os.ReadFile(victim); err != nil || string(text) != "dear Rosa" {
		t.Errorf("the file behind a link now holds %q, %v", text, err)
	}
}

func mode(t *testing.T, path string) fs.FileMode {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	return info.Mode().Perm()
}
