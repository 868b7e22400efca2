package widgets

import (
	"fyne.io/fyne/v2"

	"skegworth/app/look"
)

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
