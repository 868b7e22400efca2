package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// gridEdit is a cell being edited.
type gridEdit struct {
	g        *grid
	row, col int
	id       string // of the row
	start    string // what the cell said
	entry    *cellEntry
	refused  bool
}

// cellEntry is the field over a cell: Return takes the text, Esc leaves the cell as it was, Up and Down
// take it and go on to the next row.
type cellEntry struct {
	Entry
	edit *gridEdit
}

func (g *grid) startEdit() {
	heads := g.model.heads()
	if g.row < 0 || g.row >= g.model.length() || !heads[g.col].edits {
		return
	}
	g.endEdit(true)
	e := &cellEntry{edit: &gridEdit{g: g, row: g.row, col: g.col, id: g.model.idAt(g.row), start: g.model.editText(g.row, g.col)}}
	e.edit.entry = e
	e.selectAll = true
	e.start(e)
	e.Set(e.edit.start)
	e.onAgain = func() { g.endEdit(true) }
	e.onLetGo = func() { g.endEdit(false) }
	e.Entry.OnSubmit = func(string) { g.endEdit(true) }
	g.edit = e.edit
	g.scrollTo(g.row)
	g.body.show(true)
	if c := canvasOf(g); c != nil {
		c.Focus(e)
	}
}

// endEdit takes the text of the cell being edited, or drops it. A text that is refused stays, with the
// reason beside it, and the cell goes on being edited; it tells whether editing ended.
func (g *grid) endEdit(take bool) bool {
	e := g.edit
	if e == nil {
		return true
	}
	text := e.entry.Text
	if take && e.row < g.model.length() && text != e.start && text != g.model.editText(e.row, e.col) {
		g.edit = nil // what follows must not end it again
		if err := asSeen(e.entry.seen, func() error { return g.model.commit(e.row, e.col, text) }); err != nil {
			if at := g.model.placeOf(e.id); at >= 0 { // the rows may have come in another order
				g.edit, e.row = e, at
				e.fail(err)
				g.body.show(true)
			}
			return false
		}
	}
	g.edit = nil
	e.hideNote()
	if c := canvasOf(g); c != nil && (e.entry.focused || c.Focused() == nil) {
		c.Focus(g)
	}
	g.body.show(true)
	return true
}

func (e *gridEdit) place(x, w, height float32) {
	least := e.entry.MinSize()
	e.entry.Move(fyne.NewPos(x, (height-least.Height)/2))
	e.entry.Resize(fyne.NewSize(max(w, look.Scaled(72)), least.Height))
}

// fail shows the reason right under the cell.
func (e *gridEdit) fail(err error) {
	e.refused = true
	e.entry.unsaved = isUnsaved(err)
	e.entry.keepOpen()
	e.entry.SetProblem(err)
	e.g.note.show(err)
	e.g.Refresh()
}

func (e *gridEdit) hideNote() {
	e.refused, e.entry.unsaved = false, false
	e.entry.keepOpen()
	e.entry.SetProblem(nil)
	if e.g.note.Visible() {
		e.g.note.Hide()
		e.g.Refresh()
	}
}

// FocusLost is for the window library.
func (e *cellEntry) FocusLost() {
	e.Entry.FocusLost()
	if e.edit.g.edit == e.edit && !e.edit.refused {
		e.edit.g.endEdit(true)
	}
}

// TypedKey is for the window library.
func (e *cellEntry) TypedKey(key *fyne.KeyEvent) {
	g := e.edit.g
	switch key.Name {
	case fyne.KeyEscape:
		g.endEdit(false)
	case fyne.KeyDown, fyne.KeyUp:
		step := 1
		if key.Name == fyne.KeyUp {
			step = -1
		}
		if g.endEdit(true) {
			g.choose(g.row + step)
			g.startEdit()
		}
	default:
		e.Entry.TypedKey(key)
	}
}

