package yearend

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/widgets"
)

// askWorkbook asks where the year's workbook goes and writes it there.
func (p *Screen) askWorkbook() {
	widgets.FlushAll()
	y, there := p.find(p.chosen)
	window := p.host.Window()
	if !there || window == nil {
		return
	}
	folder, name := widgets.NewEntry(), widgets.NewEntry()
	where, called := p.shop.WorkbookPlace(y.Number)
	folder.Set(where)
	name.Set(called)
	replace := widgets.NewCheck(lang.X("yearend.book.replace", "replace a file of that name if it is there"))
	choose := widgets.NewButton(lang.X("yearend.book.choose", "Choose a folder…"), theme.FolderOpenIcon(), func() { p.chooseFolder(window, folder) })
	form := widgets.Column(look.Wide,
		widgets.NewText(lang.X("yearend.book.words", "The year with its schedule, every motor sold, every cost, stock, sales and bands; totals are live formulas. Any spreadsheet program opens it.")),
		widgets.NewField(lang.X("yearend.book.folder", "Folder"), folder), widgets.Flow(look.Gap, choose),
		widgets.NewField(lang.X("yearend.book.name", "Name of the file"), name),
		widgets.NewField("", replace))
	written := ""
	d := widgets.NewDialog(window.Canvas(), lang.X("yearend.book.title", "The workbook of {{.Year}}", map[string]any{"Year": p.shop.YearName(y.Number)}), form,
		lang.X("yearend.book.do", "Write it"), func() (err error) {
			written, err = p.shop.WriteWorkbookTo(y.Number, folder.Text, name.Text, replace.Checked)
			return err
		}).SetFirst(name).SetWidth(600)
	d.OnClosed = func() {
		if written == "" {
			return
		}
		words := lang.X("yearend.book.written", "Written to {{.Path}}", map[string]any{"Path": written})
		p.host.Status(words)
		widgets.Tell(window.Canvas(), lang.X("yearend.book.there", "The workbook is there"), words)
	}
	d.Show()
}

// chooseFolder lets a folder be picked, starting from the one that is written.
func (p *Screen) chooseFolder(window fyne.Window, folder *widgets.Entry) {
	widgets.FileQuestion{Title: lang.X("yearend.book.choose.title", "Folder for the workbook"), Do: lang.X("yearend.book.choose.do", "Take this folder"),
		Folder: folder.Text, Folders: true, Dates: widgets.DateOrder(p.shop.DateOrder())}.Ask(window.Canvas(), folder.Set)
}
