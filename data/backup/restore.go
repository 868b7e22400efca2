package backup

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// Restored is what came of putting a copy back.
type Restored struct {
	Kept   *Copy          // what was there before; nil where nothing was
	Held   Held           // what is there now
	Faults []say.Sentence // what is out of order in it
}

// Restore puts a copy, or any other sound shop file, in the place of the shop at a path, in one go: what is
// there now is kept as a copy first, be it as damaged as it may, and then the copy's content takes its place
// whole or not at all. Whoever has the shop open goes on with it. A copy of an older program is brought up
// to date. The shop file need not be there, and where it cannot be read nobody may have it open.
//
// A shop on a server is not replaced: others work in it who would not know what became of their work, and a
// login of the shop may not do it. Such a copy is moved into a fresh place.
func Restore(ctx context.Context, shopPath, copyPath string) (Restored, error) {
	return restoreAt(ctx, shopPath, copyPath, time.Now())
}

func restoreAt(ctx context.Context, shopPath, copyPath string, now time.Time) (Restored, error) {
	var out Restored
	if shopfile.IsServer(shopPath) {
		return out, fmt.Errorf("restore: a shop on a server is not replaced while others work in it; put the copy into a fresh place with: skegworth move %q postgres://…", copyPath)
	}
	making.Lock()
	defer making.Unlock()
	shopfile.SweepDraftFolders(filepath.Dir(Folder(shopPath)), drafts)
	err := shopfile.PutBack(ctx, shopPath, copyPath, func(ctx context.Context) error {
		c, err := keep(ctx, shopPath, now)
		if err == nil {
			out.Kept = &c
		}
		return err
	})
	if err != nil {
		return out, err
	}
	f, err := shopfile.Open(ctx, shopPath)
	if err != nil {
		return out, fmt.Errorf("the copy was put back but cannot be opened: %w", err)
	}
	defer f.Close()
	m, err := f.Moment(ctx)
	if err != nil {
		return out, err
	}
	out.Held = heldAt(m)
	report, err := f.Check(ctx)
	out.Faults = report.Faults
	return out, err
}

// keep has the shop file as it is among the copies, marked by what it is worth.
func keep(ctx context.Context, shopPath string, now time.Time) (Copy, error) {
	folder := Folder(shopPath)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return Copy{}, fmt.Errorf("keep what is there now: make the folder %q: %w", folder, plainly(err))
	}
	all, err := List(shopPath)
	if err != nil {
		return Copy{}, err
	}
	c, err := place(folder, all, AsFound, now, func(path string) error { return shopfile.Preserve(ctx, shopPath, path) })
	if err != nil {
		return Copy{}, err
	}
	if about, err := os.Stat(c.Path); err == nil {
		c.Size = about.Size()
	}
	for _, journal := range []string{"-wal", "-journal"} {
		if _, err := os.Lstat(c.Path + journal); err == nil {
			return c, nil // kept byte by byte: it could not be read
		}
	}
	if soundCopy(ctx, c.Path) != nil {
		return c, ctx.Err()
	}
	sound := filepath.Join(folder, nameOf(c.Number, now, BeforeRestore))
	if _, err := os.Lstat(sound); err == nil {
		return c, nil
	}
	if err := os.Rename(c.Path, sound); err != nil {
		return c, fmt.Errorf("keep what is there now: %w", err)
	}
	c.Path, c.Why = sound, BeforeRestore
	return c, nil
}
