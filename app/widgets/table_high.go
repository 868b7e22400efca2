package widgets

import (
	"fyne.io/fyne/v2"

	"skegworth/app/look"
)

// High gives a table within a working the height of its rows, of so many at most; the others scroll.
// Filtering does not make it lower.
func (t *Table[T]) High(most int) *fyne.Container {
	return &fyne.Container{Layout: rowsHigh{func() float32 {
		h := t.grid.rowHeight() * float32(min(max(len(t.rows), 1), most)+1)
		if t.bar.Visible() {
			h += t.filter.MinSize().Height + 2*look.Scaled(look.Gap)
		}
		return h + look.Scaled(12) // the line under the head, and a bar to scroll sideways by
	}}, Objects: []fyne.CanvasObject{t}}
}

// rowsHigh gives one object the whole room, of a height that changes with what is in it.
type rowsHigh struct{ height func() float32 }

func (r rowsHigh) heightOf([]fyne.CanvasObject, float32) float32 { return r.height() }

func (r rowsHigh) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(size)
}

func (r rowsHigh) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(o[0].MinSize().Width, r.height())
}
