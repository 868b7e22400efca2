package widgets

import (
	"weak"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Pane scrolls its content up and down. It lays the content out at its width in one go, and brings a
// control that gains the keyboard into view.
type Pane struct {
	widget.BaseWidget
	Content fyne.CanvasObject
	scroll  *wheelScroll
	inner   *paneContent
}

// paneContent keeps still while only the scroll bars are to be drawn anew: refreshing everything in the
// pane would cost more than laying it out.
type paneContent struct {
	composite
	still bool
}

// Refresh is for the window library.
func (c *paneContent) Refresh() {
	if !c.still {
		c.composite.Refresh()
	}
}

// panes are all panes alive, for finding the one a control stands in: objects do not know their parents.
var panes []weak.Pointer[Pane]

// NewPane scrolls the content, kept off the scroll bar at its right.
func NewPane(content fyne.CanvasObject) *Pane {
	return newPane(content, padded{right: look.Wide, bottom: look.Wide})
}

func newPane(content fyne.CanvasObject, margin padded) *Pane {
	p := &Pane{Content: content}
	p.inner = &paneContent{}
	p.inner.root = &fyne.Container{Layout: margin, Objects: []fyne.CanvasObject{content}}
	p.inner.ExtendBaseWidget(p.inner)
	p.scroll = newWheelScroll(p.inner, container.ScrollVerticalOnly, passToPane(p))
	p.ExtendBaseWidget(p)
	live := panes[:0]
	for _, w := range panes {
		if w.Value() != nil {
			live = append(live, w)
		}
	}
	panes = append(live, weak.Make(p))
	return p
}

// MinSize is small: the content scrolls.
func (p *Pane) MinSize() fyne.Size {
	p.ExtendBaseWidget(p)
	return fyne.NewSize(max(look.Scaled(160), p.inner.MinSize().Width), look.Scaled(40))
}

// natural is how high the pane would be without scrolling.
func (p *Pane) natural(width float32) float32 { return heightFor(p.inner, width) }

// Reflow lays the content out again after something in it grew or shrank.
func (p *Pane) Reflow() {
	size := p.Size()
	if size.Width <= 0 {
		return
	}
	inOnePass(func() {
		h := heightFor(p.inner, size.Width)
		p.scroll.Resize(size)
		p.inner.Resize(fyne.NewSize(size.Width, max(h, size.Height)))
		relay(p.inner)
		p.inner.still = true
		p.scroll.Refresh()
		p.inner.still = false
	})
	canvas.Refresh(p)
}

// Top scrolls to the beginning.
func (p *Pane) Top() { p.scroll.ScrollToTop() }

// By scrolls by so many units, down when more than 0.
func (p *Pane) By(dy float32) {
	p.scroll.ScrollToOffset(fyne.NewPos(0, p.scroll.Offset.Y+dy))
}

// Offset is how far the pane is scrolled down.
func (p *Pane) Offset() float32 { return p.scroll.Offset.Y }

func (p *Pane) inside() []fyne.CanvasObject { return []fyne.CanvasObject{p.Content} }

// CreateRenderer is for the window library.
func (p *Pane) CreateRenderer() fyne.WidgetRenderer { return &paneRenderer{p} }

type paneRenderer struct{ p *Pane }

func (r *paneRenderer) Destroy()                     {}
func (r *paneRenderer) Layout(fyne.Size)             { r.p.Reflow() }
func (r *paneRenderer) MinSize() fyne.Size           { return r.p.MinSize() }
func (r *paneRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.p.scroll} }
func (r *paneRenderer) Refresh() {
	r.p.Reflow()
	r.p.scroll.Refresh()
}

// holder is a widget of ours that tells what stands inside it.
type holder interface{ inside() []fyne.CanvasObject }

func contains(root, sought fyne.CanvasObject) bool {
	if root == sought {
		return true
	}
	var children []fyne.CanvasObject
	switch o := root.(type) {
	case *fyne.Container:
		children = o.Objects
	case *container.Scroll:
		children = []fyne.CanvasObject{o.Content}
	case *container.ThemeOverride:
		children = []fyne.CanvasObject{o.Content}
	case *widget.PopUp:
		children = []fyne.CanvasObject{o.Content}
	case holder:
		children = o.inside()
	}
	for _, c := range children {
		if c != nil && contains(c, sought) {
			return true
		}
	}
	return false
}

func paneOf(o fyne.CanvasObject) *Pane {
	var found *Pane
	for _, w := range panes {
		p := w.Value()
		if p != nil && p != o && contains(p.Content, o) && (found == nil || contains(found.Content, p)) {
			found = p
		}
	}
	return found
}

// reflow lays out the panes around o again, the innermost first, after o grew or shrank.
func reflow(o fyne.CanvasObject) {
	for p := paneOf(o); p != nil; p = paneOf(p) {
		p.Reflow()
	}
}

// reveal scrolls the pane around o so that o can be seen.
func reveal(o fyne.CanvasObject) {
	p := paneOf(o)
	if p == nil || p.Size().Height <= 0 {
		return
	}
	d := fyne.CurrentApp().Driver()
	top := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(p.Content).Y
	bottom := top + o.Size().Height
	room := look.Scaled(look.Wide)
	switch {
	case top-room < p.scroll.Offset.Y:
		p.scroll.ScrollToOffset(fyne.NewPos(0, max(0, top-room)))
	case bottom+room > p.scroll.Offset.Y+p.Size().Height:
		p.scroll.ScrollToOffset(fyne.NewPos(0, bottom+room-p.Size().Height))
	}
}
