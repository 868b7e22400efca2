package backup

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Place is a second place for the copies of a shop: an external disk, a folder that is kept in step with
// another computer. It is a matter of this computer, so it is noted beside the copies and not in the shop.
type Place struct {
	In   string `json:"in"`     // the folder that was chosen
	Name string `json:"folder"` // of the folder of copies in it
}

// Folder is where the copies are in the second place.
func (p Place) Folder() string { return filepath.Join(p.In, p.Name) }

// There tells whether the second place can be reached now. It counts as reached only when our folder is in
// it: where a disk is not plugged in, an empty folder of its name may well be there, on the first disk.
func (p Place) There() bool {
	about, err := os.Stat(p.Folder())
	return err == nil && about.IsDir()
}

// noted is where the choice of a second place is written down, and aboutFile what tells somebody who finds
// the copies in the second place whose they are.
const (
	noted     = "second place.json"
	aboutFile = "what this is.txt"
)

// SecondPlace is what was chosen for a shop; false when nothing was.
func SecondPlace(shopPath string) (Place, bool) {
	text, err := os.ReadFile(filepath.Join(Folder(shopPath), noted))
	if err != nil {
		return Place{}, false
	}
	var p Place
	if json.Unmarshal(text, &p) != nil || !filepath.IsAbs(p.In) || p.Name == "" || p.Name != filepath.Base(p.Name) {
		return Place{}, false
	}
	return p, true
}

// ErrSamePlace is of a second place that is no other place.
var ErrSamePlace = errors.New("this is where the copies are anyway; choose a folder on another disk")

// SetSecondPlace chooses a folder that is there for second copies, and makes one of our own in it; "" is
// none, and leaves what was copied there.
func SetSecondPlace(shopPath, in string) error {
	folder := Folder(shopPath)
	if in == "" {
		if err := os.Remove(filepath.Join(folder, noted)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("second place: %w", err)
		}
		return nil
	}
	in, err := filepath.Abs(in)
	if err != nil {
		return fmt.Errorf("second place: %w", err)
	}
	if about, err := os.Stat(in); err != nil || !about.IsDir() {
		return fmt.Errorf("second place: %q is not a folder", in)
	}
	if same(in, folder) || same(in, filepath.Dir(folder)) {
		return fmt.Errorf("second place: %w", ErrSamePlace)
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("second place: make the folder of the copies: %w", err)
	}
	name, err := claim(in, filepath.Base(folder), whose(shopPath))
	if err != nil {
		return fmt.Errorf("second place: %q cannot be written to: %w", in, err)
	}
	text, err := json.Marshal(Place{In: in, Name: name})
	if err != nil {
		return fmt.Errorf("second place: %w", err)
	}
	return writeWhole(filepath.Join(folder, noted), text)
}

func same(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// whose says whose copies they are.
func whose(shopPath string) string {
	host, err := os.Hostname()
	if err != nil {
		host = "this computer"
	}
	where := strings.TrimPrefix(filepath.Base(Folder(shopPath)), "copies of ")
	if _, onServer := server(shopPath); !onServer {
		if where, err = filepath.Abs(shopPath); err != nil {
			where = shopPath
		}
	}
	return fmt.Sprintf("Copies that Skegworth made of the shop %s, on %s. Each is a whole shop file.\n", where, host)
}

// claim makes a folder of ours, or finds the one made for this shop before. One of the same name that belongs
// to another shop is left alone.
func claim(in, name, about string) (string, error) {
	for n := 1; ; n++ {
		each := name
		if n > 1 {
			each = fmt.Sprintf("%s %d", name, n)
		}
		folder := filepath.Join(in, each)
		err := os.Mkdir(folder, 0o700)
		if err == nil {
			return each, writeWhole(filepath.Join(folder, aboutFile), []byte(about))
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", err
		}
		if text, err := os.ReadFile(filepath.Join(folder, aboutFile)); err == nil && string(text) == about {
			return each, nil
		}
	}
}

// writeWhole writes a small file under a passing name first.
func writeWhole(path string, text []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+drafts+"-*")
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}
