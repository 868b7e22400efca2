package sold

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

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

// taker reads a list with its columns as mended by hand, nil to guess them; dry only tells what would
// happen.
type taker func(layout *shop.IntakeLayout, dry bool) (shop.Taken, error)

// TakeIn shows what a file of past sales would bring, and takes it in when that is wanted.
func (p *Screen) TakeIn(path string) {
	p.offer(filepath.Base(path), func(layout *shop.IntakeLayout, dry bool) (shop.Taken, error) {
		return p.shop.IntakeAs(path, layout, dry)
	})
}

// takePasted does the same with rows copied from a spreadsheet.
func (p *Screen) takePasted(text string) {
	p.offer(lang.X("sold.paste.title", "the pasted rows"), func(layout *shop.IntakeLayout, dry bool) (shop.Taken, error) {
		return p.shop.PasteSalesAs(text, layout, dry)
	})
}

func (p *Screen) pasteClipboard() {
	p.takePasted(fyne.CurrentApp().Clipboard().Content())
}

// offer shows what reading would bring before anything is written, and how each column was understood.
// Where that is mended, what would go in and what is refused follow at once.
func (p *Screen) offer(name string, take taker) {
	if p.host.Window() == nil {
		return
	}
	widgets.FlushAll()
	var layout *shop.IntakeLayout // as mended; nil until then
	would, err := take(nil, true)
	below := widgets.Column(look.Gap, p.preview(would, err))
	parts := widgets.Column(look.Gap, below)
	d := widgets.NewDialog(p.host.Window().Canvas(), lang.X("sold.offer.title", "Take in {{.Name}}", map[string]any{"Name": name}), parts, offerWords(would, err), func() error {
		taken, err := take(layout, false)
		if err != nil {
			return err
		}
		if len(taken.Rows) > 0 {
			p.table.SetFilter("")
		}
		p.host.Status(lang.X("sold.taken", "{{.Result}} Undo takes them out again.", map[string]any{"Result": widgets.Say(taken.Sentence())}))
		return nil
	})
	if would.Layout.Mendable() {
		columns := newColumnChoices(would.Layout, func(l shop.IntakeLayout) {
			layout = &l
			would, err := take(layout, true)
			below.Objects = []fyne.CanvasObject{p.preview(would, err)}
			below.Refresh()
			d.Offer(offerWords(would, err))
		})
		parts.Objects = []fyne.CanvasObject{widgets.NewTitle(lang.X("sold.columns", "What each column is taken for")), columns.root, below}
	}
	width := float32(860)
	if !would.Layout.Mendable() {
		width = 560
	}
	d.SetWidth(width).Show()
}

// offerWords are on the button that takes in, "" when nothing would go in.
func offerWords(would shop.Taken, err error) string {
	if err != nil || would.Added == 0 {
		return ""
	}
	return lang.X("sold.offer.do", "Take in")
}

// neededWords say what a list must have.
func neededWords() string {
	return lang.X("sold.needed", "A list of sales needs a row of headings with at least these five, in any order: sold, price, power, year, stroke. It takes more: make, model, fuel, shaft, start, lift, steering, water, hours, looks, state, oil, listed, asked, channel, note.")
}