// TypedRune is for the window library.
func (e *cellEntry) TypedRune(r rune) {
	e.edit.hideNote()
	e.Entry.TypedRune(r)
}

// gridNote stands under a cell and says why what was typed there cannot be taken.
type gridNote struct {
	composite
	words *Text
}

func newGridNote() *gridNote {
	n := &gridNote{words: newText("", theme.SizeNameText, look.Bad, false)}
	icon := widget.NewIcon(theme.NewColoredResource(theme.ErrorIcon(), look.Bad))
	box := canvas.NewRectangle(look.Color(look.Raised))
	n.root = &fyne.Container{Layout: noteBox{box}, Objects: []fyne.CanvasObject{box, icon, n.words}}
	n.root.Hidden, n.Hidden = false, true
	n.ExtendBaseWidget(n)
	return n
}

func (n *gridNote) show(err error) {
	n.words.SetText(ErrorText(err))
	n.Show()
}

// put places the note under the cell at x, y of a room, or above it where there is no room below.
func (n *gridNote) put(x, y, rowHeight float32, room fyne.Size) {
	size := n.root.MinSize()
	size.Width = min(size.Width, room.Width)
	if y+rowHeight+size.Height > room.Height {
		y -= size.Height
	} else {
		y += rowHeight
	}
	n.Move(fyne.NewPos(max(0, min(x, room.Width-size.Width)), y))
	n.Resize(size)
}

// noteBox is a sign and words on a card as wide as the words, up to a limit.
type noteBox struct{ box *canvas.Rectangle }

func (b noteBox) Layout(o []fyne.CanvasObject, size fyne.Size) {
	pad := look.Scaled(look.Gap)
	b.box.FillColor, b.box.StrokeColor = look.Color(look.Raised), look.Color(look.Bad)
	b.box.StrokeWidth, b.box.CornerRadius = 1, theme.InputRadiusSize()
	b.box.Resize(size)
	icon := theme.IconInlineSize()
	o[1].Move(fyne.NewPos(pad, pad))
	o[1].Resize(fyne.NewSquareSize(icon))
	o[2].Move(fyne.NewPos(2*pad+icon, pad))
	o[2].Resize(fyne.NewSize(size.Width-3*pad-icon, size.Height-2*pad))
}

func (b noteBox) MinSize(o []fyne.CanvasObject) fyne.Size {
	t, pad := o[2].(*Text), look.Scaled(look.Gap)
	w := min(fyne.MeasureText(t.words, look.Size(t.size), t.style).Width+1, look.Scaled(300))
	return fyne.NewSize(w+theme.IconInlineSize()+3*pad, max(theme.IconInlineSize(), heightFor(t, w))+2*pad)
}

// filterEntry is the field a table filters by: Down or Return goes to the rows, Esc clears it.
type filterEntry struct {
	Entry
	rows *grid
}

func newFilterEntry(rows *grid) *filterEntry {
	f := &filterEntry{rows: rows}
	f.start(f)
	f.Entry.OnSubmit = func(string) { f.leave() }
	return f
}

func (f *filterEntry) leave() {
	if c := canvasOf(f); c != nil {
		c.Focus(f.rows)
	}
}

// TypedShortcut is for the window library. Sorting works from here too.
func (f *filterEntry) TypedShortcut(s fyne.Shortcut) {
	if k, ok := s.(*desktop.CustomShortcut); ok && k.Modifier == fyne.KeyModifierAlt && strings.Contains(sortKeys, string(k.KeyName)) && f.rows.arrange(s) {
		return
	}
	f.Entry.TypedShortcut(s)
}

// TypedKey is for the window library.
func (f *filterEntry) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyDown:
		f.leave()
	case fyne.KeyEscape:
		if f.Text == "" {
			f.Entry.TypedKey(key)
			return
		}
		f.Entry.Entry.SetText("")
	default:
		f.Entry.TypedKey(key)
	}
	canvas.Refresh(f)
}
