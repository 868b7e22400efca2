package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// gridBody is as high as all rows together and holds objects for those in sight.
type gridBody struct {
	widget.BaseWidget
	g      *grid
	widths []float32
	lines  []*gridLine
}

func newGridBody(g *grid) *gridBody {
	b := &gridBody{g: g}
	b.ExtendBaseWidget(b)
	return b
}

func (b *gridBody) MinSize() fyne.Size {
	return fyne.NewSize(sum(b.widths), float32(b.g.model.length())*b.g.rowHeight())
}

// show gives each row in sight its line. With all set every line is written anew, otherwise only those
// that stand for another row than before.
func (b *gridBody) show(all bool) {
	h, view, n := b.g.rowHeight(), b.g.view.Size(), b.g.model.length()
	first := max(0, int(b.g.view.Offset.Y/h))
	wanted := 0
	if view.Height > 0 {
		wanted = int(view.Height/h) + 2
	}
	for len(b.lines) < wanted {
		b.lines = append(b.lines, newGridLine(b.g))
	}
	width := max(view.Width, sum(b.widths))
	for i := range b.lines {
		l := b.lines[i]
		// The line for a row is always the same one, so that scrolling rewrites only the new rows.
		row := first + (i-first%len(b.lines)+len(b.lines))%len(b.lines)
		if row >= n || row >= first+wanted {
			if l.Visible() {
				l.row = -1
				l.Hide()
			}
			continue
		}
		changed := all || l.row != row
		l.row = row
		l.Move(fyne.NewPos(0, float32(row)*h))
		l.Resize(fyne.NewSize(width, h))
		l.Show()
		if changed {
			l.Refresh()
		}
	}
	canvas.Refresh(b)
}

func (b *gridBody) line(row int) *gridLine {
	for _, l := range b.lines {
		if l.row == row && l.Visible() {
			return l
		}
	}
	return nil
}

func (b *gridBody) CreateRenderer() fyne.WidgetRenderer { return &gridBodyRenderer{b} }

type gridBodyRenderer struct{ b *gridBody }

func (r *gridBodyRenderer) Destroy()           {}
func (r *gridBodyRenderer) Layout(fyne.Size)   {}
func (r *gridBodyRenderer) MinSize() fyne.Size { return r.b.MinSize() }
func (r *gridBodyRenderer) Refresh()           { r.b.show(true) }
func (r *gridBodyRenderer) Objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(r.b.lines))
	for i, l := range r.b.lines {
		out[i] = l
	}
	return out
}

// gridLine is one row on show.
type gridLine struct {
	widget.BaseWidget
	g       *grid
	row     int
	hovered bool
	ground  *canvas.Rectangle
	cursor  *canvas.Rectangle // around the cell the keyboard is on
	mark    *canvas.Rectangle // at the left of the chosen row, so that it is not told by colour alone
	texts   []*canvas.Text
}

var (
	_ fyne.Tappable     = (*gridLine)(nil)
	_ desktop.Hoverable = (*gridLine)(nil)
)

func newGridLine(g *grid) *gridLine {
	l := &gridLine{
		g: g, row: -1, ground: canvas.NewRectangle(color.Transparent), cursor: canvas.NewRectangle(color.Transparent),
		mark: canvas.NewRectangle(color.Transparent),
	}
	for range g.model.heads() {
		l.texts = append(l.texts, canvas.NewText("", color.Transparent))
	}
	l.ExtendBaseWidget(l)
	return l
}

func (l *gridLine) Tapped(e *fyne.PointEvent)      { l.g.tapped(l.row, e.Position.X) }
func (l *gridLine) MouseIn(*desktop.MouseEvent)    { l.hovered = true; l.paint() }
func (l *gridLine) MouseMoved(*desktop.MouseEvent) {}
func (l *gridLine) MouseOut()                      { l.hovered = false; l.paint() }

// paint colours what lies behind the words.
func (l *gridLine) paint() {
	chosen := l.row == l.g.row
	l.ground.FillColor = color.Transparent
	switch {
	case chosen:
		l.ground.FillColor = theme.Color(theme.ColorNameSelection)
	case l.hovered:
		l.ground.FillColor = theme.Color(theme.ColorNameHover)
	}
	l.mark.FillColor = theme.Color(theme.ColorNamePrimary)
	l.mark.Hidden = !chosen
	l.cursor.Hidden = !chosen || !l.g.focused || l.g.edit != nil
	l.cursor.StrokeColor = theme.Color(theme.ColorNamePrimary)
	l.cursor.StrokeWidth = 1.5
	l.cursor.CornerRadius = look.Scaled(3)
	l.ground.Refresh()
	l.mark.Refresh()
	l.cursor.Refresh()
}

func (l *gridLine) CreateRenderer() fyne.WidgetRenderer { return &gridLineRenderer{l} }

type gridLineRenderer struct{ l *gridLine }

func (r *gridLineRenderer) Destroy()           {}
func (r *gridLineRenderer) MinSize() fyne.Size { return fyne.NewSize(0, r.l.g.rowHeight()) }

func (r *gridLineRenderer) Objects() []fyne.CanvasObject {
	l := r.l
	out := []fyne.CanvasObject{l.ground, l.mark}
	for _, t := range l.texts {
		out = append(out, t)
	}
	out = append(out, l.cursor)
	if e := l.g.edit; e != nil && e.row == l.row {
		out = append(out, e.entry)
	}
	return out
}

func (r *gridLineRenderer) Layout(size fyne.Size) {
	l, g := r.l, r.l.g
	l.ground.Resize(size)
	l.mark.Resize(fyne.NewSize(look.Scaled(3), size.Height))
	pad := cellPad()
	x := float32(0)
	for c, w := range g.body.widths {
		t := l.texts[c]
		t.Hidden = w <= 0
		h := t.MinSize().Height
		t.Move(fyne.NewPos(x+pad, (size.Height-h)/2))
		t.Resize(fyne.NewSize(w-2*pad, h))
		if c == g.col {
			l.cursor.Move(fyne.NewPos(x+2, 2))
			l.cursor.Resize(fyne.NewSize(w-4, size.Height-4))
		}
		if e := g.edit; e != nil && e.row == l.row && e.col == c {
			e.place(x, w, size.Height)
		}
		x += w
	}
}

func (r *gridLineRenderer) Refresh() {
	l, g := r.l, r.l.g
	if l.row < 0 || l.row >= g.model.length() {
		return
	}
	size := theme.TextSize()
	heads := g.model.heads()
	for c, w := range g.body.widths {
		words, tone := g.model.cell(l.row, c)
		if tone == "" {
			tone = look.Plain
		}
		t := l.texts[c]
		if t.Hidden = w <= 0; t.Hidden {
			words = ""
		}
		t.Text = clip(words, w-2*cellPad(), size, t.TextStyle)
		t.TextSize, t.Color, t.Alignment = size, look.Color(tone), heads[c].align
		t.Refresh()
	}
	l.paint()
	r.Layout(l.Size())
	canvas.Refresh(l)
}
