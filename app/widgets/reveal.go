package widgets

import (
	"fyne.io/fyne/v2"

	"skegworth/app/look"
)

// RevealPart scrolls what is around a control made elsewhere until a part of it, from one height to another
// within it, is in sight.
func RevealPart(o fyne.CanvasObject, from, to float32) {
	p := paneOf(o)
	if p == nil || p.Size().Height <= 0 {
		return
	}
	d := fyne.CurrentApp().Driver()
	at, room := d.AbsolutePositionForObject(o).Y-d.AbsolutePositionForObject(p.Content).Y, look.Scaled(look.Wide)
	switch top, bottom := at+from-room, at+to+room; {
	case top < p.scroll.Offset.Y:
		p.scroll.ScrollToOffset(fyne.NewPos(0, max(0, top)))
	case bottom > p.scroll.Offset.Y+p.Size().Height:
		p.scroll.ScrollToOffset(fyne.NewPos(0, bottom-p.Size().Height))
	}
}

// PassKey hands a key that a control made elsewhere has no use for on: the page keys scroll what is around it,
// others go to the dialog it stands in, or to the window.
func PassKey(from fyne.CanvasObject, key *fyne.KeyEvent) {
	if key.Name == fyne.KeyPageUp || key.Name == fyne.KeyPageDown {
		scrollKey(from, key)
		return
	}
	passKey(from, key)
}

// RowsOf are the rows of a table, for a dialog that opens with the keyboard on them; see [Dialog.SetFirst].
func RowsOf[T any](t *Table[T]) fyne.Focusable { return t.grid }
