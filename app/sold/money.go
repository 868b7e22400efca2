package sold

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/widgets"
)

// moneyPart lists the sales whose money is not known to be there.
type moneyPart struct {
	root  *fyne.Container
	list  *fyne.Container
	state string
	p     *Screen
}

func newMoneyPart(p *Screen) *moneyPart {
	w := &moneyPart{p: p, list: widgets.Column(look.Gap)}
	w.root = widgets.Column(look.Gap, widgets.NewTitle(lang.X("sold.money", "Money not known to be there")), w.list)
	w.root.Hidden = true
	return w
}

func (w *moneyPart) show() {
	all := w.p.shop.Uncleared()
	state := ""
	for _, r := range all {
		state += r.ID + widgets.Say(w.p.shop.ToClear(r)) + "\n"
	}
	if state == w.state {
		return
	}
	w.state = state
	w.list.Objects = nil
	for _, r := range all {
		there := widgets.NewButton(lang.X("sold.money.there", "It is there"), theme.ConfirmIcon(), func() { w.p.host.Failed(w.p.shop.Clear(r.ID, 0, "")) })
		show := widgets.NewQuietButton(lang.X("sold.money.show", "Show the sale"), nil, func() { w.p.Show(r.ID) })
		w.list.Add(widgets.Column(look.Tight, widgets.NewText(widgets.WholeSentence(widgets.Say(w.p.shop.ToClear(r)))), widgets.Flow(look.Gap, there, show)))
	}
	w.root.Hidden = len(all) == 0
	w.list.Refresh()
	w.root.Refresh()
}
