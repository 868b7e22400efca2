package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestButtonAnswersTapSpaceAndReturn(t *testing.T) {
	n := 0
	b := NewMainButton("Bought it", nil, func() { n++ })
	w := show(t, b, 200, 100)
	test.Tap(b)
	test.FocusNext(w.Canvas())
	press(w, fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace, fyne.KeyDown)
	if n != 4 {
		t.Errorf("pressed %d times, want 4", n)
	}
	b.Disable()
	press(w, fyne.KeyReturn)
	if n != 4 {
		t.Error("a disabled button was pressed")
	}
}

func TestCheckAnswersReturnAndKeepsQuietFromOutside(t *testing.T) {
	var told []bool
	c := NewCheck("year is a guess")
	c.OnValue = func(on bool) { told = append(told, on) }
	w := show(t, c, 200, 100)
	c.SetValue(true)
	if len(told) != 0 || !c.Checked {
		t.Errorf("set from outside: ticked %v, told %v", c.Checked, told)
	}
	test.FocusNext(w.Canvas())
	press(w, fyne.KeyReturn)
	typeIn(w, " ")
	if len(told) != 2 || told[0] || !told[1] {
		t.Errorf("told %v", told)
	}
}
