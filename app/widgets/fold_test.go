package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestFoldOpensByTapAndKeys(t *testing.T) {
	content := NewText(long)
	f, below := NewFold("Resale", content), NewText("below")
	var told []bool
	f.OnToggle = func(open bool) { told = append(told, open) }
	w := show(t, NewPane(Column(4, f, below)), 300, 400)
	closed := below.Position().Y

	test.Tap(f.head)
	if !f.Open() || below.Position().Y < closed+60 {
		t.Errorf("after a tap: open %v, the next text went from %v to %v", f.Open(), closed, below.Position().Y)
	}
	for _, c := range []struct {
		key  fyne.KeyName
		want bool
	}{{fyne.KeyReturn, false}, {fyne.KeyLeft, false}, {fyne.KeyRight, true}, {fyne.KeyRight, true}, {fyne.KeySpace, false}, {fyne.KeyEnter, true}, {fyne.KeyLeft, false}} {
		press(w, c.key)
		if f.Open() != c.want {
			t.Errorf("after %s: open %v", c.key, f.Open())
		}
	}
	if below.Position().Y != closed {
		t.Errorf("closed again, the next text stands at %v instead of %v", below.Position().Y, closed)
	}
	if want := []bool{true, false, true, false, true, false}; len(told) != len(want) {
		t.Errorf("told %v", told)
	}
}

func TestClosedFoldHidesItsFieldsFromTheKeyboard(t *testing.T) {
	inside := NewEntry()
	f := NewFold("More", inside)
	w := show(t, NewPane(Column(4, f, NewEntry())), 300, 400)
	for range 3 {
		test.FocusNext(w.Canvas())
		if w.Canvas().Focused() == fyne.Focusable(inside) {
			t.Fatal("a field in a closed fold has the keyboard")
		}
	}
	f.SetOpen(true)
	w.Canvas().Unfocus()
	test.FocusNext(w.Canvas())
	test.FocusNext(w.Canvas())
	if w.Canvas().Focused() != fyne.Focusable(inside) {
		t.Error("Tab does not go from the head into the fold")
	}
}

func TestFoldSummaryGivesWay(t *testing.T) {
	f := NewFold("A title", NewText("x"))
	f.SetSummary("3 of 6 known")
	show(t, f, 400, 100)
	if f.head.summary.Hidden {
		t.Error("the summary is hidden though there is room")
	}
	f.Resize(fyne.NewSize(120, 100))
	if !f.head.summary.Hidden {
		t.Error("the summary runs into the title")
	}
}
