package picture

import (
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
)

// readout is what the mouse is over, in plain words.
type readout struct {
	lines    []string
	at       vg.Point // the thing itself, on the sheet
	upright  bool     // draw a line through it from top to bottom
	level    bool     // and from side to side
	ring     bool     // and a ring around it
	from, to vg.Point // a box around it instead, when they differ
}

// overlay draws the readout over the chart with plain objects, so that the chart itself stays as it is.
type overlay struct {
	upright, level *canvas.Line
	ring           *canvas.Circle
	around         *canvas.Rectangle
	patch          *canvas.Rectangle
	texts          []*canvas.Text
	lines          []string
}

// A readout has at most so many lines, wrapped ones counted.
const mostLines = 5

func newOverlay() *overlay {
	o := &overlay{
		upright: canvas.NewLine(nil), level: canvas.NewLine(nil), ring: canvas.NewCircle(nil),
		around: canvas.NewRectangle(nil), patch: canvas.NewRectangle(nil),
	}
	for range mostLines {
		o.texts = append(o.texts, canvas.NewText("", nil))
	}
	o.hide()
	return o
}

func (o *overlay) objects() []fyne.CanvasObject {
	all := []fyne.CanvasObject{o.upright, o.level, o.around, o.ring, o.patch}
	for _, t := range o.texts {
		all = append(all, t)
	}
	return all
}

func (o *overlay) hide() {
	if o.lines == nil && !o.patch.Visible() {
		return
	}
	o.lines = nil
	for _, x := range o.objects() {
		x.Hide()
	}
}

func (o *overlay) said() []string {
	if o.lines == nil {
		return nil
	}
	return append([]string(nil), o.lines...)
}

func (o *overlay) show(c *Chart, s *sheet, r readout) {
	w := c.subject
	words := theme.ColorForWidget(look.Plain, w)
	o.lines = r.lines
	top, bottom := s.onWidget(s.data.Max), s.onWidget(s.data.Min)
	at := s.onWidget(r.at)

	o.upright.StrokeColor, o.level.StrokeColor = look.Fade(words, 0x70), look.Fade(words, 0x70)
	show(o.upright, r.upright, func() {
		o.upright.Position1, o.upright.Position2 = fyne.NewPos(at.X, top.Y), fyne.NewPos(at.X, bottom.Y)
	})
	show(o.level, r.level, func() {
		o.level.Position1, o.level.Position2 = fyne.NewPos(bottom.X, at.Y), fyne.NewPos(top.X, at.Y)
	})
	show(o.ring, r.ring, func() {
		radius := look.Scaled(7)
		o.ring.StrokeColor, o.ring.StrokeWidth = words, look.Scaled(1.5)
		o.ring.Move(at.SubtractXY(radius, radius))
		o.ring.Resize(fyne.NewSquareSize(2 * radius))
	})
	show(o.around, r.from != r.to, func() {
		from, to := s.onWidget(vg.Point{X: r.from.X, Y: r.to.Y}), s.onWidget(vg.Point{X: r.to.X, Y: r.from.Y})
		o.around.FillColor = theme.ColorForWidget(theme.ColorNameHover, w)
		o.around.Move(from)
		o.around.Resize(fyne.NewSize(to.X-from.X, to.Y-from.Y))
	})
	o.write(c, at)
}

func show(o fyne.CanvasObject, visible bool, place func()) {
	if !visible {
		o.Hide()
		return
	}
	place()
	o.Show()
	o.Refresh()
}

// write puts the words beside the point, clear of it and inside the chart.
func (o *overlay) write(c *Chart, at fyne.Position) {
	w, size := c.subject, c.Size()
	caption := theme.SizeForWidget(theme.SizeNameCaptionText, w)
	pad := look.Scaled(6)
	lines := wrapLines(o.lines, min(look.Scaled(300), size.Width-4*pad), caption)
	var box fyne.Size
	high := whole(fyne.MeasureText("Ág", caption, fyne.TextStyle{}).Height)
	for i, t := range o.texts {
		if i >= len(lines) {
			t.Hide()
			continue
		}
		t.Text, t.TextSize = lines[i].words, caption
		t.TextStyle = fyne.TextStyle{Bold: lines[i].first}
		t.Color = theme.ColorForWidget(look.Plain, w)
		box.Width = max(box.Width, t.MinSize().Width)
		box.Height += high
	}
	box = box.AddWidthHeight(2*pad, 2*pad)
	off := look.Scaled(12)
	p := fyne.NewPos(at.X+off, at.Y-off-box.Height)
	if p.X+box.Width > size.Width {
		p.X = at.X - off - box.Width
	}
	if p.Y < 0 {
		p.Y = at.Y + off
	}
	p.X = whole(max(0, min(p.X, size.Width-box.Width)))
	p.Y = whole(max(0, min(p.Y, size.Height-box.Height)))
	show(o.patch, true, func() {
		o.patch.FillColor = theme.ColorForWidget(look.Raised, w)
		o.patch.StrokeColor, o.patch.StrokeWidth = theme.ColorForWidget(theme.ColorNameInputBorder, w), 1
		o.patch.CornerRadius = look.Scaled(4)
		o.patch.Move(p)
		o.patch.Resize(box)
	})
	for i := range min(len(lines), len(o.texts)) {
		t := o.texts[i]
		t.Move(p.AddXY(pad, pad+float32(i)*high))
		t.Resize(t.MinSize())
		t.Show()
		t.Refresh()
	}
}

// whole is down to whole units, where text is sharp on an ordinary screen.
func whole(v float32) float32 { return float32(math.Floor(float64(v))) }

type line struct {
	words string
	first bool // part of the first thing said, which is written bold
}

func wrapLines(all []string, width, size float32) []line {
	var out []line
	for i, whole := range all {
		style := fyne.TextStyle{Bold: i == 0}
		now := ""
		for _, word := range strings.Fields(whole) {
			if longer := strings.TrimSpace(now + " " + word); now == "" || fyne.MeasureText(longer, size, style).Width <= width {
				now = longer
				continue
			}
			out = append(out, line{now, i == 0})
			now = word
		}
		if now != "" {
			out = append(out, line{now, i == 0})
		}
	}
	return out
}
