package widgets

import (
	"weak"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Strip puts objects side by side, each so wide at 100 %, and scrolls sideways where the room ends. A
// control in it that gains the keyboard comes into sight.
func Strip(width, gap float32, objects ...fyne.CanvasObject) fyne.CanvasObject {
	s := &strip{scroll: container.NewHScroll(&fyne.Container{Layout: sideBySide{width, gap}, Objects: objects})}
	s.root = &fyne.Container{Layout: stripRoom{}, Objects: []fyne.CanvasObject{s.scroll}}
	s.ExtendBaseWidget(s)
	live := strips[:0]
	for _, w := range strips {
		if w.Value() != nil {
			live = append(live, w)
		}
	}
	strips = append(live, weak.Make(s))
	return s
}

type strip struct {
	composite
	scroll *container.Scroll
}

// strips are all alive, for finding the one a control stands in.
var strips []weak.Pointer[strip]

// revealAside scrolls the strip around o so that o can be seen.
func revealAside(o fyne.CanvasObject) {
	for _, w := range strips {
		s := w.Value()
		if s == nil || !contains(s.scroll.Content, o) {
			continue
		}
		d := fyne.CurrentApp().Driver()
		left := d.AbsolutePositionForObject(o).X - d.AbsolutePositionForObject(s.scroll.Content).X
		right, view := left+o.Size().Width, s.scroll.Size().Width
		switch {
		case left < s.scroll.Offset.X:
			s.scroll.ScrollToOffset(fyne.NewPos(left, 0))
		case right > s.scroll.Offset.X+view:
			s.scroll.ScrollToOffset(fyne.NewPos(right-view, 0))
		}
	}
}

// stripRoom gives a strip the height of what is in it, and room for the bar below.
type stripRoom struct{}

func (stripRoom) heightOf(o []fyne.CanvasObject, _ float32) float32 {
	return o[0].(*container.Scroll).Content.MinSize().Height + look.Scaled(12)
}

func (s stripRoom) Layout(o []fyne.CanvasObject, size fyne.Size) { o[0].Resize(size) }

func (s stripRoom) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Scaled(160), s.heightOf(o, 0))
}

type sideBySide struct{ width, gap float32 }

func (s sideBySide) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	var x float32
	for _, o := range objects {
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(look.Scaled(s.width), size.Height))
		x += look.Scaled(s.width + s.gap)
	}
}

func (s sideBySide) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var least fyne.Size
	for _, o := range objects {
		least.Width += look.Scaled(s.width + s.gap)
		least.Height = max(least.Height, heightFor(o, look.Scaled(s.width)))
	}
	return least
}

// NewOneLine is text on one line, cut off with an ellipsis where it is too long; bold for a heading.
func NewOneLine(words string, bold bool) fyne.CanvasObject {
	l := &oneLine{words: words, text: canvas.NewText("", look.Color(look.Plain))}
	l.text.TextStyle.Bold = bold
	l.ExtendBaseWidget(l)
	return l
}

type oneLine struct {
	widget.BaseWidget
	words string
	text  *canvas.Text
}

// MinSize is one line high.
func (l *oneLine) MinSize() fyne.Size {
	return fyne.NewSize(look.Scaled(20), fyne.MeasureText("Ag", theme.TextSize(), l.text.TextStyle).Height)
}

// CreateRenderer is for the window library.
func (l *oneLine) CreateRenderer() fyne.WidgetRenderer { return &oneLineRenderer{l} }

type oneLineRenderer struct{ l *oneLine }

func (r *oneLineRenderer) Destroy()                     {}
func (r *oneLineRenderer) MinSize() fyne.Size           { return r.l.MinSize() }
func (r *oneLineRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.l.text} }
func (r *oneLineRenderer) Layout(size fyne.Size) {
	t := r.l.text
	t.TextSize, t.Color = theme.TextSize(), look.Color(look.Plain)
	t.Text = clip(r.l.words, size.Width, t.TextSize, t.TextStyle)
	t.Resize(size)
}

func (r *oneLineRenderer) Refresh() {
	r.Layout(r.l.Size())
	canvas.Refresh(r.l)
}
