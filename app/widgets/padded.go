package widgets

import (
	"fyne.io/fyne/v2"

	"skegworth/app/look"
)

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
