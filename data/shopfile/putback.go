package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/mattn/go-sqlite3"
)

// PutBack gives the shop at path the content of a copy, undo log and preferences included. A copy of an
// older program is brought up to date on the way; what is no sound shop file is refused, and so is one of a
// newer program, and nothing is changed then.
//
// Where the file at path can still be worked with, all of it changes in one transaction, and whoever has it
// open goes on with what was put back: every row has a version above all it had. Where it cannot, or is
// not there, the content takes its place as one file.
//
// Keep is called first, with nothing changed yet, where something is at path: it is to keep that. It is
// called again when somebody wrote to the file meanwhile, so that what it kept last is what was replaced.
// Its error ends it all.
func PutBack(ctx context.Context, path, from string, keep func(context.Context) error) error {
	doing := fmt.Sprintf("put back the copy %q", filepath.Base(from))
	full, err := filepath.Abs(path)
	if err != nil {
		return fmt.Errorf("%s: %w", doing, err)
	}
	if IsServer(path) {
		return told{fmt.Errorf("%s: a shop on a server cannot be replaced; move the copy to a fresh place", doing)}
	}
	draft, remove, err := readied(ctx, doing, filepath.Dir(full), from)
	if err != nil {
		return explain(doing, err)
	}
	defer remove()
	if _, err := os.Lstat(full); errors.Is(err, fs.ErrNotExist) {
		return explain(doing, takePlace(draft, full, keep, ctx))
	}
	err = replace(ctx, full, draft, keep)
	var refused *unworkable
	if errors.As(err, &refused) {
		err = takePlace(draft, full, keep, ctx)
	}
	return explain(doing, err)
}

// readied makes of a copy a sound shop file of the newest schema, in the folder, under a passing name.
func readied(ctx context.Context, doing, folder, from string) (draft string, remove func(), err error) {
	copy, err := Look(ctx, from)
	if err != nil {
		return "", nil, err
	}
	defer copy.Close()
	place, err := os.MkdirTemp(folder, ".skegworth-*")
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil, &trouble{doing, fmt.Errorf("there is no folder %q", folder), err}
	}
	if err != nil {
		return "", nil, err
	}
	remove = func() { os.RemoveAll(place) }
	defer func() {
		if err != nil {
			remove()
		}
	}()
	draft = filepath.Join(place, "shop")
	if err := copy.CopyTo(ctx, draft); err != nil {
		return "", nil, err
	}
	if err := migrate(ctx, draft, unasked); err != nil {
		return "", nil, err
	}
	db := sql.OpenDB(engine{draft})
	defer db.Close()
	if err := tablesThere(ctx, db); err != nil {
		return "", nil, err
	}
	return draft, remove, referencesHold(ctx, db)
}

// unworkable is why the engine can do nothing with the file that is to be replaced.
type unworkable struct{ error }

func (u *unworkable) Unwrap() error { return u.error }

// unworkableIf marks the errors that say so of the file itself.
func unworkableIf(err error) error {
	var engine sqlite3.Error
	if errors.As(err, &engine) {
		switch engine.Code {
		case sqlite3.ErrCorrupt, sqlite3.ErrNotADB, sqlite3.ErrFormat, sqlite3.ErrError, sqlite3.ErrCantOpen, sqlite3.ErrMismatch:
			return &unworkable{err}
		}
	}
	return err
}

// triesToReplace is how often somebody may write in between before it is given up.
const triesToReplace = 50

// replace puts the draft's content into the file in one transaction.
func replace(ctx context.Context, path, draft string, keep func(context.Context) error) error {
	opened, err := engine{path}.Connect(ctx)
	if err != nil {
		return unworkableIf(err)
	}
	watcher := opened.(*conn)
	defer watcher.inner.Close()
	if id, err := watcher.number(ctx, "PRAGMA application_id"); err != nil || id != applicationID {
		if err != nil {
			return unworkableIf(err)
		}
		return &unworkable{ErrNotShopFile}
	}
	for range triesToReplace {
		before, err := watcher.number(ctx, "PRAGMA data_version")
		if err != nil {
			return unworkableIf(err)
		}
		if err := keep(ctx); err != nil {
			return err
		}
		if err := aboveAll(ctx, path, draft); err != nil {
			return err
		}
		done, err := pourInto(ctx, path, draft, func() (bool, error) {
			now, err := watcher.number(ctx, "PRAGMA data_version")
			return now == before, err
		})
		if done || err != nil {
			return err
		}
	}
	return ErrBusy
}

