package desk

import (
	"fyne.io/fyne/v2"

	"skegworth/app/look"
)

// narrowest is the width, at 100 %, below which a window is one of a small or a turned screen: the rail
// folds to marks with small names, and what can be pressed grows to a fingertip.
const narrowest = 720

// folding lays out as another layout does, and tells when the window became narrow or wide.
type folding struct {
	inner  fyne.Layout
	fold   func(narrow bool)
	narrow bool
}

// Layout is for the window library.
func (f *folding) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if narrow := size.Width < look.Scaled(narrowest); narrow != f.narrow && size.Width > 0 {
		f.narrow = narrow
		f.fold(narrow)
	}
	f.inner.Layout(objects, size)
}

// MinSize is for the window library.
func (f *folding) MinSize(objects []fyne.CanvasObject) fyne.Size { return f.inner.MinSize(objects) }

// narrow folds the rail or unfolds it. The theme follows once the layout is done.
func (d *Desk) narrow(on bool, name fyne.CanvasObject) {
	name.(*fyne.Container).Hidden, d.status.where.Hidden = on, on // the window's title names the shop
	for _, p := range d.places {
		p.item.narrow = on
		p.item.Refresh()
	}
	if d.window == nil {
		return
	}
	fyne.Do(func() {
		settings := fyne.CurrentApp().Settings()
		if t, ours := settings.Theme().(look.Theme); ours && t.Touch != on {
			t.Touch = on
			settings.SetTheme(t)
		}
	})
}
