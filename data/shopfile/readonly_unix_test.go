//go:build unix

package shopfile

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// The super-user may write to everything, so the file is opened by a child that is nobody in particular.
func TestAReadOnlyFileIsRefused(t *testing.T) {
	for _, c := range []struct {
		name         string
		file, folder os.FileMode
		says         string
	}{
		{"file", 0o444, 0o777, "the shop file may only be read, not written to"},
		{"folder", 0o666, 0o555, "the shop file may only be read, not written to"},
		{"both", 0o444, 0o555, "the shop file may only be read, not written to"},
		{"no shop file", 0o444, 0o777, "this is not a shop file"},
		{"not even readable", 0o000, 0o777, "the shop file cannot be opened, its folder is gone or may not be written to"},
	} {
		t.Run(c.name, func(t *testing.T) {
			place, err := os.MkdirTemp("", "readonly")
			must(t, err)
			defer os.RemoveAll(place)
			must(t, os.Chmod(place, 0o755))
			folder := filepath.Join(place, "folder")
			must(t, os.Mkdir(folder, 0o755))
			path := filepath.Join(folder, "shop")
			data, err := os.ReadFile(closedShop(t))
			must(t, err)
			if c.name == "no shop file" {
				data = []byte(strings.Repeat("buy oil and plugs\n", 100))
			}
			must(t, os.WriteFile(path, data, 0o600))
			must(t, os.Chmod(path, c.file))
			must(t, os.Chmod(folder, c.folder))
			defer os.Chmod(folder, 0o755)

			said, err := asNobody(t, place, "open", path).CombinedOutput()
			if want := fmt.Sprintf("open %q: %s\n", path, c.says); err == nil || string(said) != want {
				t.Errorf("the answer is %q (%v), want %q", said, err, want)
			}
			if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
				t.Errorf("refusing it left %v in its folder, %v", left, err)
			}
		})
	}
}

// asNobody is a child that runs this test program for one task under a user without rights of its own.
func asNobody(t *testing.T, place, task string, args ...string) *exec.Cmd {
	t.Helper()
	child := exec.Command(os.Args[0], args...)
	if os.Getuid() == 0 {
		child.Path = filepath.Join(place, "child") // the test program itself lies where only root may look
		from, err := os.Open("/proc/self/exe")
		must(t, err)
		defer from.Close()
		to, err := os.OpenFile(child.Path, os.O_CREATE|os.O_WRONLY, 0o755)
		must(t, err)
		_, err = io.Copy(to, from)
		must(t, err)
		must(t, to.Close())
		child.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	child.Dir = place
	child.Env = append(withoutTask(os.Environ()), taskVariable+"="+task)
	return child
}

func withoutTask(environment []string) []string {
	var out []string
	for _, e := range environment {
		if !strings.HasPrefix(e, taskVariable+"=") {
			out = append(out, e)
		}
	}
	return out
}

// An older file that may only be read is not brought up to date: the sentence says so, and it is left alone.
func TestAnOlderFileThatMayOnlyBeReadIsRefused(t *testing.T) {
	place, err := os.MkdirTemp("", "readonly")
	must(t, err)
	defer os.RemoveAll(place)
	must(t, os.Chmod(place, 0o755))
	folder := filepath.Join(place, "folder")
	must(t, os.Mkdir(folder, 0o777))
	must(t, os.Chmod(folder, 0o777))
	path := filepath.Join(folder, "shop")
	data, err := os.ReadFile(sample(t, 1))
	must(t, err)
	must(t, os.WriteFile(path, data, 0o444))
	said, err := asNobody(t, place, "open older", path).CombinedOutput()
	if want := fmt.Sprintf("open %q: the shop file may only be read, not written to\n", path); err == nil || string(said) != want {
		t.Errorf("the answer is %q (%v), want %q", said, err, want)
	}
	if after, err := os.ReadFile(path); err != nil || string(after) != string(data) {
		t.Errorf("the file was changed (%v)", err)
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
		t.Errorf("refusing it left %v in its folder, %v", left, err)
	}
}
