package widgets

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestFocusComesIntoView(t *testing.T) {
	var fields []fyne.CanvasObject
	for i := range 20 {
		fields = append(fields, NewField(fmt.Sprint("field ", i), NewEntry()))
	}
	p := NewPane(Column(16, fields...))
	w := show(t, p, 300, 300)
	_, top, _, bottom := rectOf(p)
	for range 20 {
		test.FocusNext(w.Canvas())
		e := w.Canvas().Focused().(*Entry)
		if _, y1, _, y2 := rectOf(e); y1 < top || y2 > bottom {
			t.Fatalf("the field with the keyboard is at %v to %v, the pane shows %v to %v", y1, y2, top, bottom)
		}
	}
	if p.Offset() == 0 {
		t.Error("the pane never scrolled")
	}
	test.FocusNext(w.Canvas()) // round to the first
	if _, y1, _, _ := rectOf(w.Canvas().Focused().(*Entry)); y1 < top {
		t.Error("the first field did not come back into view")
	}
}

// The wheel moves the page also where a field is under the mouse.
func TestWheelOverAFieldScrollsThePage(t *testing.T) {
	for _, c := range []struct {
		name  string
		field fyne.CanvasObject
	}{{"text", NewEntry()}, {"number", NewNumberEntry(1)}, {"date", NewDateEntry(YearFirst)}} {
		p := NewPane(Column(400, NewField(c.name, c.field), NewText("middle"), NewText("end")))
		w := show(t, p, 300, 200)
		x1, y1, x2, y2 := rectOf(c.field)
		test.Scroll(w.Canvas(), fyne.NewPos((x1+x2)/2, (y1+y2)/2), 0, -60)
		if p.Offset() == 0 {
			t.Errorf("the page stood still under a field for a %s", c.name)
		}
	}
}

func TestPageKeysScroll(t *testing.T) {
	fold := NewFold("How this was worked out", NewText("one\ntwo\nthree"))
	p := NewPane(Column(400, fold, NewText("middle"), NewText("end")))
	w := show(t, p, 300, 200)
	test.FocusNext(w.Canvas())
	press(w, fyne.KeyPageDown)
	if p.Offset() != 160 {
		t.Errorf("scrolled to %v, want four fifths of 200", p.Offset())
	}
	press(w, fyne.KeyPageUp)
	if p.Offset() != 0 {
		t.Errorf("scrolled back to %v", p.Offset())
	}
}

func TestPaneGrowsWithItsContent(t *testing.T) {
	a, b := NewField("a", NewEntry()), NewField("b", NewEntry())
	show(t, NewPane(NewForm(a, b, NewField("c", NewEntry()))), 300, 600)
	before := b.Position().Y
	a.SetProblem(fmt.Errorf("%s", long))
	if grown := b.Position().Y - before; grown < 30 {
		t.Errorf("the next field moved by %v only", grown)
	}
	a.SetProblem(nil)
	if b.Position().Y != before {
		t.Errorf("the next field stands at %v, before at %v", b.Position().Y, before)
	}
}
