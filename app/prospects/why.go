package prospects

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// whyPart is the way from a plain motor to this one's price, line by line.
type whyPart struct{ *widgets.SumsFold }

func newWhyPart() *whyPart {
	return &whyPart{widgets.NewSumsFold(lang.X("why.title", "Why this price"))}
}

func (w *whyPart) show(a shop.WhyAnswer, err error) {
	if err != nil {
		w.Set(nil, widgets.ErrorText(err), "")
		return
	}
	lines := make([]widgets.SumLine, len(a.Lines))
	for i, l := range a.Lines {
		lines[i] = widgets.SumLine{What: l.What, Amount: l.Text, Rests: l.Rests, Total: i == len(a.Lines)-1}
	}
	w.Set(lines, widgets.Say(a.Wider), widgets.Say(a.Note))
}
