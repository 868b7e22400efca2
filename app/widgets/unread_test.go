package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
)

// A dialog does not go by what stood in a field before something unreadable was typed over it.
func TestADialogWaitsForAFieldThatCannotBeRead(t *testing.T) {
	w := show(t, NewEntry(), 600, 400)
	on, did := NewDateEntry(YearFirst), 0
	on.SetValue(20000)
	NewDialog(w.Canvas(), "Sold", NewField("On", on), "Book it", func() error { did++; return nil }).SetFirst(on).Show()
	on.TypedShortcut(&fyne.ShortcutSelectAll{})
	for _, r := range "1e0" {
		on.TypedRune(r)
	}
	press(w, fyne.KeyReturn)
	if did != 0 || w.Canvas().Overlays().Top() == nil {
		t.Fatalf("booked %d times by a day that cannot be read", did)
	}
	if w.Canvas().Focused() != fyne.Focusable(on) {
		t.Errorf("the keyboard is at %v", w.Canvas().Focused())
	}
	on.TypedShortcut(&fyne.ShortcutSelectAll{})
	for _, r := range "2026-11-20" {
		on.TypedRune(r)
	}
	press(w, fyne.KeyReturn)
	if did != 1 || w.Canvas().Overlays().Top() != nil {
		t.Errorf("mended, it is booked %d times", did)
	}
}
