package sold

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/valuation/say"
)

// swingPart says what one sale does to the bands.
type swingPart struct {
	root  *fyne.Container
	lines *fyne.Container
	on    *shop.Swing // what is on show
	p     *Screen
}

// onWindow runs fn on the window's own thread, and beside runs it beside that. Tests replace them: their
// driver has no such thread.
var (
	onWindow = fyne.Do
	beside   = widgets.Beside
)

func newSwingPart(p *Screen) *swingPart {
	w := &swingPart{p: p, lines: widgets.Column(look.Tight)}
	w.root = widgets.Column(look.Tight, widgets.NewTitle(lang.X("sold.swing", "What it does to the bands")), w.lines)
	w.root.Hidden = true
	return w
}

// show tells of a sale. Where markets must be read for it, that is done beside the window's thread, and
// the lines come when it is done.
func (w *swingPart) show(row shop.SoldRow) {
	swing, err := w.p.shop.SwingOf(row)
	if err != nil {
		w.p.host.Failed(err)
	}
	if swing == w.on && swing != nil {
		return
	}
	w.on = swing
	w.root.Hidden = swing == nil
	switch {
	case swing == nil:
	case swing.Quick() || w.p.host.Window() == nil: // drawn without a display, there is nobody to wait
		w.put(swing.Lines())
	default:
		w.lines.Objects = []fyne.CanvasObject{widgets.NewQuiet(lang.X("sold.swing.working", "Working it out…"))}
		beside(func() {
			lines, err := swing.Lines()
			onWindow(func() {
				if w.on == swing {
					w.put(lines, err)
					w.p.frame.Reflow()
				}
			})
		})
	}
}

func (w *swingPart) put(lines []say.Sentence, err error) {
	w.lines.Objects = nil
	for _, l := range lines {
		w.lines.Objects = append(w.lines.Objects, widgets.NewText(widgets.Say(l)))
	}
	if err != nil {
		w.lines.Objects = []fyne.CanvasObject{widgets.NewText(widgets.ErrorText(err))}
	}
	w.lines.Refresh()
}
