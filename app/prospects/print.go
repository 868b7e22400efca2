package prospects

import (
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// askPaper asks where a page about the prospect goes and writes it there.
func (p *Screen) askPaper(r costing.Record, kind shop.PaperKind) {
	widgets.FlushAll()
	paper := shop.Paper{Kind: kind, MotorID: r.ID, Say: widgets.Say}
	window := p.host.Window()
	folder, name := widgets.NewEntry(), widgets.NewEntry()
	where, called := p.shop.PaperPlace(paper)
	folder.Set(where)
	name.Set(called)
	replace := widgets.NewCheck(lang.X("prospects.paper.replace", "replace a file of that name if it is there"))
	choose := widgets.NewButton(lang.X("prospects.paper.choose", "Choose a folder…"), theme.FolderOpenIcon(), func() {
		widgets.FileQuestion{Title: lang.X("prospects.paper.choose.title", "Folder for the page"), Do: lang.X("prospects.paper.choose.do", "Take this folder"),
			Folder: folder.Text, Folders: true, Dates: widgets.DateOrder(p.shop.DateOrder())}.Ask(window.Canvas(), folder.Set)
	})
	words := lang.X("prospects.paper.page.words", "One page: the motor, what was checked, what it may bring, its ways out and the top price.")
	if kind == shop.PaperChecks {
		words = lang.X("prospects.paper.checks.words", "A page for the truck: the checks with boxes to pencil in, and the top price by what is found.")
	}
	form := widgets.Column(look.Wide, widgets.NewText(words),
		widgets.NewField(lang.X("prospects.paper.folder", "Folder"), folder), widgets.Flow(look.Gap, choose),
		widgets.NewField(lang.X("prospects.paper.name", "Name of the file"), name),
		widgets.NewField("", replace))
	written := ""
	d := widgets.NewDialog(window.Canvas(), lang.X("prospects.paper.title", "{{.Page}} of {{.Motor}}", map[string]any{"Page": capital(widgets.Say(kind.Name())), "Motor": nameOf(r)}), form,
		lang.X("prospects.paper.do", "Write it"), func() (err error) {
			written, err = p.shop.WritePaperTo(paper, folder.Text, name.Text, replace.Checked)
			return err
		}).SetFirst(name).SetWidth(600)
	d.OnClosed = func() {
		if written == "" {
			return
		}
		words := lang.X("prospects.paper.written", "Written to {{.Path}}", map[string]any{"Path": written})
		p.host.Status(words)
		widgets.Tell(window.Canvas(), lang.X("prospects.paper.there", "The page is there"), words)
	}
	d.Show()
}
