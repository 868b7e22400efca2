package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// aged is a shop file of an older schema with one motor in it.
func aged(t *testing.T, schema int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop")
	must(t, os.WriteFile(path, nil, 0o600))
	must(t, mark(t.Context(), path))
	db := sql.OpenDB(engine{path})
	defer db.Close()
	db.SetMaxOpenConns(1)
	must(t, climbTo(t.Context(), db, schema))
	_, err := db.Exec("INSERT INTO preferences (name, setting) VALUES ('mode', 'dark')")
	must(t, err)
	return path
}

// schemaOf is the number in the header of a file, read from the file itself.
func schemaOf(t *testing.T, path string) int {
	t.Helper()
	data, err := os.ReadFile(path)
	must(t, err)
	return int(data[60])<<24 | int(data[61])<<16 | int(data[62])<<8 | int(data[63])
}

func TestAnOlderFileIsAnnouncedBeforeItIsUpgraded(t *testing.T) {
	for from := 1; from < schemaVersion; from++ {
		path := aged(t, from)
		kept := path + " kept"
		calls := 0
		f, err := Open(t.Context(), path, WithBeforeUpgrade(func(ctx context.Context, f *File, of int) error {
			calls++
			if of != from {
				t.Errorf("a file of schema %d was announced as of %d", from, of)
			}
			return f.CopyTo(ctx, kept)
		}))
		must(t, err)
		must(t, f.Close())
		if got := schemaOf(t, kept); calls != 1 || got != from {
			t.Errorf("announced %d times, the copy is of schema %d, want 1 and %d", calls, got, from)
		}
		soundShop(t, path, 0)
	}
}

func TestAFileThatIsUpToDateIsNotAnnounced(t *testing.T) {
	never := WithBeforeUpgrade(func(context.Context, *File, int) error { return errors.New("it was announced") })
	f := fresh(t, never)
	again, err := Open(t.Context(), f.Path(), never)
	must(t, err)
	must(t, again.Close())
}

// Where no copy can be kept, the older file is left for another day.
func TestAnUpgradeThatIsRefusedLeavesTheFile(t *testing.T) {
	path := aged(t, 1)
	before, err := os.ReadFile(path)
	must(t, err)
	reason := errors.New("there is no room for a copy")
	_, err = Open(t.Context(), path, WithBeforeUpgrade(func(context.Context, *File, int) error { return reason }))
	wantError(t, err, reason)
	want := fmt.Sprintf("open %q: it is of an older version of the program and stays as it is: there is no room for a copy", path)
	if err.Error() != want {
		t.Errorf("the error is %q, want %q", err, want)
	}
	after, err := os.ReadFile(path)
	must(t, err)
	if string(after) != string(before) {
		t.Error("the file was changed")
	}
	left, err := os.ReadDir(filepath.Dir(path))
	must(t, err)
	if len(left) != 1 {
		t.Errorf("left beside it: %v", left)
	}
}
