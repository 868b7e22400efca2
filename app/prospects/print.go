package prospects

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// askPaper asks where a page about the prospect goes and writes it there.
func (p *Screen) askPaper(r costing.Record, kind shop.PaperKind) {
	paper := shop.Paper{Kind: kind, MotorID: r.ID, Say: widgets.Say}
	words := lang.X("prospects.paper.page.words", "One page: the motor, what was checked, what it may bring, its ways out and the top price.")
	if kind == shop.PaperChecks {
		words = lang.X("prospects.paper.checks.words", "A page for the truck: the checks with boxes to pencil in, and the top price by what is found.")
	}
	folder, name := p.shop.PaperPlace(paper)
	widgets.SaveQuestion{
		Title: lang.X("prospects.paper.title", "{{.Page}} of {{.Motor}}", map[string]any{"Page": capital(widgets.Say(kind.Name())), "Motor": nameOf(r)}),
		Words: words, Folder: folder, Name: name, Dates: widgets.DateOrder(p.shop.DateOrder()), There: p.host.Status,
		Write: func(folder, name string, replace bool) (string, error) {
			return p.shop.WritePaperTo(paper, folder, name, replace)
		}}.Ask(p.host.Window().Canvas())
}
