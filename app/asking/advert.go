package asking

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// advertPart is the text that the motor is offered with.
type advertPart struct {
	fold   *widgets.Fold
	length *widgets.Segments
	text   *widgets.Text
	own    *widgets.Entry
	p      *Screen
}

// How long the text is.
const (
	longText  = "long"
	shortText = "short"
)

func newAdvertPart(p *Screen) *advertPart {
	w := &advertPart{p: p, text: widgets.NewText(""), own: widgets.NewTextArea(3), length: widgets.NewSegments(
		widgets.Option{Value: longText, Text: lang.X("advert.long", "Long")}, widgets.Option{Value: shortText, Text: lang.X("advert.short", "Short")})}
	w.length.SetValue(longText)
	w.length.OnValue = func(string) error {
		p.frame.Update(func() { w.show(p.chosenRecord()) })
		return nil
	}
	w.own.OnSave = func(text string) error { return p.shop.SetOwnWords(p.Chosen(), text) }
	copied := widgets.NewButton(lang.X("advert.copy", "Copy this text"), theme.ContentCopyIcon(), p.CopyListing)
	w.fold = widgets.NewFold(lang.X("advert.title", "Listing text"), widgets.Column(look.Wide,
		w.length, widgets.Flow(look.Gap, copied), w.text,
		widgets.NewField(lang.X("advert.own", "In your own words"), w.own).
			WithHint(lang.X("advert.own.hint", "stands in the text above; everything else comes from what is written down about the motor"))))
	return w
}

func (w *advertPart) show(r costing.Record) {
	w.own.Set(r.OwnWords)
	text, err := w.written()
	if err != nil {
		text = widgets.ErrorText(err)
	}
	w.text.SetText(text)
	w.p.frame.Reflow()
}

// written is the text in the length chosen.
func (w *advertPart) written() (string, error) {
	long, short, err := w.p.shop.ListingText(w.p.Chosen())
	if w.length.Value() == shortText {
		long = short
	}
	return long.Text(widgets.Say), err
}

// CopyListing puts the listing text of the motor on show on the clipboard.
func (p *Screen) CopyListing() {
	widgets.FlushAll()
	if p.Chosen() == "" {
		return
	}
	text, err := p.advert.written()
	if !p.do(err) {
		return
	}
	fyne.CurrentApp().Clipboard().SetContent(text)
	p.host.Status(lang.X("advert.copied", "The listing text of {{.Motor}} is copied", map[string]any{"Motor": nameOf(p.chosenRecord())}))
}
