package widgets

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/valuation/day"
)

// FileQuestion asks for a file or a folder that is there. The window library's own question can be
// answered with the mouse alone; this one is typed into, or gone through by arrows and Return, or clicked.
type FileQuestion struct {
	Title   string
	Do      string    // on the main button
	Folder  string    // to begin in; where the last question ended, or the user's own, when ""
	Ends    []string  // such as ".csv": only files that end so are listed, in either case; all when nil
	Folders bool      // a folder is wanted, and only folders are listed
	Dates   DateOrder // how days are written
}

// lastFolder is where the last question was answered.
var lastFolder string

// filePlace is one row: a file or a folder.
type filePlace struct {
	path, name string
	folder     bool
	changed    day.Day
}

// fileAsk is a question on show.
type fileAsk struct {
	FileQuestion
	at     string
	path   *Entry
	table  *Table[filePlace]
	dialog *Dialog
	choose func(path string)
}

// Ask opens the question over the window. Choose is told the whole path once the dialog is closed; it is
// not called when the dialog is closed without an answer.
func (q FileQuestion) Ask(c fyne.Canvas, choose func(path string)) {
	a := &fileAsk{FileQuestion: q, path: NewEntry(), choose: choose}
	a.table = NewTable(func(p filePlace) string { return p.path },
		TableColumn[filePlace]{Key: "name", Title: lang.X("column.name", "Name"), Grow: true, Text: func(p filePlace) string { return p.name }},
		TableColumn[filePlace]{Key: "changed", Title: lang.X("column.changed", "Changed"),
			Text: func(p filePlace) string { return FormatDay(p.changed, q.Dates) },
			Less: func(a, b filePlace) bool { return a.changed < b.changed }})
	a.table.HideFilter()
	a.table.OnSelected = func(p filePlace) { a.path.Set(p.path) }
	a.table.OnOpen = func(p filePlace) {
		a.path.Set(p.path)
		if p.folder {
			a.dialog.Fail(a.enter(p.path))
			return
		}
		a.dialog.accept()
	}
	hint := lang.X("files.hint.file", "type a path and press Return, or choose below; Return on a folder goes into it")
	if q.Folders {
		hint = lang.X("files.hint.folder", "type a path, or choose below; Return in the list goes into a folder, the button takes it")
	}
	a.dialog = NewDialog(c, q.Title, Column(look.Gap,
		NewField(lang.X("files.path", "Path"), a.path).WithHint(hint), Tall(300, a.table)), q.Do, a.answer).SetFirst(a.path).SetWidth(680)
	if err := a.enter(a.begin()); err != nil {
		a.dialog.Fail(err)
	}
	a.dialog.Show()
	a.path.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
}

// begin is the folder to begin in.
func (a *fileAsk) begin() string {
	home, _ := os.UserHomeDir()
	for _, folder := range []string{a.Folder, lastFolder, home} {
		if info, err := os.Stat(folder); folder != "" && err == nil && info.IsDir() {
			return folder
		}
	}
	return string(filepath.Separator)
}

// enter lists a folder.
func (a *fileAsk) enter(folder string) error {
	folder, err := filepath.Abs(folder)
	if err != nil {
		return fmt.Errorf("path: %w", err)
	}
	found, err := os.ReadDir(folder)
	if err != nil {
		return fmt.Errorf("path: %q cannot be listed: %w", folder, errors.Unwrap(err))
	}
	var rows []filePlace
	for _, f := range found {
		info, err := os.Stat(filepath.Join(folder, f.Name())) // what a link leads to
		if err != nil || strings.HasPrefix(f.Name(), ".") || !info.IsDir() && !a.wanted(f.Name()) {
			continue
		}
		row := filePlace{path: filepath.Join(folder, f.Name()), name: f.Name(), folder: info.IsDir(), changed: day.FromTime(info.ModTime())}
		if row.folder {
			row.name += string(filepath.Separator)
		}
		rows = append(rows, row)
	}
	slices.SortFunc(rows, func(a, b filePlace) int {
		if a.folder != b.folder {
			if a.folder {
				return -1
			}
			return 1
		}
		return cmp.Or(strings.Compare(strings.ToLower(a.name), strings.ToLower(b.name)), strings.Compare(a.name, b.name))
	})
	if up := filepath.Dir(folder); up != folder {
		rows = slices.Insert(rows, 0, filePlace{path: up, name: lang.X("files.up", "the folder above"), folder: true})
	}
	a.at = folder
	a.table.ClearSelection()
	a.table.SetRows(rows)
	a.write(folder)
	return nil
}

// write puts a folder into the field, ready to be typed on to.
func (a *fileAsk) write(folder string) {
	if !strings.HasSuffix(folder, string(filepath.Separator)) {
		folder += string(filepath.Separator)
	}
	if a.path.Focused() {
		a.path.write(folder)
		a.path.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
		return
	}
	a.path.Set(folder)
}

func (a *fileAsk) wanted(name string) bool {
	if a.Folders {
		return false
	}
	return len(a.Ends) == 0 || slices.ContainsFunc(a.Ends, func(end string) bool {
		return strings.HasSuffix(strings.ToLower(name), strings.ToLower(end))
	})
}

// answer takes what is written in the field: a file is chosen, a folder gone into, unless a folder is
// wanted.
func (a *fileAsk) answer() error {
	path := strings.TrimSpace(a.path.Text)
	if home, err := os.UserHomeDir(); err == nil && (path == "~" || strings.HasPrefix(path, "~/")) {
		path = filepath.Join(home, path[1:])
	}
	if !filepath.IsAbs(path) {
		path = filepath.Join(a.at, path)
	}
	path = filepath.Clean(path)
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return fmt.Errorf("path: there is no %q", path)
	case info.IsDir() && !a.Folders:
		if err := a.enter(path); err != nil {
			return err
		}
		return errStay
	case a.Folders && !info.IsDir():
		return fmt.Errorf("path: %q is not a folder", path)
	}
	lastFolder = path
	if !info.IsDir() {
		lastFolder = filepath.Dir(path)
	}
	a.dialog.OnClosed = func() { a.choose(path) }
	return nil
}
