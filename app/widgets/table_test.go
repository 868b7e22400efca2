package widgets

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

type boat struct {
	id, name string
	price    int
}

func boats() []boat {
	return []boat{{"a", "Halvard 90", 1400}, {"b", "corvane 40", 650}, {"c", "Tornvik 150", 2900}, {"d", "Halvard 15", 300}}
}

// boatTable edits in place: a price that is no whole number is refused.
func boatTable(rows *[]boat) *Table[boat] {
	var t *Table[boat]
	t = NewTable(func(b boat) string { return b.id },
		TableColumn[boat]{Key: "name", Title: "Motor", Grow: true, Text: func(b boat) string { return b.name }},
		TableColumn[boat]{Key: "price", Title: "Asked", Align: fyne.TextAlignTrailing,
			Text: func(b boat) string { return fmt.Sprint(b.price) },
			Less: func(a, b boat) bool { return a.price < b.price },
			Commit: func(b boat, text string) error {
				var v int
				if _, err := fmt.Sscanf(text, "%d", &v); err != nil {
					return errNotNow
				}
				for i := range *rows {
					if (*rows)[i].id == b.id {
						(*rows)[i].price = v
					}
				}
				t.SetRows(*rows)
				return nil
			}},
	)
	t.SetRows(*rows)
	return t
}

func order(t *Table[boat]) string {
	var ids []string
	for i := range t.Len() {
		ids = append(ids, t.Row(i).id)
	}
	return strings.Join(ids, "")
}

func TestTableSortsByTapAndKey(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	var told string
	tab.OnSorted = func(key string, down bool) { told = fmt.Sprint(key, down) }
	w := show(t, tab, 500, 400)
	if order(tab) != "abcd" {
		t.Fatalf("starts as %s", order(tab))
	}
	tapHead := func(col int) {
		x := cellPad()
		for _, width := range tab.grid.body.widths[:col] {
			x += width
		}
		test.TapAt(tab.grid.head, fyne.NewPos(x+8, 10))
	}
	w.Canvas().Focus(tab.grid)
	for _, c := range []struct {
		do         func()
		want, told string
	}{
		{func() { tapHead(0) }, "bdac", "namefalse"},
		{func() { tapHead(0) }, "cadb", "nametrue"},
		{func() { tapHead(1) }, "dbac", "pricefalse"},
		{func() { shortcut(w, alt(fyne.Key2)) }, "cabd", "pricetrue"},
		{func() { shortcut(w, alt(fyne.Key1)) }, "bdac", "namefalse"},
		{func() { tab.SortBy("", false) }, "abcd", "namefalse"},
	} {
		c.do()
		if order(tab) != c.want || told != c.told {
			t.Errorf("order %s, told %s; want %s, %s", order(tab), told, c.want, c.told)
		}
	}
}

func TestTableFiltersAsTyped(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	w := show(t, tab, 500, 400)
	w.Canvas().Focus(tab.grid)
	typeIn(w, "h") // a letter on the rows starts the filter
	if w.Canvas().Focused() != fyne.Focusable(tab.filter) || tab.Filter() != "h" {
		t.Fatalf("keyboard at %T, filter %q", w.Canvas().Focused(), tab.Filter())
	}
	typeIn(w, "alv 90")
	if order(tab) != "a" || tab.count.Text() != "1 of 4" {
		t.Errorf("shows %s, count %q", order(tab), tab.count.Text())
	}
	typeIn(w, "x")
	if tab.Len() != 0 || !tab.none.Visible() {
		t.Errorf("shows %s, says so %v", order(tab), tab.none.Visible())
	}
	press(w, fyne.KeyEscape)
	if order(tab) != "abcd" || tab.none.Visible() || tab.count.Text() != "4" {
		t.Errorf("after Esc: %s, %q", order(tab), tab.count.Text())
	}
	typeIn(w, "1400")
	press(w, fyne.KeyDown)
	if w.Canvas().Focused() != fyne.Focusable(tab.grid) || tab.SelectedID() != "a" {
		t.Errorf("Down from the filter: keyboard at %T, chosen %q", w.Canvas().Focused(), tab.SelectedID())
	}
	shortcut(w, ctrl(fyne.KeyF))
	if w.Canvas().Focused() != fyne.Focusable(tab.filter) {
		t.Error("Ctrl+F does not go to the filter")
	}
}

