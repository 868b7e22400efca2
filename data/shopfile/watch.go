package shopfile

import (
	"context"

	"time"
)

// lookEvery is how often a watched file is looked at.
const lookEvery = time.Second

// Watch calls changed soon after somebody else has changed the shop, until ctx ends, which is when it returns;
// it is meant for a goroutine of its own, on which changed is called. Changes of this File itself are left
// out. Several changes may come as one call, and one call too many may come where something could have been
// missed: after a connection was lost. A File is watched once at a time.
func (f *File) Watch(ctx context.Context, changed func()) error {
	return explain("watch the shop", f.dialect.watch(ctx, f, changed))
}

// watch looks at the number that SQLite gives the state of a file as one connection knows it: it changes by
// what others commit and not by what this connection does. So all changes of the File go through the
// connection that looks.
func (inFile) watch(ctx context.Context, f *File, changed func()) error {
	defer f.alone(context.Background(), func() error { // whoever writes goes back to the pool
		if f.writer != nil {
			_ = f.writer.Close()
			f.writer = nil
		}
		return nil
	})
	var known int64
	err := f.alone(ctx, func() (err error) {
		if f.writer, err = f.db.Conn(ctx); err != nil {
			return err
		}
		return f.writer.QueryRowContext(ctx, "PRAGMA data_version").Scan(&known)
	})
	if err != nil {
		return err
	}
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-tick.C:
		}
		now := known
		err := f.alone(ctx, func() error {
			return f.writer.QueryRowContext(ctx, "PRAGMA data_version").Scan(&now)
		})
		switch {
		case ctx.Err() != nil:
			return nil
		case isBusy(err): // a file that is being restored or upgraded, say
			continue
		case err != nil:
			return err
		}
		if now != known {
			known = now
			changed()
		}
	}
}

// alone runs fn while this File does not write.
func (f *File) alone(ctx context.Context, fn func() error) error {
	select {
	case f.writing <- struct{}{}:
		defer func() { <-f.writing }()
		return fn()
	case <-ctx.Done():
		return ctx.Err()
	}
}
