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

// Flow puts objects beside each other at their least size and goes on in a new line where the width ends.
func Flow(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &flow{gap: gap}, Objects: objects}
}

type flow struct {
	gap   float32
	width float32
}

func (f *flow) place(objects []fyne.CanvasObject, width float32, put func(fyne.CanvasObject, fyne.Position, fyne.Size)) float32 {
	gap := look.Scaled(f.gap)
	var x, y, line float32
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		min := o.MinSize()
		min.Width = fyne.Min(min.Width, width)
		if x > 0 && x+min.Width > width {
			x, y, line = 0, y+line+gap, 0
		}
		if put != nil {
			put(o, fyne.NewPos(x, y), min)
		}
		x += min.Width + gap
		line = max(line, min.Height)
	}
	return y + line
}

// natural is the size of everything in one line.
func (f *flow) natural(objects []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		if size.Width > 0 {
			size.Width += look.Scaled(f.gap)
		}
		size.Width += o.MinSize().Width
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return size
}

func (f *flow) heightOf(objects []fyne.CanvasObject, width float32) float32 {
	f.width = width
	return f.place(objects, width, nil)
}

func (f *flow) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	f.width = size.Width
	f.place(objects, size.Width, func(o fyne.CanvasObject, at fyne.Position, s fyne.Size) {
		o.Move(at)
		o.Resize(s)
	})
}

func (f *flow) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var least fyne.Size
	for _, o := range objects {
		if o.Visible() {
			least = least.Max(o.MinSize())
		}
	}
	if f.width > 0 {
		least.Height = f.place(objects, f.width, nil)
	}
	return least
}

// Columns puts objects in as many columns of equal width as fit, at least one and at most most, each
// column at least narrowest wide at 100 %. A [Field] that is Wide takes a whole line.
func Columns(narrowest float32, most int, gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: &columns{narrowest: narrowest, most: most, gap: gap}, Objects: objects}
}

type columns struct {
	narrowest, gap float32
	most           int
	width          float32
}

func (c *columns) place(objects []fyne.CanvasObject, width float32, put func(fyne.CanvasObject, fyne.Position, fyne.Size)) float32 {
	gap, between := look.Scaled(c.gap), look.Scaled(c.gap)*1.5
	n := int((width + between) / (look.Scaled(c.narrowest) + between))
	n = max(1, min(n, c.most))
	each := (width - between*float32(n-1)) / float32(n)
	var y float32
	var line []fyne.CanvasObject
	end := func(w float32) {
		if len(line) == 0 {
			return
		}
		if y > 0 {
			y += gap
		}
		var h float32
		for _, o := range line {
			h = max(h, heightFor(o, w))
		}
		for i, o := range line {
			if put != nil {
				put(o, fyne.NewPos(float32(i)*(each+between), y), fyne.NewSize(w, h))
			}
		}
		y += h
		line = line[:0]
	}
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		if f, isField := o.(*Field); isField && f.Wide {
			end(each)
			line = append(line, o)
			end(width)
			continue
		}
		line = append(line, o)
		if len(line) == n {
			end(each)
		}
	}
	end(each)
	return y
}

func (c *columns) heightOf(objects []fyne.CanvasObject, width float32) float32 {
	c.width = width
	return c.place(objects, width, nil)
}

func (c *columns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	c.width = size.Width
	c.place(objects, size.Width, func(o fyne.CanvasObject, at fyne.Position, s fyne.Size) {
		o.Move(at)
		o.Resize(s)
	})
}

func (c *columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var least fyne.Size
	for _, o := range objects {
		if o.Visible() {
			least.Width = max(least.Width, o.MinSize().Width)
			least.Height += o.MinSize().Height
		}
	}
	if c.width > 0 {
		least.Height = c.place(objects, c.width, nil)
	}
	return least
}

// Padded puts a margin around one object, at 100 %.
func Padded(margin float32, o fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: padded{left: margin, top: margin, right: margin, bottom: margin}, Objects: []fyne.CanvasObject{o}}
}

type padded struct{ left, top, right, bottom float32 }

func (p padded) heightOf(objects []fyne.CanvasObject, width float32) float32 {
	return heightFor(objects[0], width-look.Scaled(p.left+p.right)) + look.Scaled(p.top+p.bottom)
}

func (p padded) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	objects[0].Move(fyne.NewPos(look.Scaled(p.left), look.Scaled(p.top)))
	objects[0].Resize(size.SubtractWidthHeight(look.Scaled(p.left+p.right), look.Scaled(p.top+p.bottom)))
}

func (p padded) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return objects[0].MinSize().AddWidthHeight(look.Scaled(p.left+p.right), look.Scaled(p.top+p.bottom))
}
