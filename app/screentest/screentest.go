// Package screentest puts one screen on a test canvas, over a real shop file, for the tests of the
// screens. Only tests import it.
package screentest

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// Host stands in for the window around a screen and remembers what the screen told it.
type Host struct {
	T        testing.TB
	Win      fyne.Window
	Said     string // the last status
	Err      error  // the last failure; a test that expects one clears it
	Screen   string // where the screen last went, and on what
	ID       string
	Examples int // how often the example shop was asked for
}

// Window implements widgets.Host.
func (h *Host) Window() fyne.Window { return h.Win }

// Status implements widgets.Host.
func (h *Host) Status(text string) { h.Said = text }

// Failed implements widgets.Host.
func (h *Host) Failed(err error) {
	if err != nil {
		h.Err = err
	}
}

// Go implements widgets.Host.
func (h *Host) Go(screen, id string) { h.Screen, h.ID = screen, id }

// OpenExample implements widgets.Host.
func (h *Host) OpenExample() { h.Examples++ }

// Shop is a shop in a folder of the test's own: the example shop, or an empty one.
func Shop(t testing.TB, example bool) *shop.Shop {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.skegworth")
	open := shop.Create
	if example {
		open = shop.Example
	}
	s, err := open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// Seat makes the window a screen stands in; the screen is made with the host afterwards and put there by
// [Host.Put]. Fields save with every key.
func Seat(t testing.TB) *Host {
	t.Helper()
	widgets.SaveDelay = 0
	a := test.NewTempApp(t)
	a.Settings().SetTheme(look.Theme{Mode: look.Light})
	if err := look.Speak("en"); err != nil {
		t.Fatal(err)
	}
	return &Host{T: t, Win: test.NewTempWindow(t, nil)}
}

// Put shows the screen at a size and keeps it fresh after every change of the shop.
func (h *Host) Put(s *shop.Shop, screen widgets.Screen) {
	h.Win.SetContent(screen.Content())
	h.Win.Resize(fyne.NewSize(1280, 800))
	s.OnChange(screen.Refresh)
	screen.Refresh()
}

// Type puts the keyboard on a field, clears it and types.
func (h *Host) Type(field fyne.Focusable, text string) {
	h.T.Helper()
	if field == nil {
		h.T.Fatal("no such field")
	}
	c := h.Win.Canvas()
	c.Focus(field)
	if s, ok := field.(fyne.Shortcutable); ok {
		s.TypedShortcut(&fyne.ShortcutSelectAll{})
		field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyBackspace})
	}
	test.Type(field, text)
}

// Letter puts the keyboard on a choice and presses a letter, which chooses what begins with it.
func (h *Host) Letter(choice fyne.Focusable, letter rune) {
	h.Win.Canvas().Focus(choice)
	choice.TypedRune(letter)
}

// Press taps the button with the words, wherever in the window or its topmost dialog it is.
func (h *Host) Press(words string) {
	h.T.Helper()
	b := h.Button(words)
	if b == nil {
		h.T.Fatalf("there is no button %q", words)
	}
	test.Tap(b)
}

// Button with the words, nil when none shows.
func (h *Host) Button(words string) *widgets.Button {
	c := h.Win.Canvas()
	if top := c.Overlays().Top(); top != nil {
		return find(top, words)
	}
	return find(c.Content(), words)
}

func find(root fyne.CanvasObject, words string) *widgets.Button {
	var found *widgets.Button
	Walk(root, func(o fyne.CanvasObject) {
		if b, ok := o.(*widgets.Button); ok && b.Text == words && found == nil {
			found = b
		}
	})
	return found
}

// Place is where something stands in the window.
func (h *Host) Place(o fyne.CanvasObject) (left, top, right, bottom float32) {
	p := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	return p.X, p.Y, p.X + o.Size().Width, p.Y + o.Size().Height
}

// Fields are the controls that show, of one type, in the order they are laid out.
func Fields[T fyne.CanvasObject](root fyne.CanvasObject) []T {
	var all []T
	Walk(root, func(o fyne.CanvasObject) {
		if f, ok := o.(T); ok {
			all = append(all, f)
		}
	})
	return all
}

// Walk visits everything that shows.
func Walk(o fyne.CanvasObject, visit func(fyne.CanvasObject)) {
	if o == nil || !o.Visible() {
		return
	}
	visit(o)
	switch x := o.(type) {
	case *fyne.Container:
		for _, child := range x.Objects {
			Walk(child, visit)
		}
	case fyne.Widget:
		for _, child := range test.WidgetRenderer(x).Objects() {
			Walk(child, visit)
		}
	}
}