func many(n int) []boat {
	rows := make([]boat, n)
	for i := range rows {
		rows[i] = boat{fmt.Sprint("id", i), fmt.Sprint("Motor ", (i*7919)%n), (i * 31) % 1000}
	}
	return rows
}

func TestTableByKeyboard(t *testing.T) {
	rows := many(100)
	tab := boatTable(&rows)
	var told []string
	tab.OnSelected = func(b boat) { told = append(told, b.id) }
	w := show(t, tab, 400, 400)
	test.FocusNext(w.Canvas()) // the filter
	test.FocusNext(w.Canvas()) // the rows
	page := int(tab.grid.view.Size().Height/tab.grid.rowHeight()) - 1
	at := 0
	for _, c := range []struct {
		key  fyne.KeyName
		want int
	}{
		{fyne.KeyUp, 0}, {fyne.KeyDown, 1}, {fyne.KeyDown, 2}, {fyne.KeyPageDown, 2 + page}, {fyne.KeyPageUp, 2},
		{fyne.KeyEnd, 99}, {fyne.KeyDown, 99}, {fyne.KeyPageUp, 99 - page}, {fyne.KeyHome, 0}, {fyne.KeyPageUp, 0},
	} {
		press(w, c.key)
		if got := tab.SelectedID(); got != fmt.Sprint("id", c.want) {
			t.Errorf("after %s from %d: %s, want %d", c.key, at, got, c.want)
		}
		at = c.want
		line := tab.grid.body.line(c.want)
		if line == nil {
			t.Fatalf("row %d is not drawn", c.want)
		}
		top, bottom := line.Position().Y-tab.grid.view.Offset.Y, line.Position().Y-tab.grid.view.Offset.Y+line.Size().Height
		if top < -0.5 || bottom > tab.grid.view.Size().Height+0.5 {
			t.Errorf("row %d is at %v to %v of %v", c.want, top, bottom, tab.grid.view.Size().Height)
		}
	}
	if slices.Equal(told, slices.Compact(slices.Clone(told))) == false {
		t.Errorf("the same row was told twice in a row: %v", told)
	}
}

func TestTableChoosesAndOpens(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	var chosen, opened, removed string
	tab.OnSelected = func(b boat) { chosen += b.id }
	tab.OnOpen = func(b boat) { opened += b.id }
	tab.OnDelete = func(b boat) { removed += b.id }
	w := show(t, tab, 500, 400)
	tap := func(row int) { test.TapAt(tab.grid.body.line(row), fyne.NewPos(20, 5)) }
	tap(2)
	tap(1)
	if chosen != "cb" || opened != "" {
		t.Errorf("chosen %q, opened %q", chosen, opened)
	}
	tap(1) // a second tap soon after
	press(w, fyne.KeyReturn, fyne.KeyDelete)
	if chosen != "cb" || opened != "bb" || removed != "b" {
		t.Errorf("chosen %q, opened %q, removed %q", chosen, opened, removed)
	}
	if row, ok := tab.Selected(); !ok || row.id != "b" {
		t.Errorf("selected %v, %v", row, ok)
	}
	if !tab.Select("d") || tab.Select("nobody") || tab.SelectedID() != "d" || chosen != "cb" {
		t.Errorf("Select: chosen %q, at %q", chosen, tab.SelectedID())
	}
}

func TestTableKeepsTheChosenRow(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	var chosen string
	cleared := 0
	tab.OnSelected = func(b boat) { chosen += b.id }
	tab.OnCleared = func() { cleared++ }
	show(t, tab, 500, 400)
	tab.Select("c")
	tab.SortBy("price", false)
	tab.SetRows(append([]boat{{"z", "Zwaan 5", 10}}, rows...))
	if tab.SelectedID() != "c" || tab.grid.row != 4 || chosen != "" {
		t.Errorf("at %q in place %d, told %q", tab.SelectedID(), tab.grid.row, chosen)
	}
	tab.SetFilter("halvard") // out of sight, but still chosen
	tab.SetFilter("")
	if tab.SelectedID() != "c" || tab.grid.row != 4 {
		t.Errorf("after filtering at %q in place %d", tab.SelectedID(), tab.grid.row)
	}
	rows = slices.DeleteFunc(rows, func(b boat) bool { return b.id == "c" })
	tab.SetRows(rows) // d b a; the last one stands where c stood
	if tab.SelectedID() != "a" || chosen != "a" {
		t.Errorf("after c went: at %q, told %q", tab.SelectedID(), chosen)
	}
	tab.SetRows(nil)
	if tab.SelectedID() != "" || cleared != 1 {
		t.Errorf("after all went: at %q, cleared %d", tab.SelectedID(), cleared)
	}
}

