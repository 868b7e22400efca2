package widgets

import (
	"fyne.io/fyne/v2"

	"skegworth/app/look"
)

// A wrapped text is as high as the width it is given makes it. The window library asks for a least size
// without telling the width, so the layouts here ask the other way round: how high at this width?
type (
	tall interface {
		heightFor(width float32) float32
	}
	tallLayout interface {
		fyne.Layout
		heightOf(objects []fyne.CanvasObject, width float32) float32
	}
)

// heights remembers what heightFor said within one pass over a tree, since each container on the way down
// asks again; nil outside a pass.
var heights map[heightKey]float32

type heightKey struct {
	o     fyne.CanvasObject
	width float32
}

// inOnePass lays out with heights remembered; nothing may change while fn runs.
func inOnePass(fn func()) {
	if heights != nil {
		fn()
		return
	}
	heights = map[heightKey]float32{}
	defer func() { heights = nil }()
	fn()
}

// heightFor tells how high o wants to be at the width; 0 when hidden. It may resize o on the way.
func heightFor(o fyne.CanvasObject, width float32) float32 {
	if !o.Visible() {
		return 0
	}
	if heights == nil {
		return measureHeight(o, width)
	}
	key := heightKey{o, width}
	h, known := heights[key]
	if !known {
		h = measureHeight(o, width)
		heights[key] = h
	}
	return h
}

func measureHeight(o fyne.CanvasObject, width float32) float32 {
	switch o := o.(type) {
	case tall:
		return o.heightFor(width)
	case *fyne.Container:
		if l, ok := o.Layout.(tallLayout); ok {
			return l.heightOf(o.Objects, width)
		}
	}
	if o.Size().Width != width { // a label tells its height once it knows its width
		o.Resize(fyne.NewSize(width, max(o.Size().Height, o.MinSize().Height)))
	}
	return o.MinSize().Height
}

// Column puts objects below each other, each as wide as the column and as high as it wants to be at that
// width. Gap is between them, at 100 %.
func Column(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &column{gap: gap}, Objects: objects}
}

type column struct {
	gap   float32
	width float32 // as last laid out
}

func (c *column) heightOf(objects []fyne.CanvasObject, width float32) float32 {
	c.width = width
	var height float32
	for _, o := range objects {
		if h := heightFor(o, width); h > 0 {
			if height > 0 {
				height += look.Scaled(c.gap)
			}
			height += h
		}
	}
	return height
}

func (c *column) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	c.width = size.Width
	var y float32
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := heightFor(o, size.Width)
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		if h > 0 { // what has nothing to show takes no gap either
			y += h + look.Scaled(c.gap)
		}
	}
}

func (c *column) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var least fyne.Size
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		min := o.MinSize()
		least.Width = max(least.Width, min.Width)
		if c.width <= 0 && min.Height > 0 {
			if least.Height > 0 {
				least.Height += look.Scaled(c.gap)
			}
			least.Height += min.Height
		}
	}
	if c.width > 0 {
		least.Height = c.heightOf(objects, c.width)
	}
	return least
}
