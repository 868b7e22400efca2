package shop

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"

	"skegworth/data/shopfile"
)

// outfile is a kind of file that the shop writes for others to read.
type outfile struct {
	name   string // in sentences: "workbook"
	end    string // of its name
	start  string // its first bytes: what begins otherwise is something else and is not replaced
	folder string // the preference that keeps where the last one was written
}

var (
	workbookFile = outfile{name: "workbook", end: ".xlsx", start: "PK\x03\x04", folder: "workbook.folder"} // a ZIP archive
	paperFile    = outfile{name: "page", end: ".pdf", start: "%PDF-", folder: "paper.folder"}
	pictureFile  = outfile{name: "picture", end: ".png", start: "\x89PNG"}
)

// place proposes where to write one: the folder of the last, or the user's documents, and a name that is still
// free there.
func (o outfile) place(s *Shop, base string) (folder, name string) {
	for _, f := range []string{s.Preference(o.folder), xdg.UserDirs.Documents, xdg.Home} {
		if isFolder(f) {
			folder = f
			break
		}
	}
	name = base + o.end
	for n := 2; n < 1000; n++ {
		if _, err := os.Lstat(filepath.Join(folder, name)); errors.Is(err, os.ErrNotExist) {
			break
		}
		name = fmt.Sprintf("%s-%d%s", base, n, o.end)
	}
	return folder, name
}

// replaceable makes sure that one may be written to a path: nothing is there yet, or an older one or an empty
// file is. All else that bears the name is refused and stays, a link to wherever too. The mode is what the
// file is to have: it tells of customers and money, so a new one is its owner's alone, and an older one keeps
// what its owner has set.
func (o outfile) replaceable(path string) (fs.FileMode, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return 0o600, nil // nothing there; what else is wrong with the path, writing tells
	}
	if info.IsDir() {
		return 0, fmt.Errorf("%s is a folder", path)
	}
	if info.Mode()&fs.ModeSymlink != 0 {
		return 0, fmt.Errorf("%s is a link to another file, which is not replaced", path)
	}
	if !info.Mode().IsRegular() {
		return 0, fmt.Errorf("%s is not a file", path)
	}
	if info.Size() > 0 {
		old, err := os.Open(path)
		if err != nil {
			return 0, err
		}
		defer old.Close()
		start := make([]byte, len(o.start))
		if _, err := io.ReadFull(old, start); err != nil || string(start) != o.start {
			return 0, fmt.Errorf("%s is there and is no %s, so it is not replaced", path, o.kind())
		}
	}
	return info.Mode().Perm(), nil
}

// kind is what the file would have to be to be replaced.
func (o outfile) kind() string {
	if o.end == paperFile.end {
		return "PDF"
	}
	return o.name
}

func isFolder(path string) bool {
	if path == "" {
		return false
	}
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// ErrFileThere is in the chain of an error of [Shop.WriteWorkbookTo] and [Shop.WritePaperTo] when a file of
// that name is there and was not to be replaced.
var ErrFileThere = errors.New("a file of that name is there already")

// write fills a file, whole or not at all. Only an older one of its kind is replaced: a name given by mistake
// must not cost anybody the shop file.
func (o outfile) write(path string, fill func(io.Writer) error) error {
	fail := func(err error) error { return fmt.Errorf("write the %s: %w", o.name, err) }
	mode, err := o.replaceable(path)
	if err != nil {
		return fail(err)
	}
	shopfile.SweepDrafts(filepath.Dir(path), o.name)
	temporary, err := os.CreateTemp(filepath.Dir(path), "."+o.name+"-*") // CreateTemp gives mode 0600
	if err != nil {
		return fail(err)
	}
	defer os.Remove(temporary.Name())
	if err := fill(temporary); err != nil { // it says itself what it was doing
		temporary.Close()
		return err
	}
	err = temporary.Sync() // a name given to what is not on the disk yet could outlive it when the power goes
	if closing := temporary.Close(); err == nil {
		err = closing
	}
	if err == nil && mode != 0o600 {
		err = os.Chmod(temporary.Name(), mode)
	}
	if err == nil {
		err = os.Rename(temporary.Name(), path)
	}
	if err != nil {
		return fail(err)
	}
	if folder, err := os.Open(filepath.Dir(path)); err == nil {
		_ = folder.Sync() // not every system can flush a folder
		folder.Close()
	}
	return nil
}

// WritePicture writes the picture of a screen, whole or not at all; only a picture is replaced.
func WritePicture(path string, fill func(io.Writer) error) error {
	return pictureFile.write(path, fill)
}

// writeInto writes one into a folder and returns its path. A file that is there is replaced only when that was
// asked for, and then only by a whole one. Errors name the field.
func (o outfile) writeInto(s *Shop, folder, name string, replace bool, fill func(io.Writer) error) (string, error) {
	folder, name = strings.TrimSpace(folder), strings.TrimSpace(name)
	if rest, home := strings.CutPrefix(folder, "~"); home && (rest == "" || os.IsPathSeparator(rest[0])) {
		folder = filepath.Join(xdg.Home, rest)
	}
	switch {
	case !filepath.IsAbs(folder):
		return "", errors.New("folder: write the whole path of a folder")
	case !isFolder(folder):
		return "", fmt.Errorf("folder: there is no folder %s", folder)
	case name == "" || strings.EqualFold(name, o.end):
		return "", errors.New("name: the file needs a name")
	case strings.ContainsAny(name, `/\:*?"<>|`):
		return "", fmt.Errorf(`name: %s holds one of / \ : * ? " < > |, which a file's name cannot`, name)
	}
	if !strings.EqualFold(filepath.Ext(name), o.end) {
		name += o.end
	}
	path := filepath.Join(folder, name)
	if !replace {
		// Taking the name first leaves no moment in which somebody else's file could be replaced.
		taken, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		if errors.Is(err, os.ErrExist) {
			return "", fmt.Errorf("name: %w: %s", ErrFileThere, path)
		}
		if err != nil {
			return "", fmt.Errorf("write the %s: %w", o.name, err)
		}
		taken.Close()
	}
	if err := o.write(path, fill); err != nil {
		if !replace {
			os.Remove(path)
		}
		return "", err
	}
	// Where it went is a convenience for the next time; the file is written either way.
	_ = s.SetPreference(o.folder, folder)
	return path, nil
}
