package desk

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/widgets"
)

// askNew asks for the name and the folder of a new shop file, makes it and opens it. It is no save dialog
// of the window library: that would empty a file of the same name before anything else could be asked.
func (d *Desk) askNew(t *seat) {
	name, folder := widgets.NewEntry(), widgets.NewEntry()
	name.Set(lang.X("new.default", "my shop"))
	folder.Set(d.shop.Folder())
	choose := widgets.NewButton(lang.X("new.choose", "Choose a folder…"), theme.FolderOpenIcon(), func() {
		widgets.FileQuestion{Title: lang.X("new.choose.title", "Which folder?"), Do: lang.X("new.choose.do", "Take this folder"),
			Folder: folder.Text, Folders: true, Dates: d.dates()}.Ask(d.window.Canvas(), folder.Set)
	})
	form := widgets.Column(look.Gap,
		widgets.NewField(lang.X("new.name", "Name of the shop file"), name),
		widgets.NewField(lang.X("new.folder", "In the folder"), folder),
		widgets.Flow(look.Gap, choose))
	widgets.NewDialog(d.window.Canvas(), lang.X("menu.new", "New shop file…"), form, lang.X("new.do", "Make it"), func() error {
		path, err := newPath(folder.Text, name.Text)
		if err != nil {
			return err
		}
		t.change(path)
		return nil
	}).SetFirst(name).SetWidth(560).Show()
}

// newPath is where a shop file of that name would be made; nothing may be there.
func newPath(folder, name string) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" || strings.ContainsAny(name, `/\`) {
		return "", fmt.Errorf("name: %q cannot name a file", name)
	}
	if filepath.Ext(name) != shopEnd {
		name += shopEnd
	}
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return "", fmt.Errorf("folder: %q is not a folder", folder)
	}
	path := filepath.Join(folder, name)
	if _, err := os.Stat(path); err == nil {
		return "", fmt.Errorf("name: %s is there already; open it, or choose another name", path)
	}
	return path, nil
}

// shopEnd ends the name of a shop file.
const shopEnd = ".skegworth"
