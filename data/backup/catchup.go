package backup

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"skegworth/data/shopfile"
)

// ErrAway is of a second place that is not there: a disk that is not plugged in, a folder that was removed.
var ErrAway = errors.New("the second place for copies is not there; they go there when it is back")

// alsoSecond brings the second place up to date: every copy that is still needed goes there, the newest
// first, and what is not needed any more goes.
func alsoSecond(ctx context.Context, shopPath string, now time.Time) error {
	second, set := SecondPlace(shopPath)
	if !set {
		return nil
	}
	if !second.There() {
		return fmt.Errorf("%w (%s)", ErrAway, second.In)
	}
	shopfile.SweepDrafts(second.Folder(), drafts)
	all, err := List(shopPath)
	if err != nil {
		return err
	}
	gone, err := notNeeded(ctx, all, now)
	if err != nil {
		return err
	}
	for i, c := range all {
		if c.Second != "" || c.Why == AsFound || slices.Contains(gone, i) || soundCopy(ctx, c.Path) != nil {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if left, known := free(second.Folder()); known && left < c.Size+spare {
			return fmt.Errorf("second place: %w", ErrNoRoom)
		}
		if err := transfer(c.Path, filepath.Join(second.Folder(), c.Name())); err != nil {
			return fmt.Errorf("copy to the second place, %q: %w", second.In, plainly(err))
		}
	}
	return thin(ctx, second.Folder(), now)
}

// transfer copies a copy, byte by byte, reads it back and compares, and only then gives it its name.
func transfer(from, to string) error {
	source, err := os.Open(from)
	if err != nil {
		return err
	}
	defer source.Close()
	draft, err := os.CreateTemp(filepath.Dir(to), "."+drafts+"-*")
	if err != nil {
		return err
	}
	defer os.Remove(draft.Name())
	defer draft.Close()
	wanted := sha256.New()
	if _, err := io.Copy(io.MultiWriter(draft, wanted), source); err != nil {
		return err
	}
	if err := draft.Sync(); err != nil {
		return err
	}
	if _, err := draft.Seek(0, io.SeekStart); err != nil {
		return err
	}
	got := sha256.New()
	if _, err := io.Copy(got, draft); err != nil {
		return err
	}
	if !bytes.Equal(got.Sum(nil), wanted.Sum(nil)) {
		return errors.New("what was written there reads back otherwise")
	}
	if err := draft.Close(); err != nil {
		return err
	}
	if _, err := os.Lstat(to); err == nil {
		return shopfile.ErrExists
	}
	return os.Rename(draft.Name(), to)
}
