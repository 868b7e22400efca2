package asking

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// raisePart is what could be done to the motor and what each would add to its price.
type raisePart struct{ *widgets.SumsFold }

func newRaisePart() *raisePart {
	return &raisePart{widgets.NewSumsFold(lang.X("raise.title", "What would raise it"))}
}

func (w *raisePart) show(a shop.RaiseAnswer, err error) {
	if err != nil {
		w.Set(nil, widgets.ErrorText(err), "")
		w.Fold.SetSummary("")
		return
	}
	lines := make([]widgets.SumLine, len(a.Lines))
	for i, l := range a.Lines {
		lines[i] = widgets.SumLine{What: l.What, Amount: l.Text, Rests: l.Rests}
	}
	w.Set(lines, widgets.Say(a.Unsaid), widgets.Say(a.Note))
	w.Fold.SetSummary(widgets.Say(a.Best))
}
