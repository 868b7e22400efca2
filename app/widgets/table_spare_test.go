package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// Where there is no room for all columns the spare ones go, the last first, and come back with the room;
// the keyboard passes over those that are gone.
func TestSpareColumnsGoFirst(t *testing.T) {
	test.NewTempApp(t)
	text := func(s string) func(string) string { return func(string) string { return s } }
	table := NewTable(func(s string) string { return s },
		TableColumn[string]{Key: "name", Title: "Name", Grow: true, Text: func(s string) string { return s }},
		TableColumn[string]{Key: "one", Title: "One", Width: 80, Text: text("1")},
		TableColumn[string]{Key: "two", Title: "Two", Width: 80, Spare: true, Text: text("2")},
		TableColumn[string]{Key: "three", Title: "Three", Width: 80, Text: text("3")},
		TableColumn[string]{Key: "four", Title: "Four", Width: 80, Spare: true, Text: text("4")})
	table.SetRows([]string{"a motor with a name that is long", "b"})
	w := test.NewTempWindow(t, table)
	w.SetPadded(false)
	gone := func() (keys string) {
		for c, width := range table.grid.body.widths {
			if width <= 0 {
				keys += table.columns[c].Key + " "
			}
		}
		return keys
	}
	for _, c := range []struct {
		width float32
		gone  string
	}{{800, ""}, {480, ""}, {440, "four "}, {340, "two four "}, {100, "two four "}, {500, ""}} {
		w.Resize(fyne.NewSize(c.width, 300))
		if got := gone(); got != c.gone {
			t.Errorf("at %v wide %q is left out, want %q", c.width, got, c.gone)
		}
		for i, width := range table.grid.body.widths {
			if head := table.grid.head.texts[i]; head.Visible() != (width > 0) {
				t.Errorf("at %v wide the head of %s shows: %v", c.width, table.columns[i].Key, head.Visible())
			}
		}
	}
	w.Resize(fyne.NewSize(300, 300))
	table.FocusRows()
	for _, c := range []struct {
		key  fyne.KeyName
		want int
	}{{fyne.KeyRight, 1}, {fyne.KeyRight, 3}, {fyne.KeyRight, 3}, {fyne.KeyLeft, 1}} {
		table.grid.TypedKey(&fyne.KeyEvent{Name: c.key})
		if table.grid.col != c.want {
			t.Errorf("%s leads to column %d, want %d", c.key, table.grid.col, c.want)
		}
	}
}
