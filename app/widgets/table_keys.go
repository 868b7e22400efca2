package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// The keyboard on the rows of a table.

// FocusGained is for the window library.
func (g *grid) FocusGained() {
	g.focused = true
	if g.row < 0 && g.model.length() > 0 {
		g.choose(0)
	}
	reveal(g)
	g.body.show(true)
}

// FocusLost is for the window library.
func (g *grid) FocusLost() {
	g.focused = false
	g.body.show(true)
}

// TypedRune is for the window library.
func (g *grid) TypedRune(r rune) {
	if r > ' ' {
		g.model.startFilter(r)
	}
}

// TypedKey is for the window library.
func (g *grid) TypedKey(key *fyne.KeyEvent) {
	page := max(1, int(g.view.Size().Height/g.rowHeight())-1)
	last := len(g.model.heads()) - 1
	switch key.Name {
	case fyne.KeyDown:
		g.choose(g.row + 1)
	case fyne.KeyUp:
		g.choose(g.row - 1)
	case fyne.KeyPageDown:
		g.choose(g.row + page)
	case fyne.KeyPageUp:
		g.choose(g.row - page)
	case fyne.KeyHome:
		g.choose(0)
	case fyne.KeyEnd:
		g.choose(g.model.length() - 1)
	case fyne.KeyRight:
		g.toColumn(g.shownFrom(min(g.col+1, last), 1))
	case fyne.KeyLeft:
		g.toColumn(g.shownFrom(max(g.col-1, 0), -1))
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		g.enter()
	case fyne.KeyF2:
		g.startEdit()
	case fyne.KeyDelete:
		g.model.remove(g.row)
	default:
		passKey(g, key)
	}
}

// shownFrom is the next column with any width, going on from one by steps; where it stands when none is.
func (g *grid) shownFrom(col, step int) int {
	for c := col; c >= 0 && c < len(g.body.widths); c += step {
		if g.body.widths[c] > 0 {
			return c
		}
	}
	return g.col
}

func (g *grid) toColumn(col int) {
	g.col = col
	var left float32
	for _, w := range g.body.widths[:col] {
		left += w
	}
	right, at := left+g.body.widths[col], g.view.Offset
	switch view := g.view.Size().Width; {
	case left < at.X:
		at.X = left
	case right > at.X+view:
		at.X = right - view
	}
	g.view.ScrollToOffset(at)
	g.body.show(true)
}

// TypedShortcut is for the window library.
func (g *grid) TypedShortcut(s fyne.Shortcut) {
	switch s := s.(type) {
	case *fyne.ShortcutCopy:
		if s.Clipboard != nil && g.row >= 0 {
			s.Clipboard.SetContent(g.rowText())
		}
		return
	case *fyne.ShortcutPaste:
		if s.Clipboard != nil {
			g.model.paste(s.Clipboard.Content())
		}
		return
	case *desktop.CustomShortcut:
		if s.Modifier == fyne.KeyModifierShortcutDefault && s.KeyName == fyne.KeyF {
			g.model.focusFilter()
			return
		}
		if g.arrange(s) {
			return
		}
	}
	FlushAll()
	pass(g, s)
}

// arrange sorts by a column or changes a width, if the shortcut is one of those, and tells whether it is.
// Alt is theirs: Ctrl with a figure goes to a screen.
func (g *grid) arrange(s fyne.Shortcut) bool {
	k, ok := s.(*desktop.CustomShortcut)
	if !ok || k.Modifier != fyne.KeyModifierAlt {
		return false
	}
	switch k.KeyName {
	case fyne.KeyLeft:
		g.widen(-widthStep)
	case fyne.KeyRight:
		g.widen(widthStep)
	case fyne.Key0:
		g.unwiden(g.col)
	default:
		n := strings.Index(sortKeys, string(k.KeyName))
		if n < 0 || len(k.KeyName) != 1 || n >= len(g.model.heads()) {
			return false
		}
		g.model.sortTap(n)
	}
	return true
}

// sortKeys sort by a column, the first by the first.
const sortKeys = "123456789"

func (g *grid) rowText() string {
	var cells []string
	for c := range g.model.heads() {
		text, _ := g.model.cell(g.row, c)
		cells = append(cells, text)
	}
	return strings.Join(cells, "\t")
}
