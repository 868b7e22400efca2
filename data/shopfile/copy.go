package shopfile

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"fmt"
	"path/filepath"
	"time"

	"github.com/mattn/go-sqlite3"
)

// CopyTo writes a copy of the shop as it is at this moment, while others may go on writing to it. The copy
// is a whole shop file of its own, undo log and preferences included, that only its owner may read and
// write; it appears once it is whole, on the disk and looked through, or not at all. A file that is there
// already is never replaced: the error is [ErrExists]. Progress is told how many of how many pages are
// copied; when ctx ends, so does the copying.
func (f *File) CopyTo(ctx context.Context, path string, progress ...func(done, of int)) error {
	doing := fmt.Sprintf("copy the shop file to %q", path)
	how, can := f.dialect.(copier)
	if !can {
		return told{fmt.Errorf("%s: a shop on this server cannot be copied", doing)}
	}
	err := publish(doing, path, func(draft string) error {
		return how.copyTo(ctx, f, draft, func(done, of int) {
			for _, p := range progress {
				p(done, of)
			}
		})
	})
	return explain(doing, err)
}

// copier is a dialect that copies a shop as it is at one moment into an empty file, and makes sure of it.
type copier interface {
	copyTo(ctx context.Context, f *File, draft string, progress func(done, of int)) error
}

func (inFile) copyTo(ctx context.Context, f *File, draft string, progress func(done, of int)) error {
	return copyPages(ctx, engine{f.path}, draft, progress)
}

// copyPages copies page by page what one transaction sees that goes on reading meanwhile: others write on,
// and nothing has to be begun again.
func copyPages(ctx context.Context, from driver.Connector, draft string, progress func(done, of int)) error {
	opened, err := from.Connect(ctx)
	if err != nil {
		return err
	}
	c := opened.(*conn)
	db := sql.OpenDB(&once{c: c})
	db.SetMaxOpenConns(1)
	defer db.Close()
	tx, err := db.BeginTx(ctx, asOfNow)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	taken, err := momentIn(ctx, tx)
	if err != nil {
		return err
	}
	if err := pages(ctx, c.inner, draft, progress); err != nil {
		return err
	}
	return copied(ctx, draft, taken)
}

// copied makes sure that a copy is sound and holds what was there at the moment it was taken.
func copied(ctx context.Context, draft string, taken Moment) error {
	db := sql.OpenDB(engine{draft})
	defer db.Close()
	db.SetMaxOpenConns(1)
	if err := sound(ctx, db); err != nil {
		return err
	}
	got, err := momentIn(ctx, db)
	if err != nil {
		return err
	}
	if !got.Same(taken) {
		return &damage{[]string{"the copy does not hold what was copied"}}
	}
	return nil
}

const (
	stepPages = 1000             // copied between two looks at whether to go on
	stepRest  = time.Millisecond // between two tries at a lock
	stepsWait = 10 * time.Second // for a lock that another holds, as long as any statement waits
)

// pages copies a database into an empty file, page by page as they are, be they damaged or not. The copy
// has no write-ahead log of its own: it is one file.
func pages(ctx context.Context, from *sqlite3.SQLiteConn, draft string, progress func(done, of int)) error {
	err := onto(ctx, draft, from, progress)
	if err != nil {
		return err
	}
	opened, err := engine{draft}.Connect(ctx)
	if err != nil {
		return err
	}
	c := opened.(*conn)
	defer c.inner.Close()
	if err := c.run(ctx, "PRAGMA locking_mode = EXCLUSIVE"); err != nil { // needs no memory shared with others
		return err
	}
	return c.run(ctx, "PRAGMA journal_mode = DELETE")
}

// onto copies the pages into a file that nobody else knows of and that is thrown away if this fails.
func onto(ctx context.Context, draft string, from *sqlite3.SQLiteConn, progress func(done, of int)) error {
	raw, err := (&sqlite3.SQLiteDriver{}).Open(address(draft))
	if err != nil {
		return err
	}
	to := raw.(*sqlite3.SQLiteConn)
	defer to.Close()
	for _, pragma := range []string{"PRAGMA locking_mode = EXCLUSIVE", "PRAGMA journal_mode = OFF", "PRAGMA synchronous = OFF"} {
		if _, err := to.ExecContext(ctx, pragma, nil); err != nil {
			return err
		}
	}
	b, err := to.Backup("main", from, "main")
	if err != nil {
		return err
	}
	if err := stepOn(ctx, b, progress); err != nil {
		_ = b.Finish()
		return err
	}
	return plainly(b.Finish())
}

// stepOn goes on with a copy of pages until it is done. A lock that another holds is waited for.
func stepOn(ctx context.Context, b *sqlite3.SQLiteBackup, progress func(done, of int)) error {
	left, since := -1, time.Now()
	for {
		if err := ctx.Err(); err != nil {
			return err
		}
		done, err := b.Step(stepPages)
		if err != nil {
			return plainly(err)
		}
		if of := b.PageCount(); of > 0 {
			progress(of-b.Remaining(), of)
		}
		switch now := b.Remaining(); {
		case done:
			return nil
		case b.PageCount() > 0 && now != left:
			left, since = now, time.Now()
		case time.Since(since) > stepsWait:
			return ErrBusy
		default:
			time.Sleep(stepRest)
		}
	}
}

// plainly takes apart the code that the copying of pages answers with, which is an extended one.
func plainly(err error) error {
	if e, ok := err.(sqlite3.Error); ok && e.Code > 0xff {
		e.Code, e.ExtendedCode = e.Code&0xff, sqlite3.ErrNoExtended(e.Code)
		return e
	}
	return err
}

// Preserve keeps the shop file at path under another name as it is, be it damaged or no shop file at all:
// page by page where the engine can read it, and byte by byte, its journals too, where it cannot. Nothing
// there is replaced.
func Preserve(ctx context.Context, path, to string) error {
	doing := fmt.Sprintf("keep %q as it is", filepath.Base(path))
	err := publish(doing, to, func(draft string) error {
		if opened, err := (engine{path}).Connect(ctx); err == nil {
			c := opened.(*conn)
			defer c.inner.Close()
			if err := c.run(ctx, "BEGIN"); err == nil {
				if err = pages(ctx, c.inner, draft, func(int, int) {}); err == nil || ctx.Err() != nil {
					return err
				}
			}
		}
		return asBytes(path, draft, to)
	})
	return explain(doing, err)
}
