package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
)

// closedShop is the path of a shop file with a hundred motors, all of it in the one file.
func closedShop(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop")
	f, err := Create(context.Background(), path)
	must(t, err)
	write(t, f, "a hundred motors", func(tx *Tx) error {
		for range 100 {
			r := halvard()
			r.Note = strings.Repeat("cowl ", 50)
			if err := tx.PutRecord(&r); err != nil {
				return err
			}
		}
		return nil
	})
	must(t, f.Close())
	return path
}

func TestOpenRefusesWithOneSentence(t *testing.T) {
	for _, c := range []struct {
		name string
		path func(t *testing.T) string
		is   error
		says string
	}{
		{"missing", func(t *testing.T) string { return filepath.Join(t.TempDir(), "nothing here") }, fs.ErrNotExist, "there is no such file"},
		{"in a missing folder", func(t *testing.T) string { return filepath.Join(t.TempDir(), "no", "shop") }, fs.ErrNotExist, "there is no such file"},
		{"folder", func(t *testing.T) string { return t.TempDir() }, ErrNotShopFile, "this is not a shop file"},
		{"empty", func(t *testing.T) string { return holding(t, nil) }, ErrNotShopFile, "this is not a shop file, it is empty"},
		{"text", func(t *testing.T) string { return holding(t, []byte("sold,price,power\n2026-01-01,1200,40\n")) }, ErrNotShopFile, "this is not a shop file"},
		{"long text", func(t *testing.T) string { return holding(t, []byte(strings.Repeat("price ", 5000))) }, ErrNotShopFile, "this is not a shop file"},
		{"start of a database", func(t *testing.T) string { return holding(t, []byte("SQLite format 3\x00")) }, ErrNotShopFile, "this is not a shop file"},
		{"another database", func(t *testing.T) string {
			path := filepath.Join(t.TempDir(), "other")
			db, err := sql.Open("sqlite3", path)
			must(t, err)
			defer db.Close()
			_, err = db.Exec("CREATE TABLE motors (id TEXT)")
			must(t, err)
			return path
		}, ErrNotShopFile, "this is not a shop file"},
		{"newer", func(t *testing.T) string {
			path := closedShop(t)
			setHeader(t, path, "user_version", schemaVersion+1)
			return path
		}, ErrNewer, "the shop file was written by a newer version of the program, which is needed to open it"},
		{"cut off", func(t *testing.T) string {
			path := closedShop(t)
			about, err := os.Stat(path)
			must(t, err)
			must(t, os.Truncate(path, about.Size()/2))
			return path
		}, ErrDamaged, "the shop file is damaged"},
		{"cut to its first page", func(t *testing.T) string {
			path := closedShop(t)
			must(t, os.Truncate(path, 4096))
			return path
		}, ErrDamaged, "the shop file is damaged"},
		{"overwritten in the middle", func(t *testing.T) string {
			path := closedShop(t)
			data, err := os.ReadFile(path)
			must(t, err)
			copy(data[len(data)/2:], strings.Repeat("\xff", 8192))
			return holding(t, data)
		}, ErrDamaged, "the shop file is damaged"},
		{"overwritten at the start", func(t *testing.T) string {
			data, err := os.ReadFile(closedShop(t))
			must(t, err)
			copy(data, strings.Repeat("\x00", 100))
			return holding(t, data)
		}, ErrNotShopFile, "this is not a shop file"},
		{"reference to nothing", func(t *testing.T) string {
			path := closedShop(t)
			setHeader(t, path, "foreign_keys", 0, `INSERT INTO sessions VALUES ('s', 1, 'nobody', '', 60, '', 0, 0, NULL)`)
			return path
		}, ErrDamaged, "the shop file is damaged (sessions -> motors)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := c.path(t)
			before, _ := os.ReadFile(path)
			f, err := Open(t.Context(), path)
			if err == nil {
				f.Close()
				t.Fatal("it was opened")
			}
			if !errors.Is(err, c.is) {
				t.Errorf("the error is %v, not %v", err, c.is)
			}
			if want := fmt.Sprintf("open %q: %s", path, c.says); !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
				t.Errorf("the error is %q, want %q", err, want)
			}
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Error("the refused file was changed")
			}
		})
	}
}

// holding is the path of a file that holds the data.
func holding(t testing.TB, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "file")
	must(t, os.WriteFile(path, data, 0o600))
	return path
}

// setHeader sets a number through PRAGMA and then runs statements, all with the bare driver.
func setHeader(t testing.TB, path, pragma string, number int, statements ...string) {
	t.Helper()
	db, err := sql.Open("sqlite3", address(path))
	must(t, err)
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, s := range append([]string{fmt.Sprintf("PRAGMA %s = %d", pragma, number)}, statements...) {
		_, err = db.Exec(s)
		must(t, err)
	}
}

// One byte changed anywhere either is noticed on opening, or leaves a file that opens and reads without
// a crash. (A changed letter inside a text cannot be noticed; a copy is the remedy for that.)
func TestAFlippedByteNeverCrashes(t *testing.T) {
	path := closedShop(t)
	data, err := os.ReadFile(path)
	must(t, err)
	noticed := 0
	const tries = 80
	for i := range tries {
		at := i * len(data) / tries
		spoiled := append([]byte(nil), data...)
		spoiled[at] ^= 0x55
		f, err := Open(t.Context(), holding(t, spoiled))
		if err != nil {
			noticed++
			continue
		}
		if _, err := f.Read(t.Context()); err != nil && !errors.Is(err, ErrDamaged) {
			t.Errorf("byte %d: reading answers %v", at, err)
		}
		if _, err := f.Check(t.Context()); err != nil && !errors.Is(err, ErrDamaged) {
			t.Errorf("byte %d: the check answers %v", at, err)
		}
		must(t, f.Close())
	}
	if noticed == 0 {
		t.Errorf("none of %d flipped bytes was noticed on opening", tries)
	}
}

