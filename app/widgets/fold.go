package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Fold is a section that opens and closes: by a tap on its head, or from the keyboard by Space, Return,
// Right and Left.
type Fold struct {
	composite
	OnToggle func(open bool)
	head     *foldHead
	body     *fyne.Container
}

// NewFold is a closed section.
func NewFold(title string, content fyne.CanvasObject) *Fold {
	f := &Fold{}
	f.head = newFoldHead(f, title)
	f.body = &fyne.Container{
		Layout:  padded{left: look.Page + look.Tight, top: look.Tight, bottom: look.Gap},
		Objects: []fyne.CanvasObject{content}, Hidden: true,
	}
	f.root = Column(0, f.head, f.body)
	f.ExtendBaseWidget(f)
	return f
}

// Opened opens the section and returns it, for building.
func (f *Fold) Opened() *Fold {
	f.body.Hidden = false
	return f
}

// Open tells whether the content shows.
func (f *Fold) Open() bool { return f.body.Visible() }

// SetOpen shows or hides the content.
func (f *Fold) SetOpen(open bool) {
	if open == f.Open() {
		return
	}
	f.body.Hidden = !open
	f.head.Refresh()
	f.root.Refresh()
	reflow(f)
	if f.OnToggle != nil {
		f.OnToggle(open)
	}
}

// SetTitle changes the words of the head.
func (f *Fold) SetTitle(title string) {
	f.head.words = title
	f.head.Refresh()
}

// SetSummary shows a few words at the right of the head: what the section holds while it is closed.
func (f *Fold) SetSummary(words string) {
	f.head.summary.Text = words
	f.head.Refresh()
}

// SetContent puts something else in the section.
func (f *Fold) SetContent(content fyne.CanvasObject) {
	f.body.Objects[0] = content
	f.body.Refresh()
	reflow(f)
}

// foldHead is the line that opens and closes.
type foldHead struct {
	widget.BaseWidget
	fold             *Fold
	words            string // of the title, which is clipped where it is narrow
	title, summary   *canvas.Text
	mark             *widget.Icon
	ground           *canvas.Rectangle
	focused, hovered bool
}

var (
	_ fyne.Focusable    = (*foldHead)(nil)
	_ fyne.Tappable     = (*foldHead)(nil)
	_ desktop.Hoverable = (*foldHead)(nil)
)

func newFoldHead(f *Fold, title string) *foldHead {
	h := &foldHead{
		fold: f, words: title, title: canvas.NewText(title, nil), summary: canvas.NewText("", nil),
		mark: widget.NewIcon(theme.MenuExpandIcon()), ground: canvas.NewRectangle(nil),
	}
	h.title.TextStyle.Bold = true
	h.ExtendBaseWidget(h)
	return h
}

func (h *foldHead) Tapped(*fyne.PointEvent) {
	h.fold.SetOpen(!h.fold.Open())
	if c := canvasOf(h); c != nil {
		c.Focus(h)
	}
}
func (h *foldHead) MouseIn(*desktop.MouseEvent)    { h.hovered = true; h.Refresh() }
func (h *foldHead) MouseMoved(*desktop.MouseEvent) {}
func (h *foldHead) MouseOut()                      { h.hovered = false; h.Refresh() }
func (h *foldHead) FocusGained()                   { h.focused = true; h.Refresh(); reveal(h) }
func (h *foldHead) FocusLost()                     { h.focused = false; h.Refresh() }
func (h *foldHead) TypedRune(rune)                 {}

func (h *foldHead) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		h.fold.SetOpen(!h.fold.Open())
	case fyne.KeyRight:
		h.fold.SetOpen(true)
	case fyne.KeyLeft:
		h.fold.SetOpen(false)
	case fyne.KeyPageUp, fyne.KeyPageDown:
		scrollKey(h, key)
	default:
		passKey(h, key)
	}
}

func (h *foldHead) CreateRenderer() fyne.WidgetRenderer {
	r := &foldHeadRenderer{h}
	r.Refresh()
	return r
}

type foldHeadRenderer struct{ h *foldHead }

func (r *foldHeadRenderer) Destroy() {}

func (r *foldHeadRenderer) Layout(size fyne.Size) {
	h, icon, gap := r.h, theme.IconInlineSize(), look.Scaled(look.Tight)
	h.ground.Resize(size)
	h.mark.Resize(fyne.NewSquareSize(icon))
	h.mark.Move(fyne.NewPos(0, (size.Height-icon)/2))
	left := icon + gap
	h.title.Text = clip(h.words, size.Width-left, h.title.TextSize, h.title.TextStyle)
	title := h.title.MinSize()
	h.title.Move(fyne.NewPos(left, (size.Height-title.Height)/2))
	h.title.Resize(title)
	left += title.Width + look.Scaled(look.Wide)
	summary := h.summary.MinSize()
	h.summary.Hidden = size.Width-left-summary.Width-gap < 0
	h.summary.Move(fyne.NewPos(size.Width-summary.Width-gap, (size.Height-summary.Height)/2))
	h.summary.Resize(summary)
}

func (r *foldHeadRenderer) MinSize() fyne.Size {
	return fyne.NewSize(look.Scaled(120), look.Reach(r.h.title.MinSize().Height+look.Scaled(look.Gap)))
}

func (r *foldHeadRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.h.ground, r.h.mark, r.h.title, r.h.summary}
}

func (r *foldHeadRenderer) Refresh() {
	h := r.h
	h.title.Color, h.title.TextSize = look.Color(look.Plain), theme.TextSize()
	h.summary.Color, h.summary.TextSize = look.Color(look.Quiet), theme.TextSize()
	mark := theme.MenuExpandIcon()
	if h.fold.Open() {
		mark = theme.MenuDropDownIcon()
	}
	h.mark.SetResource(mark)
	ground(h.ground, h.focused, h.hovered)
	r.Layout(h.Size())
	canvas.Refresh(h)
}

// ground colours what lies behind a control by whether the keyboard or the mouse is on it.
func ground(r *canvas.Rectangle, focused, hovered bool) {
	r.CornerRadius = theme.InputRadiusSize()
	r.FillColor, r.StrokeWidth, r.StrokeColor = look.Fade(look.Color(look.Plain), 0), 0, nil
	if hovered {
		r.FillColor = theme.Color(theme.ColorNameHover)
	}
	if focused {
		r.FillColor = theme.Color(theme.ColorNameFocus)
	}
	r.Refresh()
}
