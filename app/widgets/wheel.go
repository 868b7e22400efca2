package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// wheelScroll is a scroller that hands the mouse wheel on when it cannot go any further that way. The
// window library gives the wheel to the innermost scroller alone, so that a table in a page would
// otherwise hold the page fast.
type wheelScroll struct {
	container.Scroll
	pass func(*fyne.ScrollEvent)
}

func newWheelScroll(content fyne.CanvasObject, direction container.ScrollDirection, pass func(*fyne.ScrollEvent)) *wheelScroll {
	s := &wheelScroll{pass: pass}
	s.Content, s.Direction = content, direction
	s.ExtendBaseWidget(s)
	return s
}

// Scrolled is for the window library.
func (s *wheelScroll) Scrolled(e *fyne.ScrollEvent) {
	before := s.Offset
	s.Scroll.Scrolled(e)
	if s.Offset == before && s.pass != nil {
		s.pass(e)
	}
}

// passToPane hands the wheel to the pane around o.
func passToPane(o fyne.CanvasObject) func(*fyne.ScrollEvent) {
	return func(e *fyne.ScrollEvent) {
		if p := paneOf(o); p != nil {
			p.scroll.Scrolled(e)
		}
	}
}
