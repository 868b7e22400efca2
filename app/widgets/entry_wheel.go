package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// CreateRenderer is for the window library. A field of one line has nothing to scroll, and one of several
// mostly as little, yet the library's field takes the wheel: a sheet over it hands the wheel to the page,
// which would else stand still as soon as a field came under the mouse.
func (e *Entry) CreateRenderer() fyne.WidgetRenderer {
	r := e.Entry.CreateRenderer()
	w := &wheelSheet{of: e.self}
	if e.MultiLine {
		for _, o := range r.Objects() {
			if inner, ok := o.(*container.Scroll); ok {
				w.inner = inner
			}
		}
	}
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
	of    fyne.CanvasObject // what the page knows as its own
	inner *container.Scroll // of a field of several lines
}

// Scrolled is for the window library.
func (w *wheelSheet) Scrolled(e *fyne.ScrollEvent) {
	if w.inner != nil && w.inner.Content != nil && w.inner.Content.MinSize().Height > w.inner.Size().Height {
		before := w.inner.Offset
		if w.inner.Scrolled(e); w.inner.Offset != before {
			return
		}
	}
	passToPane(w.of)(e)
}

// CreateRenderer is for the window library.
func (w *wheelSheet) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(&fyne.Container{})
}
