package widgets

import (
	"fyne.io/fyne/v2"

	"skegworth/app/look"
)

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
