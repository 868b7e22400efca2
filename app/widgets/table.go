package widgets

import (
	"sync"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// TableColumn is one column of a [Table].
type TableColumn[T any] struct {
	Key   string         // names the column for sorting and for keeping its width
	Title string         // at its head
	Width float32        // at 100 %; measured from the content when 0
	Grow  bool           // takes a share of the room left over
	Spare bool           // left out where there is no room for all; of several the last goes first
	Align fyne.TextAlign // numbers and money stand at the right: fyne.TextAlignTrailing

	// Text is what the cell shows. It and Less must depend on the row alone: for long tables they are
	// called beside the window's own thread.
	Text func(row T) string
	// Less sorts the column; by Text, without regard to case, when nil.
	Less func(a, b T) bool
	// Tone colours the words, which must say the same without it; the usual colour when nil.
	Tone func(row T) fyne.ThemeColorName

	// Commit makes the cell one that can be edited in place. An error stays with the cell.
	Commit func(row T, text string) error
	// Edit is the text editing starts from; Text when nil.
	Edit func(row T) string
}

// Table lists rows of any kind: it draws only those in sight, so that a hundred thousand are no burden,
// sorts by a tap on a head, filters as one types, edits in place, and works by keyboard alone: arrows,
// Home and End, the page keys; Return opens a row or edits a cell; F2 edits; Delete removes; letters
// start the filter; Alt+1 to Alt+9 sort by that column, again the other way round; Alt+Left and Alt+Right
// change the width of the column the keyboard is on, Alt+0 fits it to what is in it; Ctrl+C copies the row.
type Table[T any] struct {
	widget.BaseWidget

	OnSelected func(row T)        // a row was chosen
	OnCleared  func()             // the chosen row is gone and there is no other
	OnOpen     func(row T)        // Return or a second tap on a row that cannot be edited there
	OnDelete   func(row T)        // Delete
	OnPaste    func(text string)  // Ctrl+V on the table
	OnSorted   func(string, bool) // the column's key, and whether downwards, for keeping

	// OnWidths is given the widths by the user after one changed, for keeping; see [Table.Widths].
	OnWidths func(map[string]float32)

	id      func(T) string
	columns []TableColumn[T]
	rows    []T
	order   []int // what shows, as indexes of rows
	chosen  string
	sortKey string
	down    bool
	query   string
	fit     int     // rows the table grows to, 0 for not at all
	fitted  float32 // the height it had when last fitted

	filter *filterEntry
	count  *Text
	tools  *fyne.Container
	bar    *fyne.Container
	none   *Text
	grid   *grid
	all    *fyne.Container

	work     sync.WaitGroup // of sorting beside the window's thread
	sorting  bool
	wish     atomic.Int64 // counts changes of what should show
	version  int          // counts changes of the rows
	haystack []string     // the searched text of each row, nil until needed
}

// NewTable has columns; id tells rows apart and stays the same while a row changes.
func NewTable[T any](id func(T) string, columns ...TableColumn[T]) *Table[T] {
	t := &Table[T]{id: id, columns: columns}
	t.grid = newGrid(t)
	t.filter = newFilterEntry(t.grid)
	t.filter.OnTyped = func(text string) { t.query = text; t.arrange() }
	t.filter.SetPlaceHolder(lang.X("table.filter", "Filter"))
	t.filter.SetIcon(theme.SearchIcon())
	t.count = NewCaption("")
	t.tools = Flow(look.Gap)
	t.none = NewQuiet(lang.X("table.none", "Nothing here matches the filter."))
	t.none.Hidden = true
	t.bar = &fyne.Container{Layout: filterBar{}, Objects: []fyne.CanvasObject{t.filter, t.count, t.tools}}
	t.all = container.New(headRows{}, t.bar, t.grid, Padded(look.Wide, t.none))
	t.ExtendBaseWidget(t)
	return t
}

// SetTools puts buttons beside the filter, such as one that adds a row.
func (t *Table[T]) SetTools(tools ...fyne.CanvasObject) {
	t.tools.Objects = tools
	t.bar.Refresh()
	t.all.Refresh()
}

// HideFilter takes the filter away, for short tables within a working.
func (t *Table[T]) HideFilter() *Table[T] {
	t.bar.Hidden = true
	return t
}

// Fit makes the table as high as its rows, up to so many, for tables within a working: there is no empty
// room under few rows, and no scrolling within the page until there are many.
func (t *Table[T]) Fit(most int) *Table[T] {
	t.fit = most
	return t
}

// MinSize is small, since the rows scroll, or that of the rows when the table is to [Table.Fit].
func (t *Table[T]) MinSize() fyne.Size {
	least := t.all.MinSize()
	if t.fit > 0 {
		least.Height += t.grid.fitHeight(t.fit) - t.grid.MinSize().Height
	}
	return least
}

func (t *Table[T]) heightFor(width float32) float32 {
	if t.fit == 0 {
		return t.MinSize().Height
	}
	h := t.grid.fitHeight(t.fit)
	if pad := look.Scaled(look.Gap); t.bar.Visible() {
		h += heightFor(t.bar, width-2*pad) + 2*pad
	}
	return h
}

// SetRows replaces the rows. Order, filter and the chosen row stay; when the chosen row is gone the one
// in its place is chosen.
func (t *Table[T]) SetRows(rows []T) {
	t.rows, t.haystack = rows, nil
	t.version++
	t.grid.measure()
	t.arrange()
}

// Len is how many rows show.
func (t *Table[T]) Len() int { return len(t.order) }

// Row is the row at a place of what shows.
func (t *Table[T]) Row(i int) T { return t.rows[t.order[i]] }

// Selected is the chosen row.
func (t *Table[T]) Selected() (T, bool) {
	if i := t.place(t.chosen); i >= 0 {
		return t.Row(i), true
	}
	var none T
	return none, false
}

// SelectedID is the id of the chosen row, "" for none.
func (t *Table[T]) SelectedID() string { return t.chosen }

// Select chooses the row with the id and tells whether it shows. It does not call OnSelected: the caller
// knows.
func (t *Table[T]) Select(id string) bool {
	i := t.place(id)
	if i < 0 {
		return false
	}
	t.chosen = id
	t.grid.moveTo(i)
	return true
}

// ClearSelection chooses none.
func (t *Table[T]) ClearSelection() {
	t.chosen = ""
	t.grid.moveTo(-1)
}

// SortBy sorts by the column with the key, downwards or upwards; "" keeps the order of SetRows.
func (t *Table[T]) SortBy(key string, down bool) {
	t.sortKey, t.down = key, down
	t.arrange()
}

// Sorting is the key of the column sorted by, and whether downwards.
func (t *Table[T]) Sorting() (key string, down bool) { return t.sortKey, t.down }

// SetFilter shows only rows that have every word of the text somewhere in them.
func (t *Table[T]) SetFilter(text string) {
	t.filter.Set(text)
	t.query = text
	t.arrange()
}

// Filter is the text filtered by.
func (t *Table[T]) Filter() string { return t.query }

// FocusFilter puts the keyboard into the filter.
func (t *Table[T]) FocusFilter() {
	if c := canvasOf(t); c != nil && t.bar.Visible() {
		c.Focus(t.filter)
	}
}

// FocusRows puts the keyboard on the rows.
func (t *Table[T]) FocusRows() {
	if c := canvasOf(t); c != nil {
		c.Focus(t.grid)
	}
}

// First is what takes the keyboard in it: the rows.
func (t *Table[T]) First() fyne.Focusable { return t.grid }

// Widths are the widths the user gave to columns, at 100 %, by key, for keeping.
func (t *Table[T]) Widths() map[string]float32 {
	out := map[string]float32{}
	for i, w := range t.grid.given {
		out[t.columns[i].Key] = w
	}
	return out
}

// SetWidths gives columns the widths kept from before.
func (t *Table[T]) SetWidths(widths map[string]float32) {
	for i, c := range t.columns {
		if w, kept := widths[c.Key]; kept && w > 0 {
			t.grid.given[i] = min(max(w, leastWidth), mostWidth)
		}
	}
	t.grid.Refresh()
}

func (t *Table[T]) place(id string) int {
	if id == "" {
		return -1
	}
	for i, r := range t.order {
		if t.id(t.rows[r]) == id {
			return i
		}
	}
	return -1
}

func (t *Table[T]) inside() []fyne.CanvasObject { return []fyne.CanvasObject{t.all} }

// CreateRenderer is for the window library.
func (t *Table[T]) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(t.all) }

