package shop

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"
)

const (
	workbookEnd    = ".xlsx"
	workbookFolder = "workbook.folder" // the preference that keeps where the last workbook was written
)

// WorkbookPlace proposes where to write the year's workbook: the folder of the last one, or the user's
// documents, and a name that is still free there.
func (s *Shop) WorkbookPlace(year int) (folder, name string) {
	for _, f := range []string{s.Preference(workbookFolder), xdg.UserDirs.Documents, xdg.Home} {
		if isFolder(f) {
			folder = f
			break
		}
	}
	base := fmt.Sprintf("skegworth-%d", year)
	name = base + workbookEnd
	for n := 2; n < 1000; n++ {
		if _, err := os.Lstat(filepath.Join(folder, name)); errors.Is(err, os.ErrNotExist) {
			break
		}
		name = fmt.Sprintf("%s-%d%s", base, n, workbookEnd)
	}
	return folder, name
}

// replaceable is the path that a workbook may be written to, past any links: one where nothing is yet, or
// where an older workbook or an empty file is. All else that bears the name is refused and stays.
func replaceable(path string) (string, error) {
	info, err := os.Stat(path)
	if err != nil {
		return path, nil // nothing there; what else is wrong with the path, writing tells
	}
	if info.IsDir() {
		return "", fmt.Errorf("%s is a folder", path)
	}
	if !info.Mode().IsRegular() {
		return "", fmt.Errorf("%s is not a file", path)
	}
	if info.Size() > 0 {
		old, err := os.Open(path)
		if err != nil {
			return "", err
		}
		defer old.Close()
		const zip = "PK\x03\x04" // an XLSX workbook is a ZIP archive
		start := make([]byte, len(zip))
		if _, err := io.ReadFull(old, start); err != nil || string(start) != zip {
			return "", fmt.Errorf("%s is there and is no workbook, so it is not replaced", path)
		}
	}
	return filepath.EvalSymlinks(path)
}

func isFolder(path string) bool {
	if path == "" {
		return false
	}
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// ErrFileThere is in the chain of an error of [Shop.WriteWorkbookTo] when a file of that name is there and
// was not to be replaced.
var ErrFileThere = errors.New("a file of that name is there already")

// WriteWorkbookTo writes the year's workbook into a folder and returns its path. A file that is there is
// replaced only when that was asked for, and then only by a whole workbook. Errors name the field.
func (s *Shop) WriteWorkbookTo(year int, folder, name string, replace bool) (string, error) {
	folder, name = strings.TrimSpace(folder), strings.TrimSpace(name)
	if rest, home := strings.CutPrefix(folder, "~"); home && (rest == "" || os.IsPathSeparator(rest[0])) {
		folder = filepath.Join(xdg.Home, rest)
	}
	switch {
	case !filepath.IsAbs(folder):
		return "", errors.New("folder: write the whole path of a folder")
	case !isFolder(folder):
		return "", fmt.Errorf("folder: there is no folder %s", folder)
	case name == "" || strings.EqualFold(name, workbookEnd):
		return "", errors.New("name: the file needs a name")
	case strings.ContainsAny(name, `/\:*?"<>|`):
		return "", fmt.Errorf(`name: %s holds one of / \ : * ? " < > |, which a file's name cannot`, name)
	}
	if !strings.EqualFold(filepath.Ext(name), workbookEnd) {
		name += workbookEnd
	}
	path := filepath.Join(folder, name)
	if !replace {
		// Taking the name first leaves no moment in which somebody else's file could be replaced.
		taken, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
		if errors.Is(err, os.ErrExist) {
			return "", fmt.Errorf("name: %w: %s", ErrFileThere, path)
		}
		if err != nil {
			return "", fmt.Errorf("write the workbook: %w", err)
		}
		taken.Close()
	}
	if err := s.writeWorkbook(year, path); err != nil {
		if !replace {
			os.Remove(path)
		}
		return "", err
	}
	// Where it went is a convenience for the next time; the workbook is written either way.
	_ = s.SetPreference(workbookFolder, folder)
	return path, nil
}
