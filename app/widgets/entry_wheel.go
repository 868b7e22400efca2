package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// CreateRenderer is for the window library. A field of one line has nothing to scroll, yet the library's
// field takes the wheel: a sheet over it hands the wheel to the page, which would else stand still as
// soon as a field came under the mouse.
func (e *Entry) CreateRenderer() fyne.WidgetRenderer {
	r := e.Entry.CreateRenderer()
	if e.MultiLine {
		return r
	}
	w := &wheelSheet{of: e.self}
	w.ExtendBaseWidget(w)
	return &entryRenderer{r, w}
}

type entryRenderer struct {
	fyne.WidgetRenderer
	wheel *wheelSheet
}

func (r *entryRenderer) Layout(size fyne.Size) {
	r.WidgetRenderer.Layout(size)
	r.wheel.Resize(size)
}

func (r *entryRenderer) Objects() []fyne.CanvasObject {
	own := r.WidgetRenderer.Objects()
	return append(own[:len(own):len(own)], r.wheel)
}

// wheelSheet shows nothing and takes nothing but the wheel.
type wheelSheet struct {
	widget.BaseWidget
	of fyne.CanvasObject // what the page knows as its own
}

// Scrolled is for the window library.
func (w *wheelSheet) Scrolled(e *fyne.ScrollEvent) { passToPane(w.of)(e) }

// CreateRenderer is for the window library.
func (w *wheelSheet) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(&fyne.Container{})
}
