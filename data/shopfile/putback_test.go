package shopfile

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"skegworth/costing"
)

// copyOf is a copy of the shop as it now is.
func copyOf(t testing.TB, f *File) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "copy")
	must(t, f.CopyTo(t.Context(), path))
	return path
}

// differs is how two contents differ in anything but the versions of rows.
func differs(want, got Contents) string {
	return cmp.Diff(want, got, cmp.FilterPath(func(p cmp.Path) bool {
		f, ok := p.Last().(cmp.StructField)
		return ok && f.Name() == "Version"
	}, cmp.Ignore()))
}

func kept(t testing.TB, f *File, to string) func(context.Context) error {
	return func(ctx context.Context) error {
		_ = os.Remove(to)
		return Preserve(ctx, f.Path(), to)
	}
}

func TestACopyIsPutBackUnderAnOpenFile(t *testing.T) {
	f, _, _ := aShop(t, fresh)
	want := contents(t, f)
	copy := copyOf(t, f)
	window, err := Open(t.Context(), f.Path()) // of another program
	must(t, err)
	defer window.Close()
	stale := contents(t, window).Records[0]
	label := ""
	write(t, f, "more", func(tx *Tx) error {
		r := contents(t, window).Records[0]
		r.Note = "written after the copy"
		if err := tx.PutRecord(&r); err != nil {
			return err
		}
		return tx.PutRecord(&costing.Record{Stage: costing.Prospect})
	})
	before := contents(t, f)
	aside := filepath.Join(t.TempDir(), "aside")
	must(t, PutBack(t.Context(), f.Path(), copy, kept(t, f, aside)))
	for name, open := range map[string]*File{"the file": f, "the other window": window} {
		if d := differs(want, contents(t, open)); d != "" {
			t.Errorf("%s does not hold what was put back: %s", name, d)
		}
	}
	old, err := Open(t.Context(), aside)
	must(t, err)
	defer old.Close()
	if d := differs(before, contents(t, old)); d != "" {
		t.Errorf("what was replaced was not kept: %s", d)
	}
	err = window.Write(t.Context(), "stale", "", func(tx *Tx) error { stale.Note = "from before"; return tx.PutRecord(&stale) })
	wantError(t, err, ErrConflict)
	label, err = window.Undo(t.Context())
	must(t, err)
	wantLabel(t, "undone after it", label, "a shop")
	r, err := f.Check(t.Context())
	must(t, err)
	if !r.OK() {
		t.Errorf("the file is not in order: %v", r.Strings())
	}
}

func TestAFileThatCannotBeWorkedWithIsReplaced(t *testing.T) {
	for name, spoil := range map[string]func(path string) error{
		"gone":       os.Remove,
		"empty":      func(path string) error { return os.Truncate(path, 0) },
		"cut off":    func(path string) error { return os.Truncate(path, 5000) },
		"no header":  func(path string) error { return os.WriteFile(path, []byte("what is this?"), 0o600) },
		"first page": func(path string) error { return overwrite(path, 16, make([]byte, 4000)) },
		"middle":     func(path string) error { return overwrite(path, 9000, make([]byte, 60000)) },
		"journal only": func(path string) error {
			must(t, os.WriteFile(path+"-wal", []byte("a journal of no file"), 0o600))
			return os.Remove(path)
		},
	} {
		t.Run(name, func(t *testing.T) {
			f, _, _ := aShop(t, fresh)
			want := contents(t, f)
			copy := copyOf(t, f)
			must(t, f.Close())
			must(t, spoil(f.Path()))
			spoilt, _ := os.ReadFile(f.Path())
			aside := filepath.Join(t.TempDir(), "aside")
			must(t, PutBack(t.Context(), f.Path(), copy, kept(t, f, aside)))
			back, err := Open(t.Context(), f.Path())
			must(t, err)
			defer back.Close()
			if d := differs(want, contents(t, back)); d != "" {
				t.Errorf("the file does not hold what was put back: %s", d)
			}
			if about, err := os.Stat(f.Path()); err != nil || about.Mode().Perm() != 0o600 {
				t.Errorf("the file is %v, %v; want it for its owner alone", about.Mode(), err)
			}
			if len(spoilt) > 0 {
				if held, err := os.ReadFile(aside); err != nil || string(held) != string(spoilt) && name != "middle" {
					t.Errorf("the spoilt file was not kept as it was: %v", err)
				}
			}
			if left := hidden(t, filepath.Dir(f.Path())); len(left) > 0 {
				t.Errorf("it left %v behind", left)
			}
		})
	}
}

// hidden are the passing files in a folder.
func hidden(t testing.TB, folder string) []string {
	t.Helper()
	out, err := filepath.Glob(filepath.Join(folder, ".*"))
	must(t, err)
	return out
}

func overwrite(path string, at int64, with []byte) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	_, err = f.WriteAt(with, at)
	return errors.Join(err, f.Close())
}

func TestWhatIsNoSoundCopyIsNotPutBack(t *testing.T) {
	f, _, _ := aShop(t, fresh)
	want := contents(t, f)
	damaged, newer := copyOf(t, f), copyOf(t, f)
	must(t, overwrite(damaged, 9000, make([]byte, 60000)))
	n, err := Open(t.Context(), newer)
	must(t, err)
	byHand(t, n, "PRAGMA user_version = 999")
	must(t, n.Close())
	for _, c := range []struct {
		path string
		want error
	}{{damaged, ErrDamaged}, {newer, ErrNewer}, {holding(t, []byte("no shop")), ErrNotShopFile}, {filepath.Join(t.TempDir(), "none"), os.ErrNotExist}} {
		err := PutBack(t.Context(), f.Path(), c.path, func(context.Context) error { t.Error("something was kept"); return nil })
		wantError(t, err, c.want)
		same(t, "after refusing "+c.path, want, contents(t, f))
	}
	broken := errors.New("no room to keep it")
	err = PutBack(t.Context(), f.Path(), copyOf(t, f), func(context.Context) error { return broken })
	wantError(t, err, broken)
	same(t, "after it could not be kept", want, contents(t, f))
	if left := hidden(t, filepath.Dir(f.Path())); len(left) > 0 {
		t.Errorf("it left %v behind", left)
	}
}

// Somebody writes on while a copy is put back: every change that was saved is either in what was kept last
// or made after, on top of what was put back.
func TestWhatIsWrittenMeanwhileIsKept(t *testing.T) {
	f := fresh(t)
	r := saved(t, f)
	copy := copyOf(t, f)
	aside := filepath.Join(t.TempDir(), "aside")
	writes := 0
	must(t, PutBack(t.Context(), f.Path(), copy, func(ctx context.Context) error {
		if err := kept(t, f, aside)(ctx); err != nil {
			return err
		}
		if writes++; writes < 4 { // just after it was kept
			return f.Write(ctx, "late", "", func(tx *Tx) error { return tx.PutRecord(&costing.Record{Stage: costing.Prospect, Note: "late"}) })
		}
		return nil
	}))
	if writes != 4 {
		t.Errorf("it was kept %d times, want once after each of 3 writes and at first", writes)
	}
	old, err := Open(t.Context(), aside)
	must(t, err)
	defer old.Close()
	if got := len(contents(t, old).Records); got != 4 {
		t.Errorf("%d motors were kept, want the 4 that were there", got)
	}
	if got := contents(t, f).Records; len(got) != 1 || got[0].ID != r.ID {
		t.Errorf("the file has %d motors, want the one of the copy", len(got))
	}
}