// filterBar lays out the filter, the count and the tools, in two lines where it is narrow.
type filterBar struct{}

func (filterBar) parts(o []fyne.CanvasObject, width float32) (tools fyne.Size, below bool) {
	if len(o[2].(*fyne.Container).Objects) == 0 {
		return fyne.Size{}, false
	}
	least := o[2].(*fyne.Container).Layout.(*flow).natural(o[2].(*fyne.Container).Objects)
	if least.Width+look.Scaled(150) > width {
		return fyne.NewSize(width, heightFor(o[2], width)), true
	}
	return least, false
}

func (b filterBar) heightOf(o []fyne.CanvasObject, width float32) float32 {
	tools, below := b.parts(o, width)
	h := o[0].MinSize().Height
	if below {
		return h + look.Scaled(look.Gap) + tools.Height
	}
	return max(h, tools.Height)
}

func (b filterBar) Layout(o []fyne.CanvasObject, size fyne.Size) {
	tools, below := b.parts(o, size.Width)
	h, gap := o[0].MinSize().Height, look.Scaled(look.Gap)
	width := size.Width
	if below {
		o[2].Move(fyne.NewPos(0, h+gap))
		o[2].Resize(tools)
	} else if tools.Width > 0 {
		o[2].Move(fyne.NewPos(size.Width-tools.Width, 0))
		o[2].Resize(fyne.NewSize(tools.Width, max(h, tools.Height)))
		width -= tools.Width + gap
	}
	count := o[1].(*Text)
	count.Resize(fyne.NewSize(1000, h)) // one line
	words := fyne.MeasureText(count.Text(), theme.CaptionTextSize(), fyne.TextStyle{})
	if words.Width > width/2 {
		words.Width = 0
	}
	if words.Width > 0 {
		count.Move(fyne.NewPos(width-words.Width, (h-words.Height)/2))
		count.Resize(fyne.NewSize(words.Width+1, words.Height))
		width -= words.Width + gap
	}
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(fyne.NewSize(width, h))
}

func (b filterBar) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Scaled(160), o[0].MinSize().Height)
}

// headRows puts the bar above the rows; the third object stands over the rows when there are none.
type headRows struct{}

func (headRows) Layout(o []fyne.CanvasObject, size fyne.Size) {
	var y float32
	if o[0].Visible() {
		pad := look.Scaled(look.Gap)
		h := heightFor(o[0], size.Width-2*pad)
		o[0].Move(fyne.NewPos(pad, pad))
		o[0].Resize(fyne.NewSize(size.Width-2*pad, h))
		y = h + 2*pad
	}
	for _, rest := range o[1:] {
		rest.Move(fyne.NewPos(0, y))
		rest.Resize(fyne.NewSize(size.Width, max(0, size.Height-y)))
	}
	o[2].Move(fyne.NewPos(0, y+look.Scaled(34)))
}

func (headRows) MinSize(o []fyne.CanvasObject) fyne.Size {
	least := o[1].MinSize()
	if o[0].Visible() {
		bar := o[0].MinSize()
		least.Width = max(least.Width, bar.Width)
		least.Height += bar.Height + 2*look.Scaled(look.Gap)
	}
	return least
}
