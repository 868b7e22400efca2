package widgets

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// gridModel is what a grid shows and whom it tells, whatever the rows are.
type gridModel interface {
	heads() []gridHead
	length() int
	cell(row, col int) (text string, tone fyne.ThemeColorName)
	sample(i, col int) (text string, ok bool) // for measuring, in any order
	choose(row int)
	open(row int)
	remove(row int)
	paste(text string)
	editText(row, col int) string
	commit(row, col int, text string) error
	idAt(row int) string
	placeOf(id string) int // -1 when it does not show
	sortTap(col int)
	widened()
	sorted() (col int, down bool)
	startFilter(r rune)
	focusFilter()
}

type gridHead struct {
	title string
	width float32
	grow  bool
	spare bool
	align fyne.TextAlign
	edits bool
}

// grid draws the rows in sight. It keeps a handful of row objects and gives each the row it stands for
// as the view scrolls.
type grid struct {
	widget.BaseWidget
	model gridModel
	head  *gridHeadRow
	top   *wheelScroll // clips the head
	body  *gridBody
	view  *wheelScroll

	row, col int // where the keyboard is; row -1 for none
	focused  bool
	natural  []float32       // measured widths at the present type size
	measured float32         // the type size they were measured at
	given    map[int]float32 // widths by the user, at 100 %
	edit     *gridEdit
	note     *gridNote
	hint     *headHint
	lastTap  time.Time
	lastAt   [2]int
}

var (
	_ fyne.Focusable    = (*grid)(nil)
	_ fyne.Shortcutable = (*grid)(nil)
)

func newGrid(m gridModel) *grid {
	g := &grid{model: m, row: -1, given: map[int]float32{}}
	g.head = newGridHeadRow(g)
	g.body = newGridBody(g)
	g.view = newWheelScroll(g.body, container.ScrollBoth, passToPane(g))
	g.view.OnScrolled = func(p fyne.Position) {
		g.head.Move(fyne.NewPos(-p.X, 0))
		g.body.show(false)
		if g.note.Visible() {
			g.Refresh()
		}
	}
	g.note, g.hint = newGridNote(), newHeadHint(g)
	g.top = newWheelScroll(g.head, container.ScrollNone, passToPane(g))
	g.ExtendBaseWidget(g)
	return g
}

func (g *grid) rowHeight() float32 {
	return float32(math.Ceil(float64(look.Reach(fyne.MeasureText("Ag", theme.TextSize(), fyne.TextStyle{}).Height + look.Scaled(10)))))
}

// fitHeight is the height of the head and of all rows, of at least one and at most so many.
func (g *grid) fitHeight(most int) float32 {
	return g.rowHeight()*float32(1+max(1, min(g.model.length(), most))) + 1
}

// cellPad is the room left and right of a cell's words.
func cellPad() float32 { return look.Scaled(8) }

// measure forgets the widths measured from the rows before.
func (g *grid) measure() { g.natural = nil }

// widths are the columns' widths in a view of so much width.
func (g *grid) widths(view float32) []float32 {
	heads := g.model.heads()
	if size := theme.TextSize(); g.natural == nil || g.measured != size {
		g.natural, g.measured = make([]float32, len(heads)), size
		for c, h := range heads {
			g.natural[c] = g.naturalWidth(c, h)
		}
	}
	out := make([]float32, len(heads))
	var total, give float32 // give is what the growing columns can do without
	growers := 0
	for c, h := range heads {
		out[c] = g.natural[c]
		if w, set := g.given[c]; set {
			out[c] = look.Scaled(w)
		} else if h.grow {
			growers++
			give += max(0, out[c]-look.Scaled(readGrown))
		}
		total += out[c]
	}
	for c := len(heads) - 1; c >= 0 && view > 0 && total-give > view; c-- {
		if _, set := g.given[c]; heads[c].spare && !set {
			total -= out[c]
			out[c] = 0
		}
	}
	if spare := view - total; growers > 0 && spare != 0 {
		each := spare / float32(growers)
		for c, h := range heads {
			if _, set := g.given[c]; h.grow && !set {
				out[c] = max(out[c]+each, min(out[c], look.Scaled(leastGrown)))
			}
		}
	}
	return out
}

func (g *grid) naturalWidth(col int, h gridHead) float32 {
	size := theme.TextSize()
	w := fyne.MeasureText(h.title, size, fyne.TextStyle{Bold: true}).Width + theme.IconInlineSize()*0.8
	if h.width > 0 {
		return max(look.Scaled(h.width), w+2*cellPad())
	}
	for i := 0; i < 200; i++ {
		text, ok := g.model.sample(i, col)
		if !ok {
			break
		}
		w = max(w, fyne.MeasureText(text, size, fyne.TextStyle{}).Width)
	}
	return min(w, look.Scaled(260)) + 2*cellPad()
}

