package backup

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// Made is what came of making a copy.
type Made struct {
	Copy   Copy
	New    bool           // false where nothing was changed since that copy was made
	Faults []say.Sentence // what is out of order in the shop itself, and so in the copy
	Second error          // why it did not get into the second place as well; nil too where none is chosen
}

// drafts are the passing files of copies that are being made, by what their names begin with.
const drafts = "skegworth"

// making is held by whoever makes, thins out or restores copies in this process.
var making sync.Mutex

// Make makes a copy of an open shop in its folder of copies while others use it, makes sure of it, thins out
// the older ones, and brings the second place up to date. Where nothing was changed since the last copy none
// is made, unless the shop is at a turn. A copy is there whole or not at all.
func Make(ctx context.Context, f *shopfile.File, why Why) (Made, error) {
	return makeAt(ctx, f, why, time.Now())
}

func makeAt(ctx context.Context, f *shopfile.File, why Why, now time.Time) (Made, error) {
	making.Lock()
	defer making.Unlock()
	folder := Folder(f.Path())
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return Made{}, fmt.Errorf("keep a copy: make the folder %q: %w", folder, plainly(err))
	}
	shopfile.SweepDrafts(folder, drafts)
	all, err := List(f.Path())
	if err != nil {
		return Made{}, err
	}
	last, unchanged, err := unchangedSince(ctx, f, folder, all)
	if err != nil {
		return Made{}, err
	}
	if unchanged && (!why.apart() || last.Why.apart()) {
		out := Made{Copy: last, Second: alsoSecond(ctx, f.Path(), now)}
		return out, nil
	}
	if err := makeRoom(ctx, folder, sizeOf(f.Path()), now); err != nil {
		return Made{}, err
	}
	out := Made{New: true}
	out.Copy, err = place(folder, all, why, now, func(path string) error { return f.CopyTo(ctx, path) })
	if err != nil {
		return Made{}, err
	}
	_, out.Faults, err = Verify(ctx, out.Copy.Path)
	if err != nil {
		os.Remove(out.Copy.Path)
		return Made{}, fmt.Errorf("keep a copy: it could not be read back: %w", err)
	}
	if about, err := os.Stat(out.Copy.Path); err == nil {
		out.Copy.Size = about.Size()
	}
	_ = soundCopy(ctx, out.Copy.Path) // remembers it
	if err := thin(ctx, folder, now); err != nil && ctx.Err() == nil {
		out.Second = err
		return out, nil
	}
	out.Second = alsoSecond(ctx, f.Path(), now)
	return out, nil
}

// place has a copy made under the next number.
func place(folder string, all []Copy, why Why, now time.Time, fill func(path string) error) (Copy, error) {
	number := 1
	for _, c := range all {
		number = max(number, c.Number+1)
	}
	for ; ; number++ {
		c := Copy{Path: filepath.Join(folder, nameOf(number, now, why)), Number: number, At: now.UTC().Truncate(time.Second), Why: why}
		err := fill(c.Path)
		if !errors.Is(err, shopfile.ErrExists) {
			return c, err
		}
	}
}

// unchangedSince is the copy made last, and whether the shop is still as it was then and the copy sound.
func unchangedSince(ctx context.Context, f *shopfile.File, folder string, all []Copy) (Copy, bool, error) {
	for _, c := range all {
		if filepath.Dir(c.Path) != folder || c.Why == AsFound {
			continue
		}
		held, err := Look(ctx, c.Path)
		if err != nil || soundCopy(ctx, c.Path) != nil {
			return c, false, ctx.Err()
		}
		now, err := f.Moment(ctx)
		return c, err == nil && now.Same(held.Moment), err
	}
	return Copy{}, false, nil
}

// thin takes away the copies in a folder that are not needed any more. One is taken away only for another
// that was just looked through and is sound.
func thin(ctx context.Context, folder string, now time.Time) error {
	all, err := in(folder)
	if err != nil {
		return err
	}
	gone, err := notNeeded(ctx, all, now)
	for _, i := range gone {
		if removed := os.Remove(all[i].Path); removed != nil && !errors.Is(removed, os.ErrNotExist) {
			err = errors.Join(err, fmt.Errorf("take away an old copy: %w", removed))
		}
		for _, journal := range []string{"-wal", "-journal"} { // of one kept as found
			os.Remove(all[i].Path + journal)
		}
	}
	return err
}

// notNeeded is [Prune], with every copy that another is to go for looked through first.
func notNeeded(ctx context.Context, all []Copy, now time.Time) ([]int, error) {
	stamps := make([]Stamp, len(all))
	for i, c := range all {
		stamps[i] = Stamp{Number: c.Number, At: c.At, Why: c.Why, Bad: c.Why == AsFound}
	}
	newest := -1
	for i := range stamps { // there must be a sound one that stays whatever goes
		if stamps[i].Bad = stamps[i].Bad || soundCopy(ctx, all[i].Path) != nil; !stamps[i].Bad {
			newest = i
			break
		}
	}
	if err := ctx.Err(); err != nil || newest < 0 {
		return nil, err
	}
	for {
		gone, turned := Prune(stamps, now), false
		for _, g := range gone {
			for _, i := range []int{g.For, g.Copy} {
				if !stamps[i].Bad && soundCopy(ctx, all[i].Path) != nil {
					stamps[i].Bad, turned = true, true
				}
			}
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if turned {
			continue
		}
		out := make([]int, len(gone))
		for k, g := range gone {
			out[k] = g.Copy
		}
		return out, nil
	}
}

// plainly leaves out of an error the path that the sentence around it names.
func plainly(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
