package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"

	"skegworth/app/look"
)

func TestSliderByHandAndKeys(t *testing.T) {
	a := test.NewTempApp(t)
	a.Settings().SetTheme(look.Theme{Touch: true})
	s := NewSlider()
	s.SetRange(0, 1000, 10)
	w := test.NewTempWindow(t, s)
	w.Resize(fyne.NewSize(400, 60))
	var told []float64
	s.OnValue = func(v float64) { told = append(told, v) }
	if s.SetValue(400); len(told) != 0 || s.Value() != 400 {
		t.Fatalf("set from outside it told %v", told)
	}
	test.Tap(s.up)
	test.Tap(s.down)
	test.Tap(s.down)
	s.rail.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	for _, c := range []struct {
		key  fyne.KeyName
		want float64
	}{{fyne.KeyPageUp, 500}, {fyne.KeyLeft, 490}, {fyne.KeyEnd, 1000}, {fyne.KeyUp, 1000}, {fyne.KeyHome, 0}, {fyne.KeyPageDown, 0}, {fyne.KeyUp, 10}} {
		if s.rail.TypedKey(&fyne.KeyEvent{Name: c.key}); s.Value() != c.want {
			t.Errorf("%s leads to %v, want %v", c.key, s.Value(), c.want)
		}
	}
	test.TapAt(s.rail, fyne.NewPos(s.rail.Size().Width/2, 5))
	if s.Value() != 500 || w.Canvas().Focused() != fyne.Focusable(s.rail) {
		t.Errorf("a tap in the middle leads to %v, the keyboard is on %T", s.Value(), w.Canvas().Focused())
	}
	w.Canvas().Unfocus()
	s.rail.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(9999, 5)}})
	s.rail.DragEnd()
	if w.Canvas().Focused() != fyne.Focusable(s.rail) {
		t.Errorf("after a drag the keyboard is on %T", w.Canvas().Focused())
	}
	if s.Value() != 1000 || told[len(told)-1] != 1000 {
		t.Errorf("a drag far to the right leads to %v, told %v", s.Value(), told)
	}
	if h := s.rail.Size().Height; h < 44 || s.up.Size().Width < 44 {
		t.Errorf("for a finger it is %v high, its buttons %v wide", h, s.up.Size().Width)
	}
	var passed fyne.KeyName
	w.Canvas().SetOnTypedKey(func(k *fyne.KeyEvent) { passed = k.Name })
	if s.rail.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape}); passed != fyne.KeyEscape {
		t.Error("a key it has no use for did not reach the window")
	}
}

// Whatever the ends, a chosen number lies between them.
func TestSliderStaysWithinItsEnds(t *testing.T) {
	test.NewTempApp(t)
	rapid.Check(t, func(t *rapid.T) {
		s := NewSlider()
		least, span := rapid.Float64Range(-1e6, 1e6).Draw(t, "least"), rapid.Float64Range(0, 1e6).Draw(t, "span")
		s.SetRange(least, least+span, rapid.Float64Range(-1, 1e4).Draw(t, "step"))
		s.rail.Resize(fyne.NewSize(300, 40))
		s.SetValue(least)
		s.rail.chooseAt(rapid.Float32Range(-100, 500).Draw(t, "x"))
		s.by(float64(rapid.IntRange(-20, 20).Draw(t, "steps")))
		if s.Value() < least || s.Value() > least+span {
			t.Fatalf("%v is not between %v and %v", s.Value(), least, least+span)
		}
	})
}