// pourInto copies all pages of the draft into the file in one transaction. Once nobody else can write any
// more it asks whether all is as it was, and leaves it at that when it is not.
func pourInto(ctx context.Context, path, draft string, asItWas func() (bool, error)) (done bool, err error) {
	opened, err := engine{path}.Connect(ctx)
	if err != nil {
		return false, err
	}
	to := opened.(*conn)
	defer to.inner.Close()
	if opened, err = (engine{draft}).Connect(ctx); err != nil {
		return false, err
	}
	from := opened.(*conn)
	defer from.inner.Close()
	b, err := to.inner.Backup("main", from.inner, "main")
	if err != nil {
		return false, err
	}
	if _, err := b.Step(0); err != nil { // takes the lock and copies nothing yet
		_ = b.Finish()
		return false, unworkableIf(plainly(err))
	}
	if b.PageCount() == 0 {
		_ = b.Finish()
		return false, ErrBusy
	}
	if same, err := asItWas(); err != nil || !same {
		_ = b.Finish()
		return false, err
	}
	// From here on it is short, and to stop midway would gain nothing.
	if err := stepOn(context.WithoutCancel(ctx), b, func(int, int) {}); err != nil {
		_ = b.Finish()
		return false, err
	}
	return true, plainly(b.Finish())
}

// beyond is above all versions of rows that cannot be read any more.
const beyond = 1 << 20

// aboveAll gives every row of the draft a version above all that the file has: who still holds a row as it was
// in the file must not take it for what was put back.
func aboveAll(ctx context.Context, path, draft string) error {
	db := sql.OpenDB(engine{path})
	defer db.Close()
	var highest int64
	for _, name := range versioned() {
		var n int64
		err := db.QueryRowContext(ctx, `SELECT COALESCE(MAX(version), 0) FROM "`+name+`"`).Scan(&n)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil: // a table of a newer schema than the file's, or a damaged one
			n = beyond
		}
		highest = max(highest, n)
	}
	to := sql.OpenDB(engine{draft})
	defer to.Close()
	tx, err := to.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	for _, name := range versioned() {
		if _, err := tx.ExecContext(ctx, `UPDATE "`+name+`" SET version = version + $1`, highest); err != nil {
			return err
		}
	}
	return tx.Commit()
}

// versioned are the tables whose rows carry a version.
func versioned() []string {
	out := []string{"gone"}
	for _, t := range tables {
		out = append(out, t.name)
	}
	return out
}

// takePlace gives the draft the name of the file. Nobody may have that open: its program would go on writing
// to what is no longer there.
func takePlace(draft, path string, keep func(context.Context) error, ctx context.Context) error {
	held.Lock()
	defer held.Unlock()
	about, err := os.Lstat(path)
	there := err == nil
	if there {
		if atHandOf(about) != nil {
			return ErrBusy
		}
		file, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			return err
		}
		defer file.Close()
		if !alone(file) {
			return ErrBusy
		}
		if err := keep(ctx); err != nil {
			return err
		}
		if !alone(file) { // keeping it opened and closed it, which let go of the locks
			return ErrBusy
		}
	} else if len(leftover(path)) > 0 {
		if err := keep(ctx); err != nil {
			return err
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := settle(ctx, draft); err != nil {
		return err
	}
	if err := flush(draft, os.O_RDWR); err != nil {
		return err
	}
	// What was kept has these too. They go first: the engine would take them into the new file.
	for _, end := range []string{"-journal", "-wal", "-shm"} {
		if err := os.Remove(path + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	if there {
		err = os.Rename(draft, path)
	} else {
		err = give(draft, path)
	}
	_ = flush(filepath.Dir(path), os.O_RDONLY) // not every system can flush a folder
	return err
}

// asBytes keeps the file and its journals byte by byte. Where nothing but journals is left, the draft stays
// empty.
func asBytes(path, draft, to string) error {
	for _, end := range append([]string{""}, leftover(path)...) {
		from, err := os.Open(path + end)
		if end == "" && errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		target := to + end
		if end == "" {
			target = draft
		}
		err = pourOver(target, from)
		from.Close()
		if err == nil {
			err = flush(target, os.O_RDWR)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// pourOver writes all that can be read; the rest of a file on a failing disk cannot be kept by anybody.
func pourOver(path string, from io.Reader) error {
	to, err := os.OpenFile(path, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(to, from)
	return errors.Join(err, to.Close())
}
