package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// program is the built binary, the same one that users run.
var program string

func TestMain(m *testing.M) {
	folder, err := os.MkdirTemp("", "skegworth-test-*")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	program = filepath.Join(folder, "skegworth")
	build := exec.Command("go", "build", "-tags", "migrated_fynedo", "-o", program, ".")
	if out, err := build.CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "build the program: %v\n%s", err, out)
		os.Exit(1)
	}
	code := m.Run()
	os.RemoveAll(folder)
	os.Exit(code)
}

// result of one run of the program.
type result struct {
	out, err string
	code     int
}

// run runs the program without a display, in a language that names none, with a home of its own.
func run(t *testing.T, home string, words ...string) result {
	t.Helper()
	c := exec.Command(program, words...)
	c.Env = plainEnv(home)
	c.Dir = home
	var out, errs bytes.Buffer
	c.Stdout, c.Stderr = &out, &errs
	err := c.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return result{out.String(), errs.String(), c.ProcessState.ExitCode()}
}

// plainEnv is an environment of its own with the home given; the log of all such runs is in one place beside
// the program.
func plainEnv(home string) []string {
	return []string{"LANG=C.UTF-8", "HOME=" + home, "XDG_DATA_HOME=" + filepath.Join(home, "data"), "XDG_STATE_HOME=" + stateHome(),
		"PATH=" + os.Getenv("PATH")}
}

func stateHome() string { return filepath.Join(filepath.Dir(program), "state") }

// must runs the program and wants it to succeed in silence on standard error.
func must(t *testing.T, home string, words ...string) string {
	t.Helper()
	r := run(t, home, words...)
	if r.code != 0 || r.err != "" {
		t.Fatalf("skegworth %s: exit %d, said %q", strings.Join(words, " "), r.code, r.err)
	}
	return r.out
}

// files lists a folder with each file's size, to see that nothing was written.
func files(t *testing.T, folder string) string {
	t.Helper()
	var list strings.Builder
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			fmt.Fprintf(&list, "%s %d\n", path, info.Size())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list.String()
}