func TestCreateNeverReplaces(t *testing.T) {
	for _, c := range []struct {
		name string
		path func(t *testing.T) string
	}{
		{"shop file", func(t *testing.T) string { return closedShop(t) }},
		{"any file", func(t *testing.T) string { return holding(t, []byte("mine")) }},
		{"empty file", func(t *testing.T) string { return holding(t, nil) }},
		{"folder", func(t *testing.T) string { return t.TempDir() }},
		{"dangling link", func(t *testing.T) string {
			path := filepath.Join(t.TempDir(), "link")
			must(t, os.Symlink("nowhere", path))
			return path
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := c.path(t)
			before, _ := os.ReadFile(path)
			_, err := Create(t.Context(), path)
			wantError(t, err, ErrExists)
			if want := fmt.Sprintf("make %q: there is a file of that name already", path); err.Error() != want {
				t.Errorf("the error is %q, want %q", err, want)
			}
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Error("the file was changed")
			}
		})
	}
}

func TestCreateInAMissingFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "not there")
	path := filepath.Join(folder, "shop")
	_, err := Create(t.Context(), path)
	wantError(t, err, fs.ErrNotExist)
	if want := fmt.Sprintf("make %q: there is no folder %q", path, folder); err.Error() != want {
		t.Errorf("the error is %q, want %q", err, want)
	}
}

func TestNamesWithSigns(t *testing.T) {
	for _, name := range []string{"my shop", "what?mode=memory", "half#1", "100%", "a%41b", "semi;colon&and=", "'quoted\"", ":memory:", "schön 店", "back\\slash", "file:x"} {
		t.Run(name, func(t *testing.T) {
			folder := filepath.Join(t.TempDir(), name)
			must(t, os.Mkdir(folder, 0o700))
			path := filepath.Join(folder, name)
			f, err := Create(t.Context(), path)
			must(t, err)
			r := saved(t, f)
			must(t, f.CopyTo(t.Context(), path+" copy"))
			must(t, f.Close())
			found, err := os.ReadDir(folder)
			must(t, err)
			if len(found) != 2 {
				t.Errorf("the folder holds %v, want the file and its copy", found)
			}
			for _, path := range []string{path, path + " copy"} {
				f, err = Open(t.Context(), path)
				must(t, err)
				got, err := f.Record(t.Context(), r.ID)
				must(t, err)
				same(t, "motor", r, got)
				must(t, f.Close())
			}
		})
	}
}

func TestFilesBelongToTheirOwner(t *testing.T) {
	f := fresh(t)
	saved(t, f)
	copied := f.Path() + " copy"
	must(t, f.CopyTo(t.Context(), copied))
	for _, path := range []string{f.Path(), f.Path() + "-wal", f.Path() + "-shm", copied} {
		about, err := os.Stat(path)
		must(t, err)
		if about.Mode().Perm() != 0o600 {
			t.Errorf("%s has mode %v, want 0600", filepath.Base(path), about.Mode())
		}
	}
}

func TestARelativePathStaysTheSameFile(t *testing.T) {
	t.Chdir(t.TempDir())
	f, err := Create(t.Context(), "shop")
	must(t, err)
	defer f.Close()
	t.Chdir(t.TempDir())
	saved(t, f)
	if n := len(contents(t, f).Records); n != 1 || !filepath.IsAbs(f.Path()) {
		t.Errorf("%d motors in %q", n, f.Path())
	}
}

func TestANewShopHasTheDefaults(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		same(t, "contents", Contents{Settings: costing.DefaultSettings()}, contents(t, f))
		s, err := f.Settings(t.Context())
		must(t, err)
		same(t, "settings", costing.DefaultSettings(), s)
		c, err := f.Clock(t.Context())
		must(t, err)
		same(t, "stopwatch", costing.Clock{}, c)
		_, err = f.Record(t.Context(), NewID())
		wantError(t, err, ErrNotFound)
		_, err = f.Undo(t.Context())
		wantError(t, err, ErrNothingToUndo)
		_, err = f.Redo(t.Context())
		wantError(t, err, ErrNothingToRedo)
	})
}

// A file migrated by a newer program while it is open here is not written to any more.
func TestWritingStopsWhenANewerProgramTookOver(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		newer := fmt.Sprintf("PRAGMA user_version = %d", schemaVersion+1)
		if IsServer(f.Path()) {
			newer = fmt.Sprintf("INSERT INTO goose_db_version (version_id, is_applied) VALUES (%d, TRUE)", schemaVersion+1)
		}
		byHand(t, f, newer)
		err := f.Write(t.Context(), "price", "", func(tx *Tx) error { r := halvard(); return tx.PutRecord(&r) })
		wantError(t, err, ErrNewer)
		if !strings.HasPrefix(err.Error(), `save "price": the shop file was written by a newer version`) {
			t.Errorf("the error is %q", err)
		}
	})
}
