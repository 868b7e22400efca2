package backup

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// Held is what is in a copy.
type Held struct {
	Motors, Lines, Sales int
	Last                 string    // label of the last change in it, "" when it has none
	LastAt               time.Time // when that was made
	Moment               shopfile.Moment
}

// Look reads what is in a copy, without changing it.
func Look(ctx context.Context, path string) (Held, error) {
	f, err := shopfile.Look(ctx, path)
	if err != nil {
		return Held{}, err
	}
	defer f.Close()
	m, err := f.Moment(ctx)
	return heldAt(m), err
}

func heldAt(m shopfile.Moment) Held {
	return Held{Motors: int(m.Rows["motors"]), Lines: int(m.Rows["lines"]), Sales: int(m.Rows["sales"]),
		Last: m.Last, LastAt: m.Written, Moment: m}
}

// Verify goes through a copy without changing it: that it is sound on the disk, that what is referred to is
// there, and that the records hold together and the money balances, as [shopfile.File.Check] looks over a
// shop. One of an older program is looked over as it will be once it is brought up to date. An error means
// that it is no shop file of this program or cannot be read at all; faults found are given.
func Verify(ctx context.Context, path string) (Held, []say.Sentence, error) {
	held, err := Look(ctx, path)
	if err != nil {
		return held, nil, err
	}
	f, done, err := Current(ctx, path)
	if err != nil {
		return held, nil, err
	}
	defer done()
	report, err := f.Check(ctx)
	return held, report.Faults, err
}

// Current opens a copy as a shop of this program's schema that may only be looked at. One of an older
// program is copied aside and brought up to date there. Done closes it.
func Current(ctx context.Context, path string) (f *shopfile.File, done func(), err error) {
	f, err = shopfile.Look(ctx, path)
	if err != nil {
		return nil, nil, err
	}
	schema, err := f.SchemaOf(ctx)
	if err != nil || schema == shopfile.Schema() {
		return f, func() { f.Close() }, err
	}
	defer f.Close()
	aside, err := os.MkdirTemp("", "skegworth-*")
	if err != nil {
		return nil, nil, fmt.Errorf("look at %q: %w", path, err)
	}
	raised := filepath.Join(aside, "shop")
	if err = f.CopyTo(ctx, raised); err == nil {
		var up *shopfile.File
		if up, err = shopfile.Open(ctx, raised); err == nil {
			return up, func() { up.Close(); os.RemoveAll(aside) }, nil
		}
	}
	os.RemoveAll(aside)
	return nil, nil, err
}

// looked remembers which files of copies were found sound or not: they do not change.
var looked struct {
	sync.Mutex
	at map[string]verdict
}

type verdict struct {
	size    int64
	changed time.Time
	err     error
}

// soundCopy tells whether a copy can be put back: it is a shop file of this program or an older one, and not
// damaged.
func soundCopy(ctx context.Context, path string) error {
	about, err := os.Stat(path)
	if err != nil {
		return err
	}
	looked.Lock()
	v, known := looked.at[path]
	looked.Unlock()
	if known && v.size == about.Size() && v.changed.Equal(about.ModTime()) {
		return v.err
	}
	f, err := shopfile.Look(ctx, path)
	if err == nil {
		err = f.Sound(ctx)
		f.Close()
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	remember(path, about, err)
	return err
}

func remember(path string, about os.FileInfo, err error) {
	looked.Lock()
	defer looked.Unlock()
	if looked.at == nil {
		looked.at = map[string]verdict{}
	}
	looked.at[path] = verdict{about.Size(), about.ModTime(), err}
}

// ErrNone is of a shop that has no copy that could be put back.
var ErrNone = errors.New("there is no sound copy of this shop")

// NewestGood is the copy made last that is sound, and what is in it. The shop file itself need not be there.
// The error is [ErrNone] when there is none.
func NewestGood(ctx context.Context, shopPath string) (Copy, Held, error) {
	all, err := List(shopPath)
	if err != nil {
		return Copy{}, Held{}, err
	}
	for _, c := range all {
		for _, path := range paths(c) {
			if soundCopy(ctx, path) != nil {
				continue
			}
			if held, err := Look(ctx, path); err == nil {
				c.Path = path
				return c, held, nil
			}
		}
		if err := ctx.Err(); err != nil {
			return Copy{}, Held{}, err
		}
	}
	return Copy{}, Held{}, fmt.Errorf("%w: %s", ErrNone, strings.TrimPrefix(filepath.Base(Folder(shopPath)), "copies of "))
}

// paths are where a copy is.
func paths(c Copy) []string {
	if c.Second == "" || c.Second == c.Path {
		return []string{c.Path}
	}
	return []string{c.Path, c.Second}
}
