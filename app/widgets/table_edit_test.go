package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestTableEditsInPlace(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	w := show(t, tab, 500, 400)
	w.Canvas().Focus(tab.grid)
	press(w, fyne.KeyDown, fyne.KeyRight, fyne.KeyReturn)
	if tab.grid.edit == nil || tab.grid.edit.entry.Text != "650" {
		t.Fatal("Return does not edit the cell")
	}
	typeIn(w, "700")
	press(w, fyne.KeyReturn)
	if rows[1].price != 700 || tab.grid.edit != nil || w.Canvas().Focused() != fyne.Focusable(tab.grid) {
		t.Errorf("price %d, editing %v, keyboard at %T", rows[1].price, tab.grid.edit != nil, w.Canvas().Focused())
	}

	press(w, fyne.KeyF2)
	typeIn(w, "lots")
	press(w, fyne.KeyReturn)
	if !tab.grid.note.Visible() || tab.grid.note.words.Text() != "Not now" || tab.grid.edit == nil {
		t.Fatalf("refused: note %v %q, editing %v", tab.grid.note.Visible(), tab.grid.note.words.Text(), tab.grid.edit != nil)
	}
	_, cellTop, _, cellBottom := rectOf(tab.grid.edit.entry)
	if left, top, right, _ := rectOf(tab.grid.note); top < cellTop || top > cellBottom+10 || left < -3 || right > 500 {
		t.Errorf("the reason stands at %v to %v across and %v down, its cell ends at %v", left, right, top, cellBottom)
	}
	press(w, fyne.KeyEscape)
	if rows[1].price != 700 || tab.grid.edit != nil || tab.grid.note.Visible() {
		t.Errorf("after Esc: price %d, editing %v, note %v", rows[1].price, tab.grid.edit != nil, tab.grid.note.Visible())
	}

	press(w, fyne.KeyF2)
	typeIn(w, "710")
	press(w, fyne.KeyDown) // takes it and edits the next row
	typeIn(w, "2950")
	press(w, fyne.KeyTab)
	test.FocusNext(w.Canvas()) // as Tab does
	if rows[1].price != 710 || rows[2].price != 2950 || tab.grid.edit != nil {
		t.Errorf("prices %d and %d, editing %v", rows[1].price, rows[2].price, tab.grid.edit != nil)
	}
}

func TestTableTapElsewhereTakesTheCell(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	w := show(t, tab, 500, 400)
	w.Canvas().Focus(tab.grid)
	press(w, fyne.KeyRight, fyne.KeyReturn)
	typeIn(w, "1234")
	test.TapAt(tab.grid.body.line(2), fyne.NewPos(20, 5))
	if rows[0].price != 1234 || tab.SelectedID() != "c" || tab.grid.edit != nil {
		t.Errorf("price %d, at %q, editing %v", rows[0].price, tab.SelectedID(), tab.grid.edit != nil)
	}
}
