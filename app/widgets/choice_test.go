package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// A choice whose screen was laid out anew while a tap or a key was on its way to it opens nothing; one in a
// window opens its list.
func TestAChoiceThatIsNoLongerShown(t *testing.T) {
	test.NewTempApp(t)
	c := NewChoice(Option{"a", "first"}, Option{"b", "second"})
	w := test.NewTempWindow(t, c)
	gone := false
	was := windowOf
	windowOf = func(o fyne.CanvasObject) fyne.Canvas {
		if gone {
			return nil
		}
		return was(o)
	}
	defer func() { windowOf = was }()
	open := func() bool { return w.Canvas().Overlays().Top() != nil }
	for _, do := range []func(){
		func() { c.Tapped(&fyne.PointEvent{}) },
		func() { c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn}) },
		func() { c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown}) },
	} {
		gone = true
		do()
		if open() {
			t.Error("a list is open over nothing")
		}
		gone = false
		do()
		if !open() {
			t.Error("no list is open")
		}
		w.Canvas().Overlays().Top().Hide()
		for o := w.Canvas().Overlays().Top(); o != nil; o = w.Canvas().Overlays().Top() {
			w.Canvas().Overlays().Remove(o)
		}
	}
}
