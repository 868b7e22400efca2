package shop

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// WorkbookPlace proposes where to write the year's workbook: the folder of the last one, or the user's
// documents, and a name that is still free there.
func (s *Shop) WorkbookPlace(year int) (folder, name string) {
	return workbookFile.place(s, fmt.Sprintf("skegworth-%d", year))
}

// WriteWorkbookTo writes the year's workbook into a folder and returns its path. A file that is there is
// replaced only when that was asked for, and then only an older workbook by a whole one. Errors name the
// field.
func (s *Shop) WriteWorkbookTo(year int, folder, name string, replace bool) (string, error) {
	return workbookFile.writeInto(s, folder, name, replace, func(w io.Writer) error { return s.Workbook(year, w) })
}

// TablesPlace proposes a folder within another for the tables of a year, one that is not there yet.
func (s *Shop) TablesPlace(within string, year int) string {
	base := filepath.Join(within, fmt.Sprintf("skegworth-%d-tables", year))
	at := base
	for n := 2; ; n++ {
		if _, err := os.Lstat(at); err != nil {
			return at
		}
		at = fmt.Sprintf("%s-%d", base, n)
	}
}
