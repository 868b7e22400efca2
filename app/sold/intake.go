package sold

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// askFile asks which file of past sales to take in.
func (p *Screen) askFile() {
	if p.host.Window() == nil {
		return
	}
	widgets.FileQuestion{Title: lang.X("sold.take.title", "Take past sales in: which CSV or XLSX file?"), Do: lang.X("sold.take.do", "Look at it"),
		Ends: []string{".csv", ".tsv", ".txt", ".xlsx"}, Dates: widgets.DateOrder(p.shop.DateOrder())}.Ask(p.host.Window().Canvas(), p.TakeIn)
}

// TakeIn shows what a file of past sales would bring, and takes it in when that is wanted.
func (p *Screen) TakeIn(path string) {
	p.offer(filepath.Base(path), func(dry bool) (shop.Taken, error) { return p.shop.Intake(path, dry) })
}

// takePasted does the same with rows copied from a spreadsheet.
func (p *Screen) takePasted(text string) {
	p.offer(lang.X("sold.paste.title", "the pasted rows"), func(dry bool) (shop.Taken, error) { return p.shop.PasteSales(text, dry) })
}

func (p *Screen) pasteClipboard() {
	p.takePasted(fyne.CurrentApp().Clipboard().Content())
}

// offer shows what reading would bring before anything is written.
func (p *Screen) offer(name string, take func(dry bool) (shop.Taken, error)) {
	if p.host.Window() == nil {
		return
	}
	widgets.FlushAll()
	c := p.host.Window().Canvas()
	title := lang.X("sold.offer.title", "Take in {{.Name}}", map[string]any{"Name": name})
	would, err := take(true)
	if err != nil {
		d := widgets.NewDialog(c, title, widgets.Column(look.Wide, widgets.NewNote(theme.ErrorIcon(), look.Bad, widgets.ErrorText(err)), widgets.NewQuiet(neededWords())), "", nil)
		d.SetWidth(560).Show()
		return
	}
	do := ""
	if would.Added > 0 {
		do = lang.X("sold.offer.do", "Take in")
	}
	widgets.NewDialog(c, title, p.preview(would), do, func() error {
		taken, err := take(false)
		if err != nil {
			return err
		}
		if len(taken.Rows) > 0 {
			p.table.SetFilter("")
		}
		p.host.Status(lang.X("sold.taken", "{{.Result}} Undo takes them out again.", map[string]any{"Result": widgets.Say(taken.Sentence())}))
		return nil
	}).SetWidth(860).Show()
}

// neededWords say what a list must have.
func neededWords() string {
	return lang.X("sold.needed", "A list of sales needs a row of headings with at least these five, in any order: sold, price, power, year, stroke. It takes more: make, model, fuel, shaft, start, lift, steering, water, hours, looks, state, oil, listed, asked, channel, note.")
}
