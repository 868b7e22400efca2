package widgets

import (
	"fyne.io/fyne/v2"
)

// canvasOf is the canvas o is drawn on, nil before it is.
func canvasOf(o fyne.CanvasObject) fyne.Canvas {
	return fyne.CurrentApp().Driver().CanvasForObject(o)
}

// pass hands a shortcut that a control has no use for on to the window.
func pass(from fyne.CanvasObject, s fyne.Shortcut) {
	if c, ok := canvasOf(from).(fyne.Shortcutable); ok {
		c.TypedShortcut(s)
	}
}

// passKey hands a key that a control has no use for to the dialog it stands in, or else to the window.
func passKey(from fyne.CanvasObject, key *fyne.KeyEvent) {
	c := canvasOf(from)
	if c == nil {
		return
	}
	if d := topDialog(c); d != nil {
		d.key(key)
		return
	}
	if typed := c.OnTypedKey(); typed != nil {
		typed(key)
	}
}

// scrollKey scrolls the pane around o on the page keys and tells whether it did.
func scrollKey(o fyne.CanvasObject, key *fyne.KeyEvent) bool {
	p := paneOf(o)
	if p == nil {
		return false
	}
	page := p.Size().Height * 0.8
	switch key.Name {
	case fyne.KeyPageDown:
		p.By(page)
	case fyne.KeyPageUp:
		p.By(-page)
	default:
		return false
	}
	return true
}

// WithoutFocus saves what is being typed, takes the keyboard away from every control while fn runs, and
// gives it back: inside, fields take values from outside. Use it to undo and then refresh a screen.
func WithoutFocus(c fyne.Canvas, fn func()) {
	FlushAll()
	var held fyne.Focusable
	if c != nil {
		held = c.Focused()
		c.Unfocus()
	}
	fn()
	refocus(c, held)
}

// refocus gives the keyboard back to a control, if that still stands in the window or its topmost dialog:
// what was done meanwhile may have brought another screen.
func refocus(c fyne.Canvas, held fyne.Focusable) {
	o, ok := held.(fyne.CanvasObject)
	if !ok {
		return
	}
	root := c.Content()
	if top := c.Overlays().Top(); top != nil {
		root = top
	}
	if contains(root, o) {
		c.Focus(held)
	}
}
