package widgets

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// The wheel over a field moves the page, over a long note only once the note has come to its end.
func TestWheelOverAFieldMovesThePage(t *testing.T) {
	for _, c := range []struct {
		name  string
		field *Entry
		text  string
		moves bool // the page, by the first turn
	}{
		{"one line", NewEntry(), "a", true},
		{"short note", NewTextArea(3), "a", true},
		{"long note", NewTextArea(3), strings.Repeat("a line\n", 12), false},
	} {
		test.NewTempApp(t)
		c.field.Set(c.text)
		p := NewPane(Column(0, c.field, Tall(2000, NewText("long"))))
		w := test.NewTempWindow(t, p)
		w.Resize(fyne.NewSize(300, 300))
		var sheet *wheelSheet
		for _, o := range test.WidgetRenderer(c.field).Objects() {
			if s, ok := o.(*wheelSheet); ok {
				sheet = s
			}
		}
		if sheet == nil {
			t.Fatalf("%s: the wheel is not taken", c.name)
		}
		turn := func() { sheet.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -60)}) }
		if turn(); p.Offset() > 0 != c.moves {
			t.Errorf("%s: the page is at %v", c.name, p.Offset())
		}
		for range 20 {
			turn()
		}
		if p.Offset() <= 0 {
			t.Errorf("%s: the page stands still for good", c.name)
		}
	}
}
