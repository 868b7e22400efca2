package widgets

import "fyne.io/fyne/v2"

// Tall gives something a least height, at 100 %: a table within a working, which would be one row tall.
func Tall(height float32, o fyne.CanvasObject) *fyne.Container {
	return &fyne.Container{Layout: atLeast{height: height}, Objects: []fyne.CanvasObject{o}}
}
