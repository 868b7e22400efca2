package desk

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"

	"skegworth/app/widgets"
)

// showFiles opens a file dialog large enough to read, in the folder of near or in the user's own.
func (d *Desk) showFiles(ask *dialog.FileDialog, near string) {
	folder := filepath.Dir(near)
	if near == "" {
		folder, _ = os.UserHomeDir()
	}
	if listable, err := storage.ListerForURI(storage.NewFileURI(folder)); err == nil {
		ask.SetLocation(listable)
	}
	size := d.window.Canvas().Size()
	ask.Resize(fyne.NewSize(size.Width*0.8, size.Height*0.8))
	ask.Show()
}

// askNew asks for the name and the folder of a new shop file, makes it and opens it. It is no save dialog
// of the window library: that would empty a file of the same name before anything else could be asked.
func (d *Desk) askNew(t *seat) {
	name, folder := widgets.NewEntry(), widgets.NewEntry()
	name.Set(lang.X("new.default", "my shop"))
	folder.Set(filepath.Dir(d.shop.Path()))
	form := widgets.NewForm(
		widgets.NewField(lang.X("new.name", "Name of the shop file"), name).Spanning(),
		widgets.NewField(lang.X("new.folder", "In the folder"), folder).Spanning())
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
