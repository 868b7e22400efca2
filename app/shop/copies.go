package shop

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"skegworth/data/backup"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// ShopCopy is one copy of a shop, as a list of them tells of it. The shop itself need not be open, nor be
// there.
type ShopCopy struct {
	Path   string
	Name   string // of the file
	Number int    // 0 for a file that is not in the folder of copies
	At     time.Time
	Why    say.Sentence // empty for one made by itself
	Size   int64
	Second bool // in the second place too, or only there

	// Filled by Look and LookThrough.
	Motors, Lines, Sales int
	Last                 say.Sentence // the last change in it, empty when it has none
	Trouble              error        // why it cannot be put back
	Through              bool         // it was looked through
	Faults               []say.Sentence
}

func shopCopy(c backup.Copy) ShopCopy {
	why := map[backup.Why]say.Sentence{
		backup.Asked:         say.New("copy.asked", "asked for"),
		backup.BeforeUpgrade: say.New("copy.before-upgrade", "before the program was renewed"),
		backup.BeforeRestore: say.New("copy.before-restore", "before going back to a copy"),
		backup.AsFound:       say.New("copy.as-found", "as it was found, damaged"),
	}
	return ShopCopy{Path: c.Path, Name: c.Name(), Number: c.Number, At: c.At.Local(), Why: why[c.Why], Size: c.Size, Second: c.Second != ""}
}

// Look reads what is in the copy.
func (c ShopCopy) Look(ctx context.Context) ShopCopy {
	held, err := backup.Look(ctx, c.Path)
	c.hold(held)
	c.Trouble = err
	return c
}

// LookThrough looks the whole copy over, which takes a while where it is large.
func (c ShopCopy) LookThrough(ctx context.Context) ShopCopy {
	held, faults, err := backup.Verify(ctx, c.Path)
	if ctx.Err() != nil {
		return c
	}
	c.hold(held)
	c.Faults, c.Trouble, c.Through = faults, err, true
	return c
}

func (c *ShopCopy) hold(held backup.Held) {
	c.Motors, c.Lines, c.Sales, c.Last = held.Motors, held.Lines, held.Sales, say.Sentence{}
	if held.Last != "" {
		c.Last = named(held.Last)
	}
}

// Holds says what is in the copy.
func (c ShopCopy) Holds() say.Sentence {
	return say.New("copy.holds", "{{.Motors}} motors, {{.Lines}} cost lines, {{.Sales}} sales",
		"Motors", c.Motors, "Lines", c.Lines, "Sales", c.Sales)
}

// State says whether the copy can be relied on.
func (c ShopCopy) State() say.Sentence {
	switch {
	case errors.Is(c.Trouble, shopfile.ErrNewer):
		return say.New("copy.newer", "written by a newer version of the program")
	case errors.Is(c.Trouble, shopfile.ErrNotShopFile):
		return say.New("copy.no-shop", "no shop file")
	case errors.Is(c.Trouble, shopfile.ErrDamaged):
		return say.New("copy.damaged", "damaged")
	case c.Trouble != nil:
		return say.New("copy.unread", "cannot be read: {{.Why}}", "Why", c.Trouble.Error())
	case !c.Through:
		return say.New("copy.unseen", "not looked through yet")
	case len(c.Faults) > 0 && strings.HasPrefix(c.Faults[0].Key, "check.integrity"):
		return say.New("copy.damaged", "damaged")
	case len(c.Faults) > 0:
		return say.New("copy.faults", "whole, with {{.Count}} things out of order in the shop itself", "Count", len(c.Faults))
	}
	return say.New("copy.good", "in order")
}

// Copies are those of the shop at a path, the one made last first. They are not looked into yet.
func Copies(path string) ([]ShopCopy, error) {
	all, err := backup.List(path)
	out := make([]ShopCopy, len(all))
	for i, c := range all {
		out[i] = shopCopy(c)
	}
	return out, err
}

// CopiesFolder is where they are kept.
func CopiesFolder(path string) string { return backup.Folder(path) }

// FindCopy is the copy of the shop at a path that somebody means: by its number, its name, or the path of any
// shop file.
func FindCopy(path, words string) (ShopCopy, error) {
	c, err := backup.Find(path, words)
	return shopCopy(c), err
}

// WentBack says what came of putting a copy back.
type WentBack struct {
	Kept   *ShopCopy // what was there before; nil where nothing was
	Now    ShopCopy  // what is there now
	Faults []say.Sentence
}

// GoBack puts a copy in place of the shop at a path, after it kept what is there now. Whoever has the shop
// open goes on with it.
func GoBack(ctx context.Context, path string, to ShopCopy) (WentBack, error) {
	done, err := backup.Restore(ctx, path, to.Path)
	out := WentBack{Now: to, Faults: done.Faults}
	out.Now.hold(done.Held)
	if done.Kept != nil {
		c := shopCopy(*done.Kept)
		out.Kept = &c
	}
	return out, err
}

// CopyInto copies the shop, whole, into a folder under its name with the day, or under a name of its own
// where to is no folder, and looks the copy through. Nothing there is replaced.
func (s *Shop) CopyInto(to string) (ShopCopy, error) {
	ctx := context.Background()
	if isFolder(to) {
		base := filepath.Base(s.path)
		if shopfile.IsServer(s.path) {
			base = strings.TrimPrefix(filepath.Base(backup.Folder(s.path)), "copies of ") + ".skegworth"
		}
		ext := filepath.Ext(base)
		base = fmt.Sprintf("%s-%s", strings.TrimSuffix(base, ext), day.FromTime(time.Now()))
		folder := to
		to = filepath.Join(folder, base+ext)
		for n := 2; n < 1000; n++ {
			if _, err := os.Lstat(to); errors.Is(err, os.ErrNotExist) {
				break
			}
			to = filepath.Join(folder, fmt.Sprintf("%s-%d%s", base, n, ext))
		}
	}
	if err := s.file.CopyTo(ctx, to); err != nil {
		return ShopCopy{}, err
	}
	about, err := os.Stat(to)
	if err != nil {
		return ShopCopy{}, fmt.Errorf("look at the copy: %w", err)
	}
	c := ShopCopy{Path: to, Name: filepath.Base(to), At: about.ModTime(), Size: about.Size()}.LookThrough(ctx)
	return c, c.Trouble
}

// SecondPlace is the folder chosen for second copies, "" when none is, and whether it can be reached now.
func (s *Shop) SecondPlace() (in string, there bool) {
	p, set := backup.SecondPlace(s.path)
	return p.In, set && p.There()
}

// SetSecondPlace chooses a folder on another disk, or one that is kept in step with another computer, for
// second copies; "" is none.
func (s *Shop) SetSecondPlace(in string) error {
	return backup.SetSecondPlace(s.path, strings.TrimSpace(in))
}

// SecondOnSameDisk tells that the second place would go with the disk of the first.
func (s *Shop) SecondOnSameDisk() bool {
	p, set := backup.SecondPlace(s.path)
	return set && p.There() && backup.SameDisk(p.Folder(), backup.Folder(s.path))
}
