package widgets

import (
	"image/color"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/valuation"
)

// howMark says how a fact is known, in small words beside its label: measured, seen or told. A tap, Space
// or an arrow goes to the next; the first letter chooses; Delete takes it away.
type howMark struct {
	widget.BaseWidget
	onHow func(valuation.How)

	how              valuation.How
	words            *canvas.Text
	ground           *canvas.Rectangle
	focused, hovered bool
}

// hows are the ways a fact is known, in the order they are gone through.
var hows = []valuation.How{"", valuation.Measured, valuation.Seen, valuation.Told}

var (
	_ fyne.Focusable    = (*howMark)(nil)
	_ fyne.Tappable     = (*howMark)(nil)
	_ desktop.Hoverable = (*howMark)(nil)
)

func newHowMark(onHow func(valuation.How)) *howMark {
	h := &howMark{onHow: onHow, words: canvas.NewText("", color.Transparent), ground: canvas.NewRectangle(color.Transparent)}
	h.ExtendBaseWidget(h)
	return h
}

func (h *howMark) set(how valuation.How) {
	h.how = how
	h.Refresh()
}

func (h *howMark) choose(how valuation.How) {
	if how == h.how {
		return
	}
	h.set(how)
	h.onHow(how)
}

// step goes on by so many ways, around the end.
func (h *howMark) step(by int) {
	for i, how := range hows {
		if how == h.how {
			h.choose(hows[(i+by+len(hows))%len(hows)])
			return
		}
	}
	h.choose("")
}

func (h *howMark) text() string {
	if h.how == "" {
		return lang.X("how.ask", "how known?")
	}
	return Say(h.how.Label())
}

func (h *howMark) Tapped(*fyne.PointEvent)        { h.step(1) }
func (h *howMark) MouseIn(*desktop.MouseEvent)    { h.hovered = true; h.Refresh() }
func (h *howMark) MouseMoved(*desktop.MouseEvent) {}
func (h *howMark) MouseOut()                      { h.hovered = false; h.Refresh() }
func (h *howMark) FocusGained()                   { h.focused = true; h.Refresh(); reveal(h) }
func (h *howMark) FocusLost()                     { h.focused = false; h.Refresh() }

// TypedRune is for the window library.
func (h *howMark) TypedRune(r rune) {
	for _, how := range hows[1:] {
		if startsWith(Say(how.Label()), unicode.ToLower(r)) {
			h.choose(how)
			return
		}
	}
}

// TypedKey is for the window library.
func (h *howMark) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeySpace, fyne.KeyRight, fyne.KeyDown:
		h.step(1)
	case fyne.KeyLeft, fyne.KeyUp:
		h.step(-1)
	case fyne.KeyDelete, fyne.KeyBackspace:
		h.choose("")
	case fyne.KeyPageUp, fyne.KeyPageDown:
		scrollKey(h, key)
	default:
		passKey(h, key)
	}
}

// MinSize has room for the words and little more.
func (h *howMark) MinSize() fyne.Size {
	words := fyne.MeasureText(h.text(), theme.CaptionTextSize(), fyne.TextStyle{})
	return fyne.NewSize(words.Width+2*look.Scaled(look.Tight), words.Height+2)
}

// CreateRenderer is for the window library.
func (h *howMark) CreateRenderer() fyne.WidgetRenderer {
	r := &howRenderer{h}
	r.Refresh()
	return r
}

type howRenderer struct{ h *howMark }

func (r *howRenderer) Destroy()           {}
func (r *howRenderer) MinSize() fyne.Size { return r.h.MinSize() }
func (r *howRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.h.ground, r.h.words}
}

func (r *howRenderer) Layout(size fyne.Size) {
	r.h.ground.Resize(size)
	r.h.words.Move(fyne.NewPos(look.Scaled(look.Tight), 1))
	r.h.words.Resize(size)
}

func (r *howRenderer) Refresh() {
	h := r.h
	h.words.Text, h.words.TextSize, h.words.Color = h.text(), theme.CaptionTextSize(), look.Color(look.Quiet)
	if h.how == "" && !h.focused && !h.hovered {
		h.words.Color = look.Fade(look.Color(look.Quiet), 0xb0)
	}
	ground(h.ground, h.focused, h.hovered)
	canvas.Refresh(h)
}