func TestTableCopiesAndPastes(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	var pasted string
	tab.OnPaste = func(text string) { pasted = text }
	w := show(t, tab, 500, 400)
	w.Canvas().Focus(tab.grid)
	c := test.NewClipboard()
	shortcut(w, &fyne.ShortcutCopy{Clipboard: c})
	if c.Content() != "Halvard 90\t1400" {
		t.Errorf("copied %q", c.Content())
	}
	shortcut(w, &fyne.ShortcutPaste{Clipboard: c})
	if pasted != c.Content() {
		t.Errorf("pasted %q", pasted)
	}
	reached := false
	w.Canvas().AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { reached = true })
	shortcut(w, &fyne.ShortcutUndo{})
	if !reached {
		t.Error("undoing did not reach the window")
	}
}

func TestColumnsFitAndCanBeDragged(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	w := show(t, tab, 500, 400)
	if total := sum(tab.grid.body.widths); total > 500 || total < 480 {
		t.Errorf("columns take %v of 500", total)
	}
	before := tab.grid.body.widths[1]
	edge := tab.grid.head
	x := tab.grid.body.widths[0]
	pos := fyne.CurrentApp().Driver().AbsolutePositionForObject(edge).AddXY(2+x-1, 3+10) // the test driver's inset is 2, 3
	test.Drag(w.Canvas(), pos.SubtractXY(60, 0), -60, 0)                                 // a drag is told with where the mouse has come to
	edge.DragEnd()
	if w0 := tab.grid.body.widths[0]; w0 > x-40 {
		t.Errorf("the first column was %v, is %v", x, w0)
	}
	if tab.grid.body.widths[1] != before {
		t.Errorf("the second column changed from %v to %v", before, tab.grid.body.widths[1])
	}
	kept := tab.Widths()
	if len(kept) != 1 || kept["name"] == 0 {
		t.Errorf("keeps %v", kept)
	}
	other := boatTable(&rows)
	other.SetWidths(kept)
	show(t, other, 500, 400)
	if other.grid.body.widths[0] != tab.grid.body.widths[0] {
		t.Errorf("kept %v, got %v", tab.grid.body.widths[0], other.grid.body.widths[0])
	}
}

func TestTableWithoutHeightDrawsNothing(t *testing.T) {
	rows := many(1000)
	tab := boatTable(&rows)
	tab.Resize(fyne.NewSize(400, 0))
	if n := len(tab.grid.body.lines); n > 0 {
		t.Errorf("%d rows are drawn in no room", n)
	}
}

func TestFittedTableIsAsHighAsItsRows(t *testing.T) {
	rows := many(3)
	tab, below := boatTable(&rows).HideFilter().Fit(8), NewText("below")
	p := NewPane(Column(0, tab, below))
	w := show(t, p, 500, 300)
	h := tab.grid.rowHeight()
	for _, c := range []struct{ rows, want int }{{3, 3}, {0, 1}, {20, 8}, {5, 5}} {
		rows = many(c.rows)
		tab.SetRows(rows)
		if got, want := below.Position().Y, float32(1+c.want)*h+1; got != want {
			t.Errorf("%d rows take %v, want %v", c.rows, got, want)
		}
	}
	rows = many(20)
	tab.SetRows(rows)
	at := fyne.NewPos(100, 100)
	test.Scroll(w.Canvas(), at, 0, -1000) // the table first, then the page
	if tab.grid.view.Offset.Y == 0 || p.Offset() != 0 {
		t.Errorf("the wheel moved the table to %v and the page to %v", tab.grid.view.Offset.Y, p.Offset())
	}
	p.Resize(fyne.NewSize(500, 120))
	test.Scroll(w.Canvas(), fyne.NewPos(100, 60), 0, -40)
	if p.Offset() != 40 {
		t.Errorf("at its end the table holds the page at %v", p.Offset())
	}
}
