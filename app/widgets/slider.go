package widgets

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Slider chooses a number between two ends by dragging or a tap, a step left or right by the buttons at
// its ends, and by keyboard: arrows step, PageUp and PageDown go ten steps, Home and End to the ends.
type Slider struct {
	composite

	// OnValue is given every number the user chooses.
	OnValue func(float64)

	least, most, step, value float64
	rail                     *sliderRail
	down, up                 *Button
}

// NewSlider begins at 0, with nothing to choose from.
func NewSlider() *Slider {
	s := &Slider{step: 1}
	s.rail = newSliderRail(s)
	s.down = NewButton("", theme.ContentRemoveIcon(), func() { s.by(-1) })
	s.up = NewButton("", theme.ContentAddIcon(), func() { s.by(1) })
	s.root = &fyne.Container{Layout: sliderRow{}, Objects: []fyne.CanvasObject{s.down, s.rail, s.up}}
	s.ExtendBaseWidget(s)
	return s
}

// SetRange changes the ends and the step; a step of 0 or less is 1.
func (s *Slider) SetRange(least, most, step float64) {
	if step <= 0 {
		step = 1
	}
	s.least, s.most, s.step = least, max(least, most), step
	s.rail.Refresh()
}

// SetValue shows a number from outside; OnValue is not called.
func (s *Slider) SetValue(v float64) {
	if s.value != v {
		s.value = v
		s.rail.Refresh()
	}
}

// Value is the number on show.
func (s *Slider) Value() float64 { return s.value }

func (s *Slider) by(steps float64) {
	s.choose(math.Round(s.value/s.step+steps) * s.step)
}

// choose takes a number of the user's, held within the ends.
func (s *Slider) choose(v float64) {
	v = max(s.least, min(v, s.most))
	if v == s.value || math.IsNaN(v) {
		return
	}
	s.value = v
	s.rail.Refresh()
	if s.OnValue != nil {
		s.OnValue(v)
	}
}

// share is where the number stands between the ends.
func (s *Slider) share() float64 {
	if s.most <= s.least {
		return 0
	}
	return max(0, min((s.value-s.least)/(s.most-s.least), 1))
}

// sliderRow is a button at each end and the rail between them.
type sliderRow struct{}

func (sliderRow) high() float32 { return max(look.Scaled(36), look.Reach(0)) }

func (l sliderRow) heightOf([]fyne.CanvasObject, float32) float32 { return l.high() }

func (l sliderRow) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(3*l.high(), l.high())
}

func (l sliderRow) Layout(o []fyne.CanvasObject, size fyne.Size) {
	h := l.high()
	o[0].Resize(fyne.NewSquareSize(h))
	o[2].Resize(fyne.NewSquareSize(h))
	o[2].Move(fyne.NewPos(size.Width-h, 0))
	o[1].Move(fyne.NewPos(h, 0))
	o[1].Resize(fyne.NewSize(max(0, size.Width-2*h), h))
}

// sliderRail is the line with the knob on it.
type sliderRail struct {
	widget.BaseWidget
	of         *Slider
	line, done *canvas.Rectangle
	knob       *canvas.Circle
	focused    bool
}

var (
	_ fyne.Focusable = (*sliderRail)(nil)
	_ fyne.Draggable = (*sliderRail)(nil)
	_ fyne.Tappable  = (*sliderRail)(nil)
)

func newSliderRail(of *Slider) *sliderRail {
	r := &sliderRail{of: of, line: canvas.NewRectangle(color.Transparent), done: canvas.NewRectangle(color.Transparent), knob: canvas.NewCircle(color.Transparent)}
	r.ExtendBaseWidget(r)
	return r
}

// edge is the room that the knob needs at either end.
func (r *sliderRail) edge() float32 { return look.Scaled(16) }

func (r *sliderRail) chooseAt(x float32) {
	room := r.Size().Width - 2*r.edge()
	if room <= 0 {
		return
	}
	s := r.of
	v := s.least + float64((x-r.edge())/room)*(s.most-s.least)
	s.choose(math.Round(v/s.step) * s.step)
}

// Tapped is for the window library.
func (r *sliderRail) Tapped(e *fyne.PointEvent) {
	r.takeKeys()
	r.chooseAt(e.Position.X)
}

// takeKeys lets the arrows go on from where the finger left it.
func (r *sliderRail) takeKeys() {
	if c := canvasOf(r); c != nil {
		c.Focus(r)
	}
}

// Dragged is for the window library.
func (r *sliderRail) Dragged(e *fyne.DragEvent) { r.chooseAt(e.Position.X) }

// DragEnd is for the window library.
func (r *sliderRail) DragEnd() { r.takeKeys() }

// FocusGained is for the window library.
func (r *sliderRail) FocusGained() { r.focused = true; r.Refresh(); reveal(r) }

// FocusLost is for the window library.
func (r *sliderRail) FocusLost() { r.focused = false; r.Refresh() }

// TypedRune is for the window library.
func (r *sliderRail) TypedRune(rune) {}

// TypedKey is for the window library.
func (r *sliderRail) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyLeft, fyne.KeyDown:
		r.of.by(-1)
	case fyne.KeyRight, fyne.KeyUp:
		r.of.by(1)
	case fyne.KeyPageDown:
		r.of.by(-10)
	case fyne.KeyPageUp:
		r.of.by(10)
	case fyne.KeyHome:
		r.of.choose(r.of.least)
	case fyne.KeyEnd:
		r.of.choose(r.of.most)
	default:
		passKey(r, key)
	}
}

// CreateRenderer is for the window library.
func (r *sliderRail) CreateRenderer() fyne.WidgetRenderer {
	x := &sliderRenderer{r}
	x.Refresh()
	return x
}

type sliderRenderer struct{ r *sliderRail }

func (x *sliderRenderer) Destroy() {}

func (x *sliderRenderer) MinSize() fyne.Size {
	return fyne.NewSize(look.Scaled(60), look.Reach(look.Scaled(36)))
}

func (x *sliderRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.r.line, x.r.done, x.r.knob}
}

func (x *sliderRenderer) Layout(size fyne.Size) {
	r, edge := x.r, x.r.edge()
	thick, radius := look.Scaled(4), look.Scaled(11)
	room := max(0, size.Width-2*edge)
	at := edge + float32(r.of.share())*room
	r.line.Move(fyne.NewPos(edge, (size.Height-thick)/2))
	r.line.Resize(fyne.NewSize(room, thick))
	r.done.Move(r.line.Position())
	r.done.Resize(fyne.NewSize(at-edge, thick))
	r.knob.Move(fyne.NewPos(at-radius, size.Height/2-radius))
	r.knob.Resize(fyne.NewSquareSize(2 * radius))
}

func (x *sliderRenderer) Refresh() {
	r := x.r
	r.line.FillColor, r.line.CornerRadius = theme.Color(theme.ColorNameInputBorder), look.Scaled(2)
	r.done.FillColor, r.done.CornerRadius = theme.Color(theme.ColorNamePrimary), look.Scaled(2)
	r.knob.FillColor, r.knob.StrokeColor, r.knob.StrokeWidth = theme.Color(theme.ColorNamePrimary), look.Color(look.Raised), look.Scaled(2)
	if r.focused {
		r.knob.StrokeColor, r.knob.StrokeWidth = look.Color(look.Plain), look.Scaled(3)
	}
	x.Layout(r.Size())
	for _, o := range x.Objects() {
		o.Refresh()
	}
	canvas.Refresh(r)
}
