package shopfile

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func init() {
	// upgrade on a full disk lays a file onto a small disk of its own, fills that but for so many bytes, opens
	// the file there with a copy kept first, if asked, and says what came of it.
	tasks["upgrade on a full disk"] = func(ctx context.Context, args []string) error {
		data, err := os.ReadFile(args[0])
		if err != nil {
			return err
		}
		disk, left, copied := args[1], 0, args[3] == "copied"
		if _, err := fmt.Sscan(args[2], &left); err != nil {
			return err
		}
		if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=8m"); err != nil {
			return fmt.Errorf("mount a small disk: %w", err)
		}
		path := filepath.Join(disk, "shop")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			return err
		}
		if err := fillUp(filepath.Join(disk, "other things"), left); err != nil {
			return err
		}
		var options []Option
		if copied {
			options = append(options, WithBeforeUpgrade(func(ctx context.Context, f *File, _ int) error { return f.CopyTo(ctx, path+" copy") }))
		}
		_, err = Open(ctx, path, options...)
		if !errors.Is(err, ErrDiskFull) {
			return fmt.Errorf("opened on a full disk it answers %w", err)
		}
		fmt.Println(err)
		after, err := os.ReadFile(path)
		if err != nil || !bytes.Equal(after, data) {
			return fmt.Errorf("the file was changed (%w)", err)
		}
		if err := os.Remove(filepath.Join(disk, "other things")); err != nil {
			return err
		}
		if kept, err := os.ReadFile(path + " copy"); err == nil { // it was made before the disk was full
			fmt.Println("a copy of", len(kept), "bytes is kept")
			if err := os.Remove(path + " copy"); err != nil {
				return err
			}
		}
		there, err := os.ReadDir(disk)
		if err != nil || len(there) != 1 {
			return fmt.Errorf("beside it are %v (%w)", there, err)
		}
		f, err := Open(ctx, path, options...)
		if err != nil {
			return fmt.Errorf("with room again: %w", err)
		}
		defer f.Close()
		report, err := f.Check(ctx)
		if err == nil && !report.OK() {
			err = fmt.Errorf("the check says %v", report.Strings())
		}
		return err
	}
}

// fillUp writes into a file until only so many bytes are left on its disk.
func fillUp(path string, left int) error {
	var about syscall.Statfs_t
	if err := syscall.Statfs(filepath.Dir(path), &about); err != nil {
		return err
	}
	return os.WriteFile(path, make([]byte, int(about.Bavail)*int(about.Bsize)-left), 0o600)
}

// A disk that runs full while an older file is brought up to date, or copied before, leaves it as it was, to
// be brought up to date when there is room.
func TestAnUpgradeOnAFullDiskLeavesTheFile(t *testing.T) {
	for _, c := range []struct {
		name   string
		left   int
		copied string
		says   string
	}{
		{"no room for the upgrade", 160 << 10, "", "there is no room left on the disk, nothing was changed"},
		{"no room for the copy", 160 << 10, "copied", "it is of an older version of the program and stays as it is: copy the shop file to"},
		{"room for the copy alone", 570 << 10, "copied", "there is no room left on the disk, nothing was changed\na copy of "},
	} {
		t.Run(c.name, func(t *testing.T) {
			child := exec.Command(os.Args[0], sample(t, 3), t.TempDir(), fmt.Sprint(c.left), c.copied)
			child.Env = append(os.Environ(), taskVariable+"=upgrade on a full disk")
			child.SysProcAttr = &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWNS, Unshareflags: syscall.CLONE_NEWNS}
			if os.Getuid() != 0 {
				child.SysProcAttr.Cloneflags |= syscall.CLONE_NEWUSER
				child.SysProcAttr.UidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}}
				child.SysProcAttr.GidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}}
			}
			said, err := child.CombinedOutput()
			if err != nil || !strings.Contains(string(said), c.says) {
				t.Errorf("%v: %s, want %q", err, said, c.says)
			}
		})
	}
}
