package yearend

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// askWorkbook asks where the year's workbook goes and writes it there.
func (p *Screen) askWorkbook() {
	y, there := p.find(p.chosen)
	if window := p.host.Window(); there && window != nil {
		folder, name := p.shop.WorkbookPlace(y.Number)
		widgets.SaveQuestion{Title: lang.X("yearend.book.title", "The workbook of {{.Year}}", map[string]any{"Year": p.shop.YearName(y.Number)}),
			Words:  lang.X("yearend.book.words", "The year with its schedule, every motor sold, every cost, stock, sales and bands; totals are live formulas. Any spreadsheet program opens it."),
			Folder: folder, Name: name, Dates: widgets.DateOrder(p.shop.DateOrder()), There: p.host.Status,
			Write: func(folder, name string, replace bool) (string, error) {
				return p.shop.WriteWorkbookTo(y.Number, folder, name, replace)
			}}.Ask(window.Canvas())
	}
}

// askSchedule asks where the schedule goes as a page to print.
func (p *Screen) askSchedule() {
	y, there := p.find(p.chosen)
	if window := p.host.Window(); there && window != nil {
		paper := shop.Paper{Kind: shop.PaperSchedule, Year: y.Number, Say: widgets.Say}
		folder, name := p.shop.PaperPlace(paper)
		widgets.SaveQuestion{Title: lang.X("yearend.paper.title", "The schedule of {{.Year}}, to print", map[string]any{"Year": p.shop.YearName(y.Number)}),
			Words:  lang.X("yearend.paper.words", "The schedule of cost of sales, what the year earned, and every motor sold, as a PDF."),
			Folder: folder, Name: name, Dates: widgets.DateOrder(p.shop.DateOrder()), There: p.host.Status,
			Write: func(folder, name string, replace bool) (string, error) {
				return p.shop.WritePaperTo(paper, folder, name, replace)
			}}.Ask(window.Canvas())
	}
}

// askTables asks for a folder that the tables of the year are written into, a CSV file each.
func (p *Screen) askTables() {
	y, there := p.find(p.chosen)
	window := p.host.Window()
	if !there || window == nil {
		return
	}
	widgets.FlushAll()
	where, _ := p.shop.WorkbookPlace(y.Number)
	folder := widgets.NewEntry()
	folder.Set(p.shop.TablesPlace(where, y.Number))
	written := ""
	d := widgets.NewDialog(window.Canvas(), lang.X("yearend.tables.title", "The tables of {{.Year}} as CSV", map[string]any{"Year": p.shop.YearName(y.Number)}),
		widgets.NewForm(widgets.NewField(lang.X("yearend.tables.folder", "Into the new or empty folder"), folder).Spanning().
			WithHint(lang.X("yearend.tables.hint", "a file for each table of the workbook, for any other program to read"))),
		lang.X("savefile.do", "Write it"), func() error {
			if err := p.shop.YearCSV(y.Number, folder.Text); err != nil {
				return err
			}
			written = folder.Text
			return nil
		}).SetFirst(folder).SetWidth(600)
	d.OnClosed = func() {
		if written != "" {
			p.host.Status(lang.X("savefile.written", "Written to {{.Path}}", map[string]any{"Path": written}))
		}
	}
	d.Show()
}
