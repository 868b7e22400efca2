package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
)

// SaveQuestion asks where a file goes and writes it there; then it says where it is.
type SaveQuestion struct {
	Title, Words string // of the dialog, and what the file holds
	Folder, Name string // proposed
	Dates        DateOrder
	More         []fyne.CanvasObject // further fields of what is written

	// Write writes the file and returns its path; an error is shown and keeps the dialog open.
	Write func(folder, name string, replace bool) (path string, err error)
	// There says the path in the status line, besides the dialog that does.
	There func(words string)
}

// Ask opens the question over the window.
func (q SaveQuestion) Ask(c fyne.Canvas) {
	FlushAll()
	folder, name := NewEntry(), NewEntry()
	folder.Set(q.Folder)
	name.Set(q.Name)
	replace := NewCheck(lang.X("savefile.replace", "replace a file of that name if it is there"))
	choose := NewButton(lang.X("savefile.choose", "Choose a folder…"), theme.FolderOpenIcon(), func() {
		FileQuestion{Title: lang.X("savefile.choose.title", "Folder for the file"), Do: lang.X("savefile.choose.do", "Take this folder"),
			Folder: folder.Text, Folders: true, Dates: q.Dates}.Ask(c, folder.Set)
	})
	parts := []fyne.CanvasObject{NewText(q.Words)}
	parts = append(parts, q.More...)
	parts = append(parts, NewField(lang.X("savefile.folder", "Folder"), folder), Flow(look.Gap, choose),
		NewField(lang.X("savefile.name", "Name of the file"), name), NewField("", replace))
	written := ""
	d := NewDialog(c, q.Title, Column(look.Wide, parts...), lang.X("savefile.do", "Write it"), func() (err error) {
		written, err = q.Write(folder.Text, name.Text, replace.Checked)
		return err
	}).SetFirst(name).SetWidth(600)
	d.OnClosed = func() {
		if written == "" {
			return
		}
		words := lang.X("savefile.written", "Written to {{.Path}}", map[string]any{"Path": written})
		q.There(words)
		Tell(c, lang.X("savefile.there", "The file is there"), words)
	}
	d.Show()
}
