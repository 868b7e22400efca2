package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
)

const long = "This motor lies outside your own sales: bigger than any of them, so the band rests on the trade prior."

func TestColumnGivesWrappedTextItsHeight(t *testing.T) {
	a, b := NewText(long), NewText("below")
	show(t, NewPane(Column(8, a, b)), 200, 400)
	lines := float32(len(wrap(long, a.Size().Width, 14, fyne.TextStyle{})))
	if lines < 3 {
		t.Fatalf("the text does not wrap at %v", a.Size().Width)
	}
	if want := lines * a.lineHeight(); a.Size().Height != want {
		t.Errorf("the text is %v high, its %v lines want %v", a.Size().Height, lines, want)
	}
	if got, want := b.Position().Y, a.Size().Height+8; got != want {
		t.Errorf("the next text stands at %v, want %v", got, want)
	}
}

func TestColumnsByWidth(t *testing.T) {
	for _, c := range []struct {
		width float32
		want  int
	}{{200, 1}, {400, 1}, {520, 2}, {900, 2}, {2000, 2}} {
		fields := []fyne.CanvasObject{NewField("a", NewEntry()), NewField("b", NewEntry()), NewField("c", NewEntry())}
		form := NewForm(fields...)
		show(t, form, c.width, 600)
		got := 1
		if fields[1].Position().Y == fields[0].Position().Y {
			got = 2
		}
		if got != c.want {
			t.Errorf("at %v: %d columns, want %d", c.width, got, c.want)
		}
		if right := fields[got-1].Position().X + fields[got-1].Size().Width; right > c.width+0.5 {
			t.Errorf("at %v: the form is %v wide", c.width, right)
		}
	}
}

func TestSpanningFieldTakesALine(t *testing.T) {
	a, wide, b := NewField("a", NewEntry()), NewField("wide", NewEntry()).Spanning(), NewField("b", NewEntry())
	show(t, NewForm(a, wide, b), 800, 600)
	if wide.Size().Width != 800 {
		t.Errorf("the field is %v wide, the form 800", wide.Size().Width)
	}
	if !(a.Position().Y < wide.Position().Y && wide.Position().Y < b.Position().Y) {
		t.Errorf("lines at %v, %v, %v", a.Position().Y, wide.Position().Y, b.Position().Y)
	}
}

func TestFlowGoesOnInANewLine(t *testing.T) {
	a, b, c := NewButton("First button", nil, nil), NewButton("Second button", nil, nil), NewButton("Third", nil, nil)
	show(t, Column(0, Flow(8, a, b, c), NewText("below")), 260, 400)
	if a.Position().Y != b.Position().Y || c.Position().Y <= a.Position().Y {
		t.Errorf("buttons at %v, %v, %v", a.Position(), b.Position(), c.Position())
	}
}

func TestHiddenObjectsTakeNoRoom(t *testing.T) {
	a, b := NewText("a"), NewText("b")
	a.Hide()
	show(t, Column(8, a, b), 200, 200)
	if b.Position().Y != 0 {
		t.Errorf("b stands at %v", b.Position().Y)
	}
}
