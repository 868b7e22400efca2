package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// The wheel over the head of a table within a page moves the page.
func TestWheelOverTheHeadMovesThePage(t *testing.T) {
	test.NewTempApp(t)
	table := NewTable(func(s string) string { return s }, TableColumn[string]{Key: "a", Title: "A", Text: func(s string) string { return s }})
	table.HideFilter()
	table.SetRows([]string{"1", "2"})
	p := NewPane(Column(0, table.Fit(4), Tall(2000, NewText("long"))))
	w := test.NewTempWindow(t, p)
	w.Resize(fyne.NewSize(300, 300))
	table.grid.top.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -60)})
	if p.Offset() <= 0 {
		t.Error("the page stands still")
	}
}
