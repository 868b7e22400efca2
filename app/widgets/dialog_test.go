package widgets

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestConfirm(t *testing.T) {
	for _, c := range []struct {
		name  string
		do    func(w fyne.Window, d *Dialog)
		wants bool
	}{
		{"return", func(w fyne.Window, _ *Dialog) { press(w, fyne.KeyReturn) }, true},
		{"escape", func(w fyne.Window, _ *Dialog) { press(w, fyne.KeyEscape) }, false},
		{"tap", func(_ fyne.Window, d *Dialog) { test.Tap(d.main) }, true},
		{"escape with the keyboard nowhere", func(w fyne.Window, _ *Dialog) { w.Canvas().Unfocus(); press(w, fyne.KeyEscape) }, false},
		{"return with the keyboard nowhere", func(w fyne.Window, _ *Dialog) { w.Canvas().Unfocus(); press(w, fyne.KeyReturn) }, true},
		{"return on cancel", func(w fyne.Window, _ *Dialog) { test.FocusNext(w.Canvas()); press(w, fyne.KeyReturn) }, false},
	} {
		did := false
		behind := NewEntry()
		w := show(t, behind, 600, 400)
		w.Canvas().Focus(behind)
		before := 0
		w.Canvas().SetOnTypedKey(func(*fyne.KeyEvent) { before++ })
		d := Confirm(w.Canvas(), "Remove the line?", long, "Remove it", func() { did = true })
		c.do(w, d)
		if did != c.wants || w.Canvas().Overlays().Top() != nil {
			t.Errorf("%s: did %v, still open %v", c.name, did, w.Canvas().Overlays().Top() != nil)
		}
		if w.Canvas().Focused() != fyne.Focusable(behind) {
			t.Errorf("%s: the keyboard is at %v", c.name, w.Canvas().Focused())
		}
		w.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyF1})
		if before != 1 {
			t.Errorf("%s: the window's own keys are lost", c.name)
		}
	}
}

func TestAsk(t *testing.T) {
	w := show(t, NewText("behind"), 600, 400)
	var got string
	fail := true
	d := Ask(w.Canvas(), "Name", "What is it called?", "", "Keep", func(text string) error {
		if fail {
			return errNotNow
		}
		got = text
		return nil
	})
	press(w, fyne.KeyReturn)
	if d.problem.Text() != "Write something here." || w.Canvas().Overlays().Top() == nil {
		t.Errorf("a blank answer: %q", d.problem.Text())
	}
	typeIn(w, " spare ")
	press(w, fyne.KeyReturn)
	if d.problem.Text() != "Not now" || w.Canvas().Overlays().Top() == nil {
		t.Errorf("a refused answer: %q", d.problem.Text())
	}
	fail = false
	press(w, fyne.KeyReturn)
	if got != "spare" || w.Canvas().Overlays().Top() != nil {
		t.Errorf("got %q, still open %v", got, w.Canvas().Overlays().Top() != nil)
	}
}

func TestEscapeInAFieldClosesItsDialog(t *testing.T) {
	w := show(t, NewText("behind"), 600, 400)
	closed := false
	d := Ask(w.Canvas(), "Name", "What is it called?", "x", "Keep", func(string) error { t.Error("done"); return nil })
	d.OnClosed = func() { closed = true }
	press(w, fyne.KeyEscape)
	if !closed || w.Canvas().Overlays().Top() != nil {
		t.Error("Esc did not close the dialog")
	}
	d.Close() // again does nothing
}

func TestDialogsStack(t *testing.T) {
	w := show(t, NewText("behind"), 600, 400)
	first := Tell(w.Canvas(), "First", "one")
	second := Tell(w.Canvas(), "Second", "two")
	if topDialog(w.Canvas()) != second {
		t.Fatal("the second is not on top")
	}
	press(w, fyne.KeyEscape)
	if topDialog(w.Canvas()) != first {
		t.Fatal("Esc closed more or less than the topmost")
	}
	press(w, fyne.KeyReturn)
	if topDialog(w.Canvas()) != nil || len(w.Canvas().Overlays().List()) != 0 {
		t.Error("a dialog is left over")
	}
}

func TestDialogKeepsWithinASmallWindow(t *testing.T) {
	w := show(t, NewText("behind"), 360, 240)
	var fields []fyne.CanvasObject
	for range 12 {
		fields = append(fields, NewField("a field", NewEntry()))
	}
	d := NewDialog(w.Canvas(), "Sell", Column(8, fields...), "Sell it", nil)
	d.Show()
	size := d.pop.Content.Size()
	if size.Width > 360 || size.Height > 240 {
		t.Errorf("the dialog is %v in a window of 360 by 240", size)
	}
	for range 12 {
		test.FocusNext(w.Canvas())
	}
	if _, top, _, bottom := rectOf(w.Canvas().Focused().(fyne.CanvasObject)); top < -3 || bottom > 240 {
		t.Errorf("the field with the keyboard is at %v to %v", top, bottom)
	}
}

// watched is a canvas that remembers what was to have the keyboard.
type watched struct {
	fyne.Canvas
	asked []fyne.Focusable
}

func (w *watched) Focus(f fyne.Focusable) {
	w.asked = append(w.asked, f)
	w.Canvas.Focus(f)
}

// A dialog whose answer brings another screen leaves the keyboard to that: the window library complains of
// a control that is not there any more.
func TestDialogThatLeadsElsewhereDoesNotReachBack(t *testing.T) {
	here, there := NewEntry(), NewEntry()
	w := show(t, Column(0, here), 400, 300)
	c := &watched{Canvas: w.Canvas()}
	c.Focus(here)
	d := NewDialog(c, "Go?", nil, "Go", func() error { w.SetContent(Column(0, there)); return nil })
	d.Show()
	c.asked = nil
	d.accept()
	if len(c.asked) > 0 {
		t.Errorf("the keyboard is given to %T, which is gone", c.asked[0])
	}
	c.Focus(there)
	d = NewDialog(c, "Stay?", nil, "Stay", func() error { return nil })
	d.Show()
	c.asked = nil
	d.accept()
	if !slices.Equal(c.asked, []fyne.Focusable{there}) {
		t.Errorf("staying, the keyboard is given to %v", c.asked)
	}
}
