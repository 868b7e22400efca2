package shopfile

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// smallDisk runs the rest of a test on a disk of its own of so many megabytes. Mounting one takes rights:
// without them the test runs itself in a name space of its own, in which it is its own super-user. It fails
// where neither can be had.
func smallDisk(t *testing.T, megabytes int, fn func(folder string)) {
	t.Helper()
	folder := t.TempDir()
	err := syscall.Mount("tmpfs", folder, "tmpfs", 0, fmt.Sprintf("size=%dm,mode=0700", megabytes))
	if err == nil {
		defer func() {
			if err := syscall.Unmount(folder, 0); err != nil {
				t.Errorf("take the small disk away: %v", err)
			}
		}()
		fn(folder)
		return
	}
	const inside = "SHOPFILE_TEST_UNSHARED"
	if os.Getenv(inside) != "" {
		t.Fatalf("a small disk cannot be mounted here, not even by its own super-user: %v", err)
	}
	again := exec.Command("unshare", "--mount", "--map-root-user", os.Args[0], "-test.run", "^"+t.Name()+"$", "-test.v")
	again.Env = append(os.Environ(), inside+"=1")
	out, err := again.CombinedOutput()
	if err != nil || !strings.Contains(string(out), "--- PASS: "+t.Name()) {
		t.Fatalf("on a small disk in a name space of its own: %v\n%s", err, out)
	}
}

// A disk that is full is told of, what was there is still there, and once there is room all goes on.
func TestOnAFullDisk(t *testing.T) {
	smallDisk(t, 3, func(folder string) {
		path, ballast := filepath.Join(folder, "shop"), filepath.Join(folder, "ballast")
		must(t, os.WriteFile(ballast, make([]byte, 1<<20), 0o600))
		f, err := Create(t.Context(), path)
		must(t, err)
		var failed error
		kept := 0
		for failed == nil && kept < 1000 {
			m := halvard()
			m.Note = fmt.Sprintf("%020000d", kept)
			if failed = f.Write(t.Context(), "a motor", "", func(tx *Tx) error { return tx.PutRecord(&m) }); failed == nil {
				kept++
			}
		}
		wantError(t, failed, ErrDiskFull)
		if want := `save "a motor": there is no room left on the disk, nothing was changed`; failed.Error() != want {
			t.Errorf("the error is %q, want %q", failed, want)
		}
		if n := len(contents(t, f).Records); n != kept {
			t.Fatalf("%d motors are there, %d were said to be saved", n, kept)
		}
		_, err = f.Undo(t.Context()) // may have no room either, or may
		if err == nil {
			_, err = f.Redo(t.Context())
		}
		if err != nil {
			wantError(t, err, ErrDiskFull)
		}
		before := contents(t, f)

		must(t, os.Remove(ballast))
		r := saved(t, f)
		after := contents(t, f)
		if len(after.Records) != len(before.Records)+1 {
			t.Errorf("%d motors after room was made, %d before", len(after.Records), len(before.Records))
		}
		must(t, f.Close())
		f, err = Open(t.Context(), path)
		must(t, err)
		got, err := f.Record(t.Context(), r.ID)
		must(t, err)
		same(t, "motor", r, got)
		must(t, f.Close())
		soundShop(t, path, len(after.Records))
	})
}

// A file that cannot be made for want of room leaves nothing behind, and neither does a copy.
func TestNothingIsLeftOfWhatHasNoRoom(t *testing.T) {
	smallDisk(t, 1, func(folder string) {
		must(t, os.WriteFile(filepath.Join(folder, "ballast"), make([]byte, 1<<20-8192), 0o600))
		_, err := Create(t.Context(), filepath.Join(folder, "shop"))
		wantError(t, err, ErrDiskFull)
		f, _, _ := aShop(t, fresh)
		wantError(t, f.CopyTo(t.Context(), filepath.Join(folder, "copy")), ErrDiskFull)
		if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
			t.Errorf("the folder holds %v, %v", left, err)
		}
	})
}

// A disk that may only be read is refused with a sentence, and good again once it may be written to.
func TestOnADiskThatMayOnlyBeRead(t *testing.T) {
	smallDisk(t, 3, func(folder string) {
		path := filepath.Join(folder, "shop")
		f, err := Create(t.Context(), path)
		must(t, err)
		saved(t, f)
		must(t, f.Close())
		must(t, syscall.Mount("", folder, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
		_, err = Open(t.Context(), path)
		wantError(t, err, ErrReadOnly)
		must(t, syscall.Mount("", folder, "", syscall.MS_REMOUNT, "size=3m"))
		soundShop(t, path, 1)
	})
}

// What is written to a file whose folder was removed would be lost, so it is not said to be saved.
func TestAFolderThatIsRemovedMeanwhile(t *testing.T) {
	place := t.TempDir()
	folder, away := filepath.Join(place, "folder"), filepath.Join(place, "away")
	must(t, os.Mkdir(folder, 0o700))
	f, err := Create(t.Context(), filepath.Join(folder, "shop"))
	must(t, err)
	r := saved(t, f)
	must(t, os.Rename(folder, away))
	change := func() error {
		return f.Write(t.Context(), "a price", "", func(tx *Tx) error { r.Ask++; return tx.PutRecord(&r) })
	}
	err = change()
	wantError(t, err, ErrMoved)
	if want := `save "a price": the shop file is not where it was opened, its folder or its disk is gone: nothing was changed`; err.Error() != want {
		t.Errorf("the error is %q, want %q", err, want)
	}
	if _, err := f.Undo(t.Context()); err == nil {
		t.Error("something was undone in a file that is gone")
	}
	must(t, os.Mkdir(folder, 0o700))
	must(t, os.WriteFile(f.Path(), []byte("another"), 0o600))
	wantError(t, change(), ErrMoved)
	must(t, os.RemoveAll(folder))
	must(t, os.Rename(away, folder)) // it is back
	must(t, change())
	must(t, f.Close())
	soundShop(t, f.Path(), 1)
}
