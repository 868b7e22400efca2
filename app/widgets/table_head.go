package widgets

import (
	"image/color"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// gridHeadRow has the titles. A tap sorts, dragging an edge changes a width.
type gridHeadRow struct {
	widget.BaseWidget
	g       *grid
	texts   []*canvas.Text
	arrow   *widget.Icon
	ground  *canvas.Rectangle
	hover   *canvas.Rectangle
	over    int // column under the mouse, -1 for none
	onEdge  bool
	dragged int // column whose edge is dragged, -1 for none
	tapped  int // column whose edge was tapped last, -1 for none
	lastTap time.Time
}

var (
	_ fyne.Tappable      = (*gridHeadRow)(nil)
	_ fyne.Draggable     = (*gridHeadRow)(nil)
	_ desktop.Hoverable  = (*gridHeadRow)(nil)
	_ desktop.Cursorable = (*gridHeadRow)(nil)
)

func newGridHeadRow(g *grid) *gridHeadRow {
	h := &gridHeadRow{g: g, over: -1, dragged: -1, tapped: -1,
		arrow: widget.NewIcon(theme.MenuDropDownIcon()), ground: canvas.NewRectangle(color.Transparent), hover: canvas.NewRectangle(color.Transparent)}
	h.ExtendBaseWidget(h)
	return h
}

// edgeAt is the column whose right edge is at x, -1 for none.
func (h *gridHeadRow) edgeAt(x float32) int {
	for c, w := range h.g.body.widths {
		x -= w
		if w > 0 && x > -look.Scaled(5) && x < look.Scaled(5) {
			return c
		}
	}
	return -1
}

func (h *gridHeadRow) Tapped(e *fyne.PointEvent) {
	h.g.hint.hide()
	edge := h.edgeAt(e.Position.X)
	again := edge >= 0 && edge == h.tapped && time.Since(h.lastTap) < fyne.CurrentApp().Driver().DoubleTapDelay()*2
	h.tapped, h.lastTap = edge, time.Now()
	switch {
	case again:
		h.g.unwiden(edge)
	case edge < 0:
		h.g.model.sortTap(h.g.columnAt(e.Position.X))
	}
	if c := canvasOf(h); c != nil {
		c.Focus(h.g)
	}
}

func (h *gridHeadRow) Dragged(e *fyne.DragEvent) {
	if h.dragged < 0 {
		if h.dragged = h.edgeAt(e.Position.X - e.Dragged.DX); h.dragged < 0 {
			return
		}
	}
	h.g.setWidth(h.dragged, (h.g.body.widths[h.dragged]+e.Dragged.DX)/look.Scaled(1))
}

func (h *gridHeadRow) DragEnd() {
	if h.dragged >= 0 {
		h.g.model.widened()
	}
	h.dragged = -1
}

func (h *gridHeadRow) MouseIn(e *desktop.MouseEvent) { h.MouseMoved(e) }
func (h *gridHeadRow) MouseMoved(e *desktop.MouseEvent) {
	over, edge := h.g.columnAt(e.Position.X), h.edgeAt(e.Position.X) >= 0
	if over != h.over || edge != h.onEdge {
		h.over, h.onEdge = over, edge
		h.Refresh()
		h.g.hint.point(over, edge)
	}
}
func (h *gridHeadRow) MouseOut() {
	h.over, h.onEdge = -1, false
	h.Refresh()
	h.g.hint.hide()
}

// Cursor is for the window library.
func (h *gridHeadRow) Cursor() desktop.Cursor {
	if h.onEdge || h.dragged >= 0 {
		return desktop.HResizeCursor
	}
	return desktop.PointerCursor
}

func (h *gridHeadRow) CreateRenderer() fyne.WidgetRenderer {
	for range h.g.model.heads() {
		h.texts = append(h.texts, canvas.NewText("", color.Transparent))
	}
	r := &gridHeadRenderer{h}
	r.Refresh()
	return r
}

type gridHeadRenderer struct{ h *gridHeadRow }

func (r *gridHeadRenderer) Destroy() {}
func (r *gridHeadRenderer) MinSize() fyne.Size {
	return fyne.NewSize(sum(r.h.g.body.widths), r.h.g.rowHeight())
}

func (r *gridHeadRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.h.ground, r.h.hover}
	for _, t := range r.h.texts {
		out = append(out, t)
	}
	return append(out, r.h.arrow)
}

func (r *gridHeadRenderer) Layout(size fyne.Size) {
	h := r.h
	h.ground.Resize(size)
	heads, pad, icon := h.g.model.heads(), cellPad(), theme.IconInlineSize()*0.8
	sorted, _ := h.g.model.sorted()
	x := float32(0)
	h.arrow.Hidden, h.hover.Hidden = sorted < 0, true
	for c, w := range h.g.body.widths {
		t, room := h.texts[c], w-2*pad
		t.Hidden = w <= 0
		if c == sorted {
			room -= icon
			h.arrow.Hidden = t.Hidden
			h.arrow.Resize(fyne.NewSquareSize(icon))
			at := x + w - pad - icon*0.9
			if heads[c].align != fyne.TextAlignTrailing { // right behind the words
				at = min(at, x+pad+fyne.MeasureText(t.Text, t.TextSize, t.TextStyle).Width)
			}
			h.arrow.Move(fyne.NewPos(at, (size.Height-icon)/2))
		}
		if c == h.over && !h.onEdge {
			h.hover.Hidden = false
			h.hover.Move(fyne.NewPos(x, 0))
			h.hover.Resize(fyne.NewSize(w, size.Height))
		}
		text := t.MinSize().Height
		t.Move(fyne.NewPos(x+pad, (size.Height-text)/2))
		t.Resize(fyne.NewSize(room, text))
		x += w
	}
}

func (r *gridHeadRenderer) Refresh() {
	h := r.h
	h.ground.FillColor = theme.Color(theme.ColorNameHeaderBackground)
	h.hover.FillColor = theme.Color(theme.ColorNameHover)
	sorted, down := h.g.model.sorted()
	icon := theme.MenuDropUpIcon()
	if down {
		icon = theme.MenuDropDownIcon()
	}
	h.arrow.SetResource(icon)
	for c, head := range h.g.model.heads() {
		t := h.texts[c]
		t.TextStyle, t.TextSize, t.Color, t.Alignment = fyne.TextStyle{Bold: true}, theme.TextSize(), look.Color(look.Plain), head.align
		t.Text = head.title
		if c < len(h.g.body.widths) {
			room := h.g.body.widths[c] - 2*cellPad()
			if c == sorted {
				room -= theme.IconInlineSize() * 0.8
			}
			t.Text = clip(head.title, room, t.TextSize, t.TextStyle)
		}
	}
	r.Layout(h.Size())
	canvas.Refresh(h)
}
