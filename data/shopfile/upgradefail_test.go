package shopfile

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"skegworth/data/shopfile/throwaway"
)

func init() {
	// open older opens a shop file and keeps a copy of it first, in a file of its own.
	tasks["open older"] = func(ctx context.Context, args []string) error {
		f, err := Open(ctx, args[0], WithBeforeUpgrade(func(ctx context.Context, f *File, _ int) error {
			return f.CopyTo(ctx, fmt.Sprintf("%s.copy of %d", args[0], os.Getpid()))
		}))
		if err != nil {
			return err
		}
		defer f.Close()
		_, err = f.Read(ctx)
		return err
	}
	// die upgrading is killed when the journal of the upgrade has grown to so many bytes.
	tasks["die upgrading"] = func(ctx context.Context, args []string) error {
		from, err := strconv.ParseInt(args[1], 10, 64)
		if err != nil {
			return err
		}
		die := func() {
			self, _ := os.FindProcess(os.Getpid())
			_ = self.Kill()
			select {}
		}
		f, err := Open(ctx, args[0], WithBeforeUpgrade(func(context.Context, *File, int) error {
			if from == 0 {
				die()
			}
			go func() {
				for {
					if about, err := os.Stat(args[0] + "-wal"); err == nil && about.Size() >= from {
						die()
					}
				}
			}()
			return nil
		}))
		if err != nil {
			return err
		}
		return f.Close()
	}
}

// A program that is killed while it brings a file up to date leaves it as it was or as it is to be, and the
// next one to open it finds every row.
func TestAKilledUpgradeLosesNothing(t *testing.T) {
	unfinished := 0
	for schema := 1; schema < schemaVersion; schema++ {
		for _, journal := range []int64{0, 1, 100_000, 300_000} {
			path := sample(t, schema)
			was, columns := rowsOf(t, path, nil)
			err := program("die upgrading", path, strconv.FormatInt(journal, 10))
			var killed *exec.ExitError
			if err != nil && (!errors.As(err, &killed) || killed.Exited()) {
				t.Fatalf("schema %d, journal of %d bytes: %v", schema, journal, err)
			}
			looked, err := Look(t.Context(), path)
			must(t, err)
			left, err := looked.SchemaOf(t.Context())
			must(t, err)
			must(t, looked.Close())
			if left != schema && left != schemaVersion {
				t.Errorf("a file of schema %d, stopped at a journal of %d bytes, is of schema %d", schema, journal, left)
			}
			if left == schema {
				unfinished++
			}
			f, err := Open(t.Context(), path)
			must(t, err)
			report, err := f.Check(t.Context())
			must(t, err)
			must(t, f.Close())
			if !report.OK() {
				t.Errorf("schema %d, journal of %d bytes: the check says %v", schema, journal, report.Strings())
			}
			is, _ := rowsOf(t, path, columns)
			if diff := cmp.Diff(was, is); diff != "" {
				t.Errorf("schema %d, journal of %d bytes, before and after:\n%s", schema, journal, diff)
			}
		}
	}
	if unfinished < schemaVersion {
		t.Errorf("only %d upgrades were stopped before they were done", unfinished)
	}
}

// Of several programs that open an older file at once, one keeps one copy of it and brings it up to date.
func TestProgramsOpeningAnOlderFileAtOnceMakeOneCopy(t *testing.T) {
	for _, schema := range []int{1, 3, schemaVersion - 1} {
		path := sample(t, schema)
		was, columns := rowsOf(t, path, nil)
		several(t, 5, func(int) error { return program("open older", path) })
		copies, err := filepath.Glob(path + ".copy of *")
		must(t, err)
		if len(copies) != 1 {
			t.Fatalf("schema %d: %d copies", schema, len(copies))
		}
		if got := schemaOf(t, copies[0]); got != schema {
			t.Errorf("the copy of a file of schema %d is of schema %d", schema, got)
		}
		is, _ := rowsOf(t, path, columns)
		if diff := cmp.Diff(was, is); diff != "" {
			t.Errorf("before and after:\n%s", diff)
		}
		soundShop(t, path, len(was["motors"]))
	}
}

