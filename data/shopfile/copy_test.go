package shopfile

import (
	"os"
	"path/filepath"
	"testing"
)

func TestACopyIsAWholeShop(t *testing.T) {
	f, _, _ := aShop(t, fresh)
	write(t, f, "the window", func(tx *Tx) error { return tx.PutPreference("width", "1280") })
	path := filepath.Join(t.TempDir(), "copy")
	must(t, f.CopyTo(t.Context(), path))
	saved(t, f) // what is written later is not in the copy
	c, err := Open(t.Context(), path)
	must(t, err)
	defer c.Close()
	_, err = f.Undo(t.Context())
	must(t, err)
	same(t, "copy", contents(t, f), contents(t, c))
	width, err := c.Preference(t.Context(), "width")
	must(t, err)
	wantLabel(t, "kept as a preference", width, "1280")
	label, err := c.Undo(t.Context())
	must(t, err)
	wantLabel(t, "undone in the copy", label, "a shop")
}

func TestACopyNeverReplaces(t *testing.T) {
	f, _, _ := aShop(t, fresh)
	for _, path := range []string{f.Path(), holding(t, []byte("mine")), holding(t, nil), t.TempDir()} {
		before, _ := os.ReadFile(path)
		wantError(t, f.CopyTo(t.Context(), path), ErrExists)
		if after, _ := os.ReadFile(path); string(after) != string(before) {
			t.Errorf("%s was changed", path)
		}
	}
}

func TestACopyIsMadeWhileOthersWrite(t *testing.T) {
	f := fresh(t)
	r := saved(t, f)
	folder := t.TempDir()
	several(t, 2, func(i int) error {
		if i == 0 {
			return raise(t.Context(), f, r.ID, 60)
		}
		for n := range 5 {
			path := filepath.Join(folder, string(rune('a'+n)))
			if err := f.CopyTo(t.Context(), path); err != nil {
				return err
			}
			c, err := Open(t.Context(), path)
			if err != nil {
				return err
			}
			got, err := c.Record(t.Context(), r.ID)
			if err != nil {
				return err
			}
			if int(got.Ask) != len(got.Lines) {
				t.Errorf("a copy has a price of %d and %d lines", got.Ask, len(got.Lines))
			}
			if err := c.Close(); err != nil {
				return err
			}
		}
		return nil
	})
	left, err := os.ReadDir(folder)
	must(t, err)
	if len(left) != 5 {
		t.Errorf("the folder holds %v, want five copies", left)
	}
}
