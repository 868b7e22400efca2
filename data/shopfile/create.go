package shopfile

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Create makes a new, empty shop file that only its owner may read and write, and opens it. A file that
// is there already is never touched: the error is [ErrExists]. The file appears whole or not at all.
func Create(ctx context.Context, path string, options ...Option) (*File, error) {
	if IsServer(path) {
		return createServer(ctx, path, options)
	}
	doing := fmt.Sprintf("make %q", path)
	if err := publish(doing, path, func(draft string) error { return build(ctx, draft) }); err != nil {
		return nil, explain(doing, err)
	}
	return Open(ctx, path, options...)
}

// build makes an empty shop file of the newest schema out of an empty file.
func build(ctx context.Context, path string) error {
	if err := mark(ctx, path); err != nil {
		return err
	}
	if err := migrate(ctx, path, unasked); err != nil {
		return err
	}
	return settle(ctx, path)
}

// settle brings everything from the write-ahead log into the file itself, or says why not. Closing tries
// the same but fails in silence, on a full disk for one, and a draft is given its name without its log.
func settle(ctx context.Context, path string) error {
	opened, err := engine{path}.Connect(ctx)
	if err != nil {
		return err
	}
	c := opened.(*conn)
	defer c.inner.Close()
	busy, err := c.number(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	if err == nil && busy != 0 {
		err = ErrBusy
	}
	return err
}

// mark makes an empty file a shop file without any tables.
func mark(ctx context.Context, path string) error {
	opened, err := engine{path}.Connect(ctx)
	if err != nil {
		return err
	}
	c := opened.(*conn)
	defer c.inner.Close()
	if err := c.run(ctx, fmt.Sprintf("PRAGMA application_id = %d", applicationID)); err != nil {
		return err
	}
	return c.run(ctx, "PRAGMA journal_mode = WAL")
}

// publish has a file made under a passing name beside path, and gives it its own name once it is whole
// and on the disk. It never replaces a file.
func publish(doing, path string, fill func(draft string) error) error {
	full, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	if _, err := os.Lstat(full); err == nil {
		return ErrExists
	}
	folder := filepath.Dir(full)
	SweepDrafts(folder, draftKind)
	draft, err := os.CreateTemp(folder, "."+draftKind+"-*") // CreateTemp gives mode 0600
	if errors.Is(err, fs.ErrNotExist) {
		return &trouble{doing, fmt.Errorf("there is no folder %q", folder), err}
	}
	if err != nil {
		return err
	}
	name := draft.Name()
	draft.Close()
	defer func() {
		for _, rest := range []string{"", "-wal", "-shm", "-journal"} {
			os.Remove(name + rest)
		}
	}()
	if err := fill(name); err != nil {
		return err
	}
	if err := flush(name, os.O_RDWR); err != nil {
		return err
	}
	if err := give(name, full); err != nil {
		return err
	}
	_ = flush(folder, os.O_RDONLY) // not every system can flush a folder
	return nil
}

// give gives the draft its name. A hard link fails where the name is taken; on disks without hard links
// the name is claimed first.
func give(draft, path string) error {
	err := os.Link(draft, path)
	if err == nil {
		return nil
	}
	if errors.Is(err, fs.ErrExist) {
		return ErrExists
	}
	claim, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return ErrExists
	}
	if err != nil {
		return err
	}
	claim.Close()
	if err := os.Rename(draft, path); err != nil {
		os.Remove(path)
		return err
	}
	return nil
}

// flush waits until a file or folder is on the disk.
func flush(path string, how int) error {
	f, err := os.OpenFile(path, how, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	return f.Sync()
}
