package shopfile

import (
	"context"
	"errors"
	"os"

	"skegworth/valuation/say"
)

// admit opens a file that lies on a disk: it deals with what was left beside it, and then finds out what it
// is. It closes what it cannot let in.
func (f *File) admit(ctx context.Context, about os.FileInfo) error {
	if err := f.beside(ctx, about); err != nil {
		_ = f.db.Close()
		return err
	}
	err := f.offWriteAhead(ctx)
	if err == nil {
		err = f.receive(ctx)
	}
	if err == nil {
		err = countOn(ctx, f.db)
	}
	if err == nil {
		err = f.clockNote(ctx)
	}
	if err != nil {
		_ = f.db.Close()
		f.letGo()
	}
	return err
}

// beside counts the file as open in this process, after journals were set aside that do not belong to it.
func (f *File) beside(ctx context.Context, about os.FileInfo) error {
	held.Lock()
	defer held.Unlock()
	if atHandOf(about) == nil {
		notes, err := withoutStrays(ctx, f.path)
		if err != nil {
			return err
		}
		f.notes = append(f.notes, notes...)
	}
	f.letGo = hold(about)
	f.there = func() error {
		now, err := os.Stat(f.path)
		if err == nil && !os.SameFile(now, about) {
			err = errors.New("another file is there")
		}
		return err
	}
	return nil
}

// journal has the file keep its changes in a write-ahead log, unless it lies on another computer.
func (f *File) journal(ctx context.Context) error {
	if f.distant(f.path) {
		f.notes = append(f.notes, say.New("open.network",
			"The shop file lies in a folder on a network: only one computer at a time may have it open. For several at once, keep the shop on a server."))
		return nil
	}
	// A copy is not in write-ahead mode yet. Where another program is just making the switch, or the
	// disk cannot do it, the file works as it is.
	var mode string
	if err := f.db.QueryRowContext(ctx, "PRAGMA journal_mode = WAL").Scan(&mode); err != nil && !isBusy(err) {
		return err
	}
	return nil
}

// offWriteAhead has a sound file that lies on another computer keep its changes in a rollback journal: a
// write-ahead log needs memory that all who have the file open share. Holding the file for itself alone, the
// connection that makes the switch needs none.
func (f *File) offWriteAhead(ctx context.Context) error {
	if !f.distant(f.path) {
		return nil
	}
	opened, err := engine{f.path}.Connect(ctx)
	if err != nil {
		return err
	}
	c := opened.(*conn)
	defer c.inner.Close()
	if err := c.run(ctx, "PRAGMA locking_mode = EXCLUSIVE"); err != nil {
		return err
	}
	id, err := c.number(ctx, "PRAGMA application_id")
	if err != nil || id != applicationID {
		return err // what it is will be said later
	}
	version, err := c.number(ctx, "PRAGMA user_version")
	if err != nil || version > schemaVersion {
		return err
	}
	faults, err := c.number(ctx, "SELECT COUNT(*) FROM pragma_quick_check WHERE quick_check <> 'ok'")
	if err != nil || faults > 0 {
		return err
	}
	return c.run(ctx, "PRAGMA journal_mode = DELETE")
}
