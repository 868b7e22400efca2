package backup

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"time"
)

// Why a copy was made.
type Why string

// Reasons.
const (
	ByItself      Why = ""               // every so often, while the shop is in use
	Asked         Why = "asked-for"      // somebody asked for it
	BeforeUpgrade Why = "before-upgrade" // a newer program was about to bring the shop file up to date
	BeforeRestore Why = "before-restore" // another copy was about to take the shop's place
	AsFound       Why = "as-found"       // the same, of a shop file that was damaged: it is as damaged as that
)

// reasons are all of them.
var reasons = []Why{ByItself, Asked, BeforeUpgrade, BeforeRestore, AsFound}

// apart tells whether such a copy marks a turn in the shop's life, and is kept a month whatever else is.
func (w Why) apart() bool { return w == BeforeUpgrade || w == BeforeRestore || w == AsFound }

// Copy is one copy of a shop, in the shop's folder of copies or in the second place, or in both.
type Copy struct {
	Path   string // in the folder where it is there, else in the second place
	Second string // in the second place, "" where it is not
	Number int    // copies are numbered as they are made, whatever the clock says
	At     time.Time
	Why    Why
	Size   int64
}

// Name of the file, which is the same in both places.
func (c Copy) Name() string { return filepath.Base(c.Path) }

// stampForm is a moment to the second, in universal time: no summer time moves it, and it sorts.
const stampForm = "2006-01-02_150405Z"

// end of a copy's name: it is a shop file like any other.
const end = ".skegworth"

// nameOf a copy says its number, when it was made and why.
func nameOf(number int, at time.Time, why Why) string {
	name := fmt.Sprintf("%04d_%s", number, at.UTC().Format(stampForm))
	if why != ByItself {
		name += "_" + string(why)
	}
	return name + end
}

var named = regexp.MustCompile(`^(\d{4,9})_(\d{4}-\d{2}-\d{2}_\d{6}Z)(?:_([a-z-]+))?\.skegworth$`)

// read takes the name of a file apart; false for what is no copy of ours.
func read(name string) (Copy, bool) {
	parts := named.FindStringSubmatch(name)
	if parts == nil {
		return Copy{}, false
	}
	at, err := time.Parse(stampForm, parts[2])
	if err != nil || !slices.Contains(reasons, Why(parts[3])) {
		return Copy{}, false
	}
	number, _ := strconv.Atoi(parts[1]) // nine digits at most
	return Copy{Number: number, At: at, Why: Why(parts[3])}, true
}

// in lists the copies in one folder, none where it is not there.
func in(folder string) ([]Copy, error) {
	found, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("look for copies in %q: %w", folder, errors.Unwrap(err))
	}
	var out []Copy
	for _, f := range found {
		c, ours := read(f.Name())
		about, err := f.Info()
		if !ours || err != nil || !about.Mode().IsRegular() {
			continue
		}
		c.Path, c.Size = filepath.Join(folder, f.Name()), about.Size()
		out = append(out, c)
	}
	newestFirst(out)
	return out, nil
}

func newestFirst(copies []Copy) {
	slices.SortFunc(copies, func(a, b Copy) int {
		if a.Number != b.Number {
			return b.Number - a.Number
		}
		return b.At.Compare(a.At)
	})
}

// List has the copies of a shop from both places, the one made last first. Neither the shop nor its folder
// of copies need be there. A second place that cannot be looked into counts as not there.
func List(shopPath string) ([]Copy, error) {
	out, err := in(Folder(shopPath))
	if err != nil {
		return nil, err
	}
	second, set := SecondPlace(shopPath)
	if !set || !second.There() {
		return out, nil
	}
	there, _ := in(second.Folder())
	for _, c := range there {
		i := slices.IndexFunc(out, func(o Copy) bool { return o.Name() == c.Name() })
		if i >= 0 {
			out[i].Second = c.Path
			continue
		}
		c.Second = c.Path
		out = append(out, c)
	}
	newestFirst(out)
	return out, nil
}

// Find is the copy that somebody means: by its number in the list, by its name or by the path of any shop
// file.
func Find(shopPath, words string) (Copy, error) {
	all, err := List(shopPath)
	if err != nil {
		return Copy{}, err
	}
	number, notNumber := strconv.Atoi(words)
	var fits []Copy
	for _, c := range all {
		if c.Name() == words || c.Name() == words+end || notNumber == nil && c.Number == number {
			fits = append(fits, c)
		}
	}
	switch len(fits) {
	case 1:
		return fits[0], nil
	case 0:
		about, err := os.Stat(words)
		if err != nil || !about.Mode().IsRegular() {
			return Copy{}, fmt.Errorf("copy: there is none of the number or name %q, and no such file", words)
		}
		c, _ := read(filepath.Base(words))
		if c.At.IsZero() {
			c.At = about.ModTime()
		}
		c.Path, c.Size = words, about.Size()
		return c, nil
	}
	return Copy{}, fmt.Errorf("copy: %s could be %s or %s; give the whole name", words, fits[0].Name(), fits[1].Name())
}
