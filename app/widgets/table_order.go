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

// arrange filters and sorts again. Of a long table only the latest wish counts: while one sorting goes on
// beside the window's thread, the next begins when that has noticed and given up.
func (t *Table[T]) arrange() {
	wish := t.wish.Add(1)
	if t.sorting {
		return // what goes on sees the new wish
	}
	job := sorting[T]{columns: t.columns, rows: t.rows, haystack: t.haystack, query: t.query, by: t.columnOf(t.sortKey), down: t.down}
	if len(t.rows) <= manyRows {
		order := job.order()
		t.haystack = job.haystack
		t.apply(order)
		return
	}
	job.stale = func() bool { return t.wish.Load() != wish }
	t.sorting = true
	version := t.version
	t.work.Add(1)
	Beside(func() {
		defer t.work.Done()
		order := job.order()
		onWindow(func() {
			t.sorting = false
			if t.version == version {
				t.haystack = job.haystack
			}
			if job.stale() {
				t.arrange()
				return
			}
			t.apply(order)
		})
	})
}

// sorting is one filtering and sorting of rows.
type sorting[T any] struct {
	columns  []TableColumn[T]
	rows     []T
	haystack []string // the searched text of each row; filled when it is needed
	query    string
	by       int // column, -1 for the order of the rows
	down     bool
	stale    func() bool // nobody wants the result any more; nil for never
}

// order is the order in which rows show, as indexes; nil when it went stale.
func (s *sorting[T]) order() []int {
	order := make([]int, 0, len(s.rows))
	needles := strings.Fields(strings.ToLower(s.query))
	if len(needles) > 0 && s.haystack == nil {
		s.haystack = searchText(s.columns, s.rows)
	}
	for i := range s.rows {
		if matches(needles, s.haystack, i) {
			order = append(order, i)
		}
	}
	if s.by < 0 || s.gone() {
		return order
	}
	c := s.columns[s.by]
	compare := func(a, b int) int {
		switch {
		case c.Less(s.rows[a], s.rows[b]):
			return -1
		case c.Less(s.rows[b], s.rows[a]):
			return 1
		}
		return 0
	}
	if c.Less == nil {
		texts := make([]string, len(s.rows))
		for _, i := range order {
			texts[i] = strings.ToLower(c.Text(s.rows[i]))
		}
		compare = func(a, b int) int { return cmp.Compare(texts[a], texts[b]) }
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if s.down {
			return compare(b, a)
		}
		return compare(a, b)
	})
	return order
}

func (s *sorting[T]) gone() bool { return s.stale != nil && s.stale() }

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
	if t.fit > 0 && t.fitted != t.grid.fitHeight(t.fit) {
		t.fitted = t.grid.fitHeight(t.fit)
		reflow(t)
	}
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
		out[i] = gridHead{title: c.Title, width: c.Width, grow: c.Grow, spare: c.Spare, align: c.Align, edits: c.Commit != nil}
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

func (t *Table[T]) idAt(row int) string { return t.id(t.Row(row)) }

func (t *Table[T]) placeOf(id string) int { return t.place(id) }

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

func (t *Table[T]) widened() {
	if t.OnWidths != nil {
		t.OnWidths(t.Widths())
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
