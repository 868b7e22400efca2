package widgets

import (
	"image/color"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
)

// hintDelay is how long the mouse rests on a head before its hint shows.
var hintDelay = 600 * time.Millisecond

// headHint says of the head under the mouse what it is called in full, where that is cut off, and what can
// be done with it. It comes once the mouse rests there.
type headHint struct {
	composite
	g     *grid
	words *Text
	col   int
	timer *time.Timer
}

func newHeadHint(g *grid) *headHint {
	h := &headHint{g: g, col: -1, words: newText("", theme.SizeNameCaptionText, look.Plain, false)}
	box := canvas.NewRectangle(color.Transparent)
	h.root = &fyne.Container{Layout: hintBox{box}, Objects: []fyne.CanvasObject{box, h.words}}
	h.Hidden = true
	h.ExtendBaseWidget(h)
	return h
}

// point follows the mouse to another column, or onto its edge.
func (h *headHint) point(col int, edge bool) {
	h.hide()
	h.col = col
	h.words.SetText(h.text(col, edge))
	h.timer = time.AfterFunc(hintDelay, func() {
		onWindow(func() {
			if h.col == col {
				h.Show()
				h.g.Refresh()
			}
		})
	})
}

func (h *headHint) hide() {
	h.col = -1
	if h.timer != nil {
		h.timer.Stop()
	}
	if h.Visible() {
		h.Hide()
	}
}

func (h *headHint) text(col int, edge bool) string {
	switch {
	case edge:
		return lang.X("table.hint.edge", "Drag for another width, or Alt+Left, Alt+Right; two taps, or Alt+0, fit it to what is in it.")
	case col < len(sortKeys):
		return lang.X("table.hint.key", "Sort by {{.Column}}: tap, or Alt+{{.Key}}; again turns it round.",
			map[string]any{"Column": h.g.model.heads()[col].title, "Key": sortKeys[col : col+1]})
	}
	return lang.X("table.hint", "Sort by {{.Column}}: tap; again turns it round.", map[string]any{"Column": h.g.model.heads()[col].title})
}

// place puts the hint under its head, within the room of the table.
func (h *headHint) place(room fyne.Size) {
	if !h.Visible() || h.col < 0 || h.col >= len(h.g.body.widths) {
		return
	}
	size := h.root.MinSize()
	size.Width = min(size.Width, room.Width)
	x := sum(h.g.body.widths[:h.col]) - h.g.view.Offset.X
	h.Move(fyne.NewPos(max(0, min(x, room.Width-size.Width)), h.g.rowHeight()+2))
	h.Resize(size)
}

// hintBox is small words on a card.
type hintBox struct{ box *canvas.Rectangle }

func (b hintBox) Layout(o []fyne.CanvasObject, size fyne.Size) {
	pad := look.Scaled(look.Tight)
	b.box.FillColor, b.box.StrokeColor = look.Color(look.Raised), look.Color(look.Line)
	b.box.StrokeWidth, b.box.CornerRadius = 1, theme.InputRadiusSize()
	b.box.Resize(size)
	o[1].Move(fyne.NewPos(2*pad, pad))
	o[1].Resize(fyne.NewSize(size.Width-4*pad, size.Height-2*pad))
}

func (b hintBox) MinSize(o []fyne.CanvasObject) fyne.Size {
	t, pad := o[1].(*Text), look.Scaled(look.Tight)
	w := min(fyne.MeasureText(t.words, look.Size(t.size), t.style).Width+1, look.Scaled(340))
	return fyne.NewSize(w+4*pad, heightFor(t, w)+2*pad)
}