// newer is a shop file as a program of the next schema might leave it: a table and a column that nobody here
// knows, and the number that says so.
func newer(t *testing.T) string {
	t.Helper()
	path := sample(t, schemaVersion)
	setHeader(t, path, "user_version", schemaVersion+1,
		"ALTER TABLE motors ADD COLUMN colour TEXT NOT NULL DEFAULT 'grey'",
		"CREATE TABLE paints (id TEXT NOT NULL PRIMARY KEY, name TEXT NOT NULL)",
		"INSERT INTO paints VALUES ('p', 'marine grey')",
		fmt.Sprintf("INSERT INTO goose_db_version (version_id, is_applied) VALUES (%d, 1)", schemaVersion+1))
	return path
}

// A file of a newer program is refused in one sentence by whatever would open it, and not touched: no byte,
// no date, nothing beside it.
func TestANewerFileIsLeftAlone(t *testing.T) {
	for name, open := range map[string]func(path string) error{
		"open": func(path string) error { return closing(Open(t.Context(), path)) },
		"open with a hook": func(path string) error {
			return closing(Open(t.Context(), path, WithBeforeUpgrade(func(context.Context, *File, int) error {
				t.Error("it was announced as an older one")
				return nil
			})))
		},
		"look": func(path string) error { return closing(Look(t.Context(), path)) },
		"rescue": func(path string) error {
			_, err := Rescue(t.Context(), path, filepath.Join(t.TempDir(), "rescued"))
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			path := newer(t)
			long := time.Now().Add(-48 * time.Hour).Truncate(time.Second)
			must(t, os.Chtimes(path, long, long))
			before, err := os.ReadFile(path)
			must(t, err)
			wantError(t, open(path), ErrNewer)
			untouched(t, path, before, long)
		})
	}
}

func closing(f *File, err error) error {
	if err == nil {
		err = f.Close()
	}
	return err
}

// untouched makes sure that a file is as it was, alone in its folder.
func untouched(t *testing.T, path string, before []byte, changed time.Time) {
	t.Helper()
	after, err := os.ReadFile(path)
	must(t, err)
	if string(after) != string(before) {
		t.Error("the file was changed")
	}
	if about, err := os.Stat(path); err != nil || !about.ModTime().Equal(changed) {
		t.Errorf("the file was last changed %v, want %v (%v)", about.ModTime(), changed, err)
	}
	left, err := os.ReadDir(filepath.Dir(path))
	must(t, err)
	if len(left) != 1 {
		t.Errorf("in its folder are %v, want it alone", left)
	}
}

// What a newer program made of a shop that is open here is neither read, for it may mean something else by
// now, nor written to.
func TestReadingStopsWhenANewerProgramTookOver(t *testing.T) {
	f := fresh(t)
	r := saved(t, f)
	byHand(t, f, fmt.Sprintf("PRAGMA user_version = %d", schemaVersion+1))
	_, err := f.Read(t.Context())
	wantError(t, err, ErrNewer)
	_, err = f.Record(t.Context(), r.ID)
	wantError(t, err, ErrNewer)
	_, err = f.Undo(t.Context())
	wantError(t, err, ErrNewer)
	byHand(t, f, fmt.Sprintf("PRAGMA user_version = %d", schemaVersion))
	_, err = f.Record(t.Context(), r.ID)
	must(t, err)
}

// A shop of an older program on a server is announced too, once, and brought up to date.
func TestAnOlderShopOnAServerIsAnnounced(t *testing.T) {
	address := throwaway.Shop(t)
	older, err := onServer(address, nil)
	must(t, err)
	must(t, raiseTo(t.Context(), older.db, 3))
	byHand(t, older, "INSERT INTO preferences (name, setting) VALUES ('mode', 'dark')")
	must(t, older.Close())
	reason := errors.New("there is no room for a copy")
	_, err = Open(t.Context(), address, WithBeforeUpgrade(func(context.Context, *File, int) error { return reason }))
	wantError(t, err, reason)
	var told []int
	f, err := Open(t.Context(), address, WithBeforeUpgrade(func(_ context.Context, _ *File, from int) error {
		told = append(told, from)
		return nil
	}))
	must(t, err)
	defer f.Close()
	if len(told) != 1 || told[0] != 3 {
		t.Errorf("it was announced as of %v, want once as of 3", told)
	}
	if mode, err := f.Preference(t.Context(), "mode"); err != nil || mode != "dark" {
		t.Errorf("the preference is %q, %v", mode, err)
	}
	again, err := Open(t.Context(), address, WithBeforeUpgrade(func(context.Context, *File, int) error { return reason }))
	must(t, err)
	must(t, again.Close())
}
