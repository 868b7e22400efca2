package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
)

func TestFieldSwapsHintAndProblem(t *testing.T) {
	f := NewField("Seller asks", NewEntry()).WithHint("What is written on the listing.")
	show(t, f, 300, 120)
	if !f.hint.Visible() || f.problem.Visible() {
		t.Error("a field without a problem must show its hint alone")
	}
	f.SetProblem(errNotNow)
	f.SetHint("Another hint.")
	if f.hint.Visible() || !f.problem.Visible() {
		t.Error("a field with a problem must show that alone")
	}
	f.SetProblem(nil)
	if !f.hint.Visible() || f.hint.Text() != "Another hint." {
		t.Errorf("hint %q, shown %v", f.hint.Text(), f.hint.Visible())
	}
}

func TestFieldPartsDoNotOverlap(t *testing.T) {
	e := NewEntry()
	f := NewField("Seller asks", e).WithHint(long)
	show(t, f, 240, 300)
	if bottom := f.label.Position().Y + f.label.Size().Height; bottom > e.Position().Y {
		t.Errorf("the label ends at %v, the control begins at %v", bottom, e.Position().Y)
	}
	if bottom := e.Position().Y + e.Size().Height; bottom > f.hint.Position().Y {
		t.Errorf("the control ends at %v, the hint begins at %v", bottom, f.hint.Position().Y)
	}
	if e.Size().Width != 240 {
		t.Errorf("the control is %v wide of 240", e.Size().Width)
	}
}

func TestWarningsTakeNoRoomWithoutAny(t *testing.T) {
	w, below := NewWarnings(), NewText("below")
	column := Column(16, w, below)
	show(t, column, 300, 200)
	if below.Position().Y != 0 {
		t.Errorf("without warnings the next text stands at %v", below.Position().Y)
	}
}

func TestEmptyKeepsWithinItsRoom(t *testing.T) {
	e := NewEmpty(nil, "No prospects yet", long, NewMainButton("Add a prospect", nil, nil), NewButton("Open the example shop", nil, nil))
	show(t, e, 320, 500)
	column := e.root.Objects[0].(*fyne.Container)
	if right := column.Position().X + column.Size().Width; right > 320 || column.Position().X < 0 {
		t.Errorf("runs from %v to %v of 320", column.Position().X, right)
	}
	if bottom := column.Position().Y + column.Size().Height; bottom > 500 {
		t.Errorf("ends at %v of 500", bottom)
	}
}
