package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// split shows two things side by side with a thin line between them that can be dragged. Where the room is
// narrow, because the window is or everything is enlarged, they stand above each other instead.
type split struct {
	widget.BaseWidget
	left, right fyne.CanvasObject
	bar         *splitBar
	share       float64 // of the width that is left's, 0 to 1
	onShare     func(float64)
}

func newSplit(left, right fyne.CanvasObject) *split {
	s := &split{left: left, right: right, share: 0.34}
	s.bar = &splitBar{of: s, line: canvas.NewRectangle(color.Transparent)}
	s.bar.ExtendBaseWidget(s.bar)
	s.ExtendBaseWidget(s)
	return s
}

func (s *split) set(share float64) {
	s.share = share
	s.Refresh()
}

func (s *split) inside() []fyne.CanvasObject { return []fyne.CanvasObject{s.left, s.right} }

func (s *split) CreateRenderer() fyne.WidgetRenderer { return &splitRenderer{s} }

type splitRenderer struct{ s *split }

func (r *splitRenderer) Destroy() {}

func (r *splitRenderer) bar() float32 { return look.Scaled(8) }

// narrow tells whether the two stand above each other.
func (r *splitRenderer) narrow(width float32) bool { return width < look.Scaled(620) }

func (r *splitRenderer) Layout(size fyne.Size) {
	s, bar := r.s, r.bar()
	if r.narrow(size.Width) {
		top := max(s.left.MinSize().Height, size.Height*0.3)
		s.left.Move(fyne.NewPos(0, 0))
		s.left.Resize(fyne.NewSize(size.Width, top))
		s.bar.Hide()
		s.right.Move(fyne.NewPos(0, top))
		s.right.Resize(fyne.NewSize(size.Width, max(0, size.Height-top)))
		return
	}
	s.bar.Show()
	room := size.Width - bar
	left := float32(s.share) * room
	left = max(min(left, room-s.right.MinSize().Width), s.left.MinSize().Width)
	left = max(0, min(left, room))
	s.left.Move(fyne.NewPos(0, 0))
	s.left.Resize(fyne.NewSize(left, size.Height))
	s.bar.Move(fyne.NewPos(left, 0))
	s.bar.Resize(fyne.NewSize(bar, size.Height))
	s.right.Move(fyne.NewPos(left+bar, 0))
	s.right.Resize(fyne.NewSize(room-left, size.Height))
}

func (r *splitRenderer) MinSize() fyne.Size {
	left, right := r.s.left.MinSize(), r.s.right.MinSize()
	return fyne.NewSize(max(left.Width, right.Width), left.Height+right.Height)
}

func (r *splitRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.s.left, r.s.bar, r.s.right}
}

func (r *splitRenderer) Refresh() {
	r.Layout(r.s.Size())
	r.s.left.Refresh()
	r.s.bar.Refresh()
	r.s.right.Refresh()
	canvas.Refresh(r.s)
}

// splitBar is the line, with room around it to take hold of.
type splitBar struct {
	widget.BaseWidget
	of      *split
	line    *canvas.Rectangle
	hovered bool
}

var (
	_ fyne.Draggable     = (*splitBar)(nil)
	_ desktop.Hoverable  = (*splitBar)(nil)
	_ desktop.Cursorable = (*splitBar)(nil)
)

func (b *splitBar) Dragged(e *fyne.DragEvent) {
	room := b.of.Size().Width - b.Size().Width
	if room <= 0 {
		return
	}
	share := float64((b.Position().X + e.Dragged.DX) / room)
	b.of.set(max(0.05, min(share, 0.95)))
}

func (b *splitBar) DragEnd() {
	if b.of.onShare != nil {
		b.of.onShare(b.of.share)
	}
}

func (b *splitBar) MouseIn(*desktop.MouseEvent)    { b.hovered = true; b.Refresh() }
func (b *splitBar) MouseMoved(*desktop.MouseEvent) {}
func (b *splitBar) MouseOut()                      { b.hovered = false; b.Refresh() }
func (b *splitBar) Cursor() desktop.Cursor         { return desktop.HResizeCursor }

func (b *splitBar) CreateRenderer() fyne.WidgetRenderer {
	r := &splitBarRenderer{b}
	r.Refresh()
	return r
}

type splitBarRenderer struct{ b *splitBar }

func (r *splitBarRenderer) Destroy()                     {}
func (r *splitBarRenderer) MinSize() fyne.Size           { return fyne.NewSize(look.Scaled(8), 0) }
func (r *splitBarRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.b.line} }

func (r *splitBarRenderer) Layout(size fyne.Size) {
	w := float32(1)
	if r.b.hovered {
		w = look.Scaled(4)
	}
	r.b.line.Move(fyne.NewPos((size.Width-w)/2, 0))
	r.b.line.Resize(fyne.NewSize(w, size.Height))
}

func (r *splitBarRenderer) Refresh() {
	r.b.line.FillColor = look.Color(look.Line)
	r.b.line.Refresh()
	r.Layout(r.b.Size())
	canvas.Refresh(r.b)
}
