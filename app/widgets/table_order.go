package widgets

import (
	"cmp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
)

// manyRows is where sorting and filtering leave the window's thread, so that typing does not stutter.
const manyRows = 5000

// arrange filters and sorts again.
func (t *Table[T]) arrange() {
	t.generation++
	generation, query, by, down := t.generation, t.query, t.columnOf(t.sortKey), t.down
	rows, haystack := t.rows, t.haystack
	if len(rows) <= manyRows {
		t.apply(arranged(t.columns, rows, &haystack, query, by, down))
		t.haystack = haystack
		return
	}
	t.work.Add(1)
	go func() {
		defer t.work.Done()
		order := arranged(t.columns, rows, &haystack, query, by, down)
		fyne.Do(func() {
			if t.generation == generation {
				t.apply(order)
				t.haystack = haystack
			}
		})
	}()
}

// arranged is the order in which rows show, as indexes. Haystack is filled when it is needed.
func arranged[T any](columns []TableColumn[T], rows []T, haystack *[]string, query string, by int, down bool) []int {
	order := make([]int, 0, len(rows))
	needles := strings.Fields(strings.ToLower(query))
	if len(needles) > 0 && *haystack == nil {
		*haystack = searchText(columns, rows)
	}
	for i := range rows {
		if matches(needles, *haystack, i) {
			order = append(order, i)
		}
	}
	if by < 0 {
		return order
	}
	c := columns[by]
	compare := func(a, b int) int {
		switch {
		case c.Less(rows[a], rows[b]):
			return -1
		case c.Less(rows[b], rows[a]):
			return 1
		}
		return 0
	}
	if c.Less == nil {
		texts := make([]string, len(rows))
		for _, i := range order {
			texts[i] = strings.ToLower(c.Text(rows[i]))
		}
		compare = func(a, b int) int { return cmp.Compare(texts[a], texts[b]) }
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if down {
			return compare(b, a)
		}
		return compare(a, b)
	})
	return order
}

func searchText[T any](columns []TableColumn[T], rows []T) []string {
	out := make([]string, len(rows))
	var b strings.Builder
	for i, r := range rows {
		b.Reset()
		for _, c := range columns {
			b.WriteString(c.Text(r))
			b.WriteByte('\n')
		}
		out[i] = strings.ToLower(b.String())
	}
	return out
}

func matches(needles, haystack []string, i int) bool {
	for _, n := range needles {
		if !strings.Contains(haystack[i], n) {
			return false
		}
	}
	return true
}

// apply shows the rows in a new order and keeps to the chosen row, or to its place when it is gone.
func (t *Table[T]) apply(order []int) {
	t.order = order
	t.none.Hidden = len(order) > 0 || len(t.rows) == 0
	t.tellCount()
	at := t.place(t.chosen)
	gone := at < 0 && t.chosen != "" && !t.known(t.chosen)
	if at < 0 && !gone {
		t.grid.stay(-1) // filtered out, or none chosen
		t.all.Refresh()
		return
	}
	if gone {
		at = min(t.grid.row, len(order)-1)
	}
	t.grid.stay(at)
	t.all.Refresh()
	if !gone {
		return
	}
	if at < 0 {
		t.chosen = ""
		if t.OnCleared != nil {
			t.OnCleared()
		}
		return
	}
	t.choose(at)
}

func (t *Table[T]) known(id string) bool {
	return slices.ContainsFunc(t.rows, func(r T) bool { return t.id(r) == id })
}

func (t *Table[T]) tellCount() {
	switch {
	case len(t.rows) == 0:
		t.count.SetText("")
	case len(t.order) == len(t.rows):
		t.count.SetText(FormatNumber(float64(len(t.rows)), 0))
	default:
		t.count.SetText(lang.X("table.count", "{{.Shown}} of {{.All}}",
			map[string]any{"Shown": len(t.order), "All": len(t.rows)}))
	}
}

func (t *Table[T]) columnOf(key string) int {
	return slices.IndexFunc(t.columns, func(c TableColumn[T]) bool { return key != "" && c.Key == key })
}

// What the grid asks of the table; see gridModel.

func (t *Table[T]) heads() []gridHead {
	out := make([]gridHead, len(t.columns))
	for i, c := range t.columns {
		out[i] = gridHead{title: c.Title, width: c.Width, grow: c.Grow, align: c.Align, edits: c.Commit != nil}
	}
	return out
}

func (t *Table[T]) length() int { return len(t.order) }

func (t *Table[T]) cell(row, col int) (string, fyne.ThemeColorName) {
	r, c := t.Row(row), t.columns[col]
	if c.Tone != nil {
		return c.Text(r), c.Tone(r)
	}
	return c.Text(r), ""
}

func (t *Table[T]) sample(i, col int) (string, bool) {
	if i >= len(t.rows) {
		return "", false
	}
	return t.columns[col].Text(t.rows[i]), true
}

func (t *Table[T]) choose(row int) {
	if row < 0 || row >= len(t.order) {
		return
	}
	r := t.Row(row)
	t.chosen = t.id(r)
	if t.OnSelected != nil {
		t.OnSelected(r)
	}
}

func (t *Table[T]) open(row int) {
	if row >= 0 && row < len(t.order) && t.OnOpen != nil {
		t.OnOpen(t.Row(row))
	}
}

func (t *Table[T]) remove(row int) {
	if row >= 0 && row < len(t.order) && t.OnDelete != nil {
		t.OnDelete(t.Row(row))
	}
}

func (t *Table[T]) paste(text string) {
	if t.OnPaste != nil {
		t.OnPaste(text)
	}
}

func (t *Table[T]) editText(row, col int) string {
	c := t.columns[col]
	if c.Edit != nil {
		return c.Edit(t.Row(row))
	}
	return c.Text(t.Row(row))
}

func (t *Table[T]) commit(row, col int, text string) error {
	return t.columns[col].Commit(t.Row(row), text)
}

func (t *Table[T]) sortTap(col int) {
	c := t.columns[col]
	down := t.sortKey == c.Key && !t.down
	t.SortBy(c.Key, down)
	if t.OnSorted != nil {
		t.OnSorted(c.Key, down)
	}
}

func (t *Table[T]) sorted() (int, bool) { return t.columnOf(t.sortKey), t.down }

func (t *Table[T]) startFilter(r rune) {
	if !t.bar.Visible() {
		return
	}
	t.FocusFilter()
	t.filter.TypedRune(r)
}

func (t *Table[T]) focusFilter() { t.FocusFilter() }