func (g *grid) columnAt(x float32) int {
	widths := g.body.widths
	for c, w := range widths {
		if x < w {
			return c
		}
		x -= w
	}
	return len(widths) - 1
}

// moveTo puts the keyboard on a row and brings it into view; -1 for none.
func (g *grid) moveTo(row int) {
	g.endEdit(true)
	g.row = row
	g.scrollTo(row)
	g.body.show(true)
}

// stay puts the keyboard on a row without scrolling more than a shorter table needs.
func (g *grid) stay(row int) {
	if e := g.edit; e != nil {
		if e.row = g.model.placeOf(e.id); e.row < 0 {
			g.endEdit(false)
		}
	}
	g.row = row
	g.Refresh()
}

func (g *grid) scrollTo(row int) {
	h, view := g.rowHeight(), g.view.Size().Height
	if row < 0 || view <= 0 {
		return
	}
	top, at := float32(row)*h, g.view.Offset
	switch {
	case top < at.Y:
		at.Y = top
	case top+h > at.Y+view:
		at.Y = top + h - view
	default:
		return
	}
	g.view.ScrollToOffset(at)
}

// choose moves to a row and tells the table.
func (g *grid) choose(row int) {
	n := g.model.length()
	if n == 0 {
		return
	}
	row = max(0, min(row, n-1))
	same := row == g.row
	g.moveTo(row)
	if !same {
		g.model.choose(row)
	}
}

// tapped chooses the row; a second tap soon after edits the cell or opens the row.
func (g *grid) tapped(row int, x float32) {
	col := g.columnAt(x)
	again := time.Since(g.lastTap) < fyne.CurrentApp().Driver().DoubleTapDelay()*2 && g.lastAt == [2]int{row, col}
	g.lastTap, g.lastAt = time.Now(), [2]int{row, col}
	g.col = col
	g.choose(row)
	if c := canvasOf(g); c != nil && g.edit == nil {
		c.Focus(g)
	}
	if again {
		g.lastTap = time.Time{}
		g.enter()
	}
}

// enter edits the cell the keyboard is on, or opens the row.
func (g *grid) enter() {
	if g.row < 0 {
		return
	}
	if heads := g.model.heads(); g.col < len(heads) && heads[g.col].edits {
		g.startEdit()
		return
	}
	g.model.open(g.row)
}

// MinSize is small: the rows scroll.
func (g *grid) MinSize() fyne.Size {
	return fyne.NewSize(look.Scaled(140), g.rowHeight()*3)
}

// CreateRenderer is for the window library.
func (g *grid) CreateRenderer() fyne.WidgetRenderer {
	return &gridRenderer{g: g, line: canvas.NewRectangle(look.Color(look.Line))}
}

type gridRenderer struct {
	g    *grid
	line *canvas.Rectangle
}

func (r *gridRenderer) Destroy()           {}
func (r *gridRenderer) MinSize() fyne.Size { return r.g.MinSize() }
func (r *gridRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.g.view, r.g.top, r.line, r.g.note, r.g.hint}
}

func (r *gridRenderer) Layout(size fyne.Size) {
	g, h := r.g, r.g.rowHeight()
	g.body.widths = g.widths(size.Width - look.Scaled(10)) // the scroll bar stands over the rest
	g.top.Resize(fyne.NewSize(size.Width, h))
	g.head.Resize(fyne.NewSize(max(size.Width, sum(g.body.widths)), h))
	r.line.Resize(fyne.NewSize(size.Width, 1))
	r.line.Move(fyne.NewPos(0, h))
	g.view.Move(fyne.NewPos(0, h+1))
	g.view.Resize(fyne.NewSize(size.Width, max(0, size.Height-h-1)))
	g.view.Refresh() // the body may have become shorter or longer
	g.head.Move(fyne.NewPos(-g.view.Offset.X, 0))
	g.hint.place(size)
	g.body.show(true)
	if e := g.edit; e != nil && g.note.Visible() {
		at := g.view.Position().Add(fyne.NewPos(sum(g.body.widths[:e.col]), float32(e.row)*h)).Subtract(g.view.Offset)
		g.note.put(at.X, at.Y, h, size)
	}
}

func (r *gridRenderer) Refresh() {
	r.line.FillColor = look.Color(look.Line)
	r.line.Refresh()
	r.Layout(r.g.Size())
	r.g.head.Refresh()
	canvas.Refresh(r.g)
}

func sum(all []float32) float32 {
	var s float32
	for _, v := range all {
		s += v
	}
	return s
}
