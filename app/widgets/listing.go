package widgets

import (
	"slices"

	"fyne.io/fyne/v2"
)

// Listing is what screens have in common that list things and show the chosen one beside the list: which
// is chosen, what shows when there is nothing to list or nothing is chosen, and that what is being typed
// about one thing is saved to it before another comes on show.
type Listing[T any] struct {
	Table *Table[T]
	Frame *Frame

	Rows     func() []T           // what is listed now
	Draw     func(id string) bool // shows the chosen thing; false when it has left the list
	OnChosen func()               // another thing was chosen and is about to be drawn; may be nil
	Empty    *Empty               // in place of all while there is nothing to list
	Blank    *Empty               // in place of the chosen thing while there is none

	chosen string
}

// NewListing lays the table out beside the thing chosen in it.
func NewListing[T any](t *Table[T]) *Listing[T] {
	l := &Listing[T]{Table: t, Frame: NewFrame(t)}
	t.OnSelected = func(row T) { l.choose(t.id(row)) }
	t.OnCleared = func() { l.choose("") }
	return l
}

// Chosen is the id of the thing on show, "" for none.
func (l *Listing[T]) Chosen() string { return l.chosen }

// Content implements [Screen].
func (l *Listing[T]) Content() fyne.CanvasObject { return l.Frame }

// Refresh implements [Screen]. Where nothing is chosen, the first thing is.
func (l *Listing[T]) Refresh() {
	rows := l.Rows()
	if len(rows) == 0 {
		if l.chosen != "" {
			l.leave()
		}
		l.chosen = ""
		l.Table.SetRows(nil)
		l.Frame.ShowEmpty(l.Empty)
		return
	}
	l.Table.SetRows(rows)
	if _, chosen := l.Table.Selected(); !chosen && !(Unsaved() > 0 && l.lists(rows)) {
		l.leave()
		l.take(l.Table.id(rows[0]))
		l.Table.Select(l.chosen)
	}
	l.draw()
}

// Show implements [Screen].
func (l *Listing[T]) Show(id string) {
	if l.Table.Select(id) {
		l.choose(id)
	}
}

// First is where the keyboard stands for whoever comes to the screen for one thing: on its row.
func (l *Listing[T]) First() fyne.Focusable { return l.Table.grid }

func (l *Listing[T]) choose(id string) {
	if l.chosen != id {
		FlushAll()
		if !SaveAgain() { // what cannot be saved yet is not left behind
			l.Table.Select(l.chosen)
			return
		}
		l.take(id)
		l.Frame.Top()
	}
	l.draw()
}

// lists tells whether the chosen thing is among the rows: one that is only filtered out stays on show while
// something about it is not saved.
func (l *Listing[T]) lists(rows []T) bool {
	return slices.ContainsFunc(rows, func(row T) bool { return l.Table.id(row) == l.chosen })
}

// leave takes the keyboard out of the fields of a thing that has left the list: what is typed next must not
// go into those of another.
func (l *Listing[T]) leave() {
	departed++
	LetGo()
	if c := canvasOf(l.Frame); c != nil && l.Frame.inPane(c) != nil {
		c.Unfocus()
	}
}

func (l *Listing[T]) take(id string) {
	l.chosen = id
	if l.OnChosen != nil {
		l.OnChosen()
	}
}

func (l *Listing[T]) draw() {
	l.Frame.Update(func() {
		if l.Draw(l.chosen) {
			l.Frame.ShowDetail()
			return
		}
		l.Frame.ShowBlank(l.Blank)
	})
}
