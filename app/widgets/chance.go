package widgets

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/valuation"
)

// ChanceEntry is a chance in tenths, tapped: ten squares, "two in ten" beside them. A tap on the last
// filled square empties it, so that 0 can be reached. Left and Right step, digits set it.
type ChanceEntry struct {
	widget.BaseWidget

	// OnValue is given the chance, 0 to 1. An error stands under the field.
	OnValue func(chance float64) error

	tenths    int
	focused   bool
	squares   []*canvas.Rectangle
	words     *canvas.Text
	frame     *canvas.Rectangle
	onProblem func(error)
}

var (
	_ fyne.Focusable = (*ChanceEntry)(nil)
	_ fyne.Tappable  = (*ChanceEntry)(nil)
)

// NewChanceEntry starts at none in ten.
func NewChanceEntry() *ChanceEntry {
	c := &ChanceEntry{words: canvas.NewText("", color.Black), frame: canvas.NewRectangle(color.Transparent)}
	for range 10 {
		c.squares = append(c.squares, canvas.NewRectangle(color.Transparent))
	}
	c.ExtendBaseWidget(c)
	return c
}

func (c *ChanceEntry) watchProblem(fn func(error)) { c.onProblem = fn }

// ChanceText is a chance in words: "two in ten".
func ChanceText(chance float64) string {
	return lang.X("chance.tenths", "{{.N}} in ten", map[string]any{"N": Say(valuation.Count(tenthsOf(chance)))})
}

// chanceWords is the room that the longest of the words take.
func chanceWords() fyne.Size {
	var room fyne.Size
	for n := range 11 {
		room = room.Max(fyne.MeasureText(ChanceText(float64(n)/10), theme.TextSize(), fyne.TextStyle{}))
	}
	return room
}

func tenthsOf(chance float64) int {
	if math.IsNaN(chance) {
		return 0
	}
	return int(math.Round(max(0, min(chance, 1)) * 10))
}

// Value is the chance, 0 to 1.
func (c *ChanceEntry) Value() float64 { return float64(c.tenths) / 10 }

// SetValue shows a chance from outside, rounded to tenths.
func (c *ChanceEntry) SetValue(chance float64) {
	if n := tenthsOf(chance); n != c.tenths {
		c.tenths = n
		c.Refresh()
	}
}

func (c *ChanceEntry) set(n int) {
	n = max(0, min(n, 10))
	if n == c.tenths {
		return
	}
	c.tenths = n
	c.Refresh()
	if c.OnValue != nil {
		err := c.OnValue(c.Value())
		if c.onProblem != nil {
			c.onProblem(err)
		}
	}
}

// step is the distance between squares: less than usual where the field is narrow.
func (c *ChanceEntry) step() float32 {
	room := c.Size().Width - chanceWords().Width - look.Scaled(look.Gap+look.Tight)
	return max(look.Scaled(12), min(look.Scaled(24), room/10))
}

// Tapped is for the window library.
func (c *ChanceEntry) Tapped(e *fyne.PointEvent) {
	if canvas := canvasOf(c); canvas != nil {
		canvas.Focus(c)
	}
	n := int((e.Position.X-look.Scaled(look.Tight))/c.step()) + 1
	if n > 10 {
		return // on the words
	}
	if n == c.tenths {
		n--
	}
	c.set(n)
}

// FocusGained is for the window library.
func (c *ChanceEntry) FocusGained() { c.focused = true; c.Refresh(); reveal(c) }

// FocusLost is for the window library.
func (c *ChanceEntry) FocusLost() { c.focused = false; c.Refresh() }

// TypedRune is for the window library.
func (c *ChanceEntry) TypedRune(r rune) {
	if r >= '0' && r <= '9' {
		c.set(int(r - '0'))
	}
}

// TypedKey is for the window library.
func (c *ChanceEntry) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyRight, fyne.KeyUp:
		c.set(c.tenths + 1)
	case fyne.KeyLeft, fyne.KeyDown:
		c.set(c.tenths - 1)
	case fyne.KeyHome, fyne.KeyDelete:
		c.set(0)
	case fyne.KeyEnd:
		c.set(10)
	case fyne.KeyPageUp, fyne.KeyPageDown:
		scrollKey(c, key)
	default:
		passKey(c, key)
	}
}

// CreateRenderer is for the window library.
func (c *ChanceEntry) CreateRenderer() fyne.WidgetRenderer {
	r := &chanceRenderer{c}
	r.Refresh()
	return r
}

type chanceRenderer struct{ c *ChanceEntry }

func (r *chanceRenderer) Destroy() {}

func (r *chanceRenderer) Layout(size fyne.Size) {
	c, step, left := r.c, r.c.step(), look.Scaled(look.Tight)
	side := step * 5 / 6
	for i, s := range c.squares {
		s.Resize(fyne.NewSquareSize(side))
		s.Move(fyne.NewPos(left+float32(i)*step, (size.Height-side)/2))
	}
	words := c.words.MinSize()
	c.words.Move(fyne.NewPos(left+10*step+look.Scaled(look.Gap), (size.Height-words.Height)/2))
	c.words.Resize(words)
	c.frame.Resize(fyne.NewSize(10*step+left, size.Height))
}

func (r *chanceRenderer) MinSize() fyne.Size {
	words := chanceWords()
	return fyne.NewSize(look.Scaled(120+look.Gap+look.Tight)+words.Width, look.Reach(words.Height+look.Scaled(14)))
}

func (r *chanceRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.c.frame}
	for _, s := range r.c.squares {
		out = append(out, s)
	}
	return append(out, r.c.words)
}

func (r *chanceRenderer) Refresh() {
	c := r.c
	for i, s := range c.squares {
		s.CornerRadius, s.StrokeWidth = look.Scaled(4), 1
		s.StrokeColor, s.FillColor = theme.Color(theme.ColorNameInputBorder), look.Color(look.Raised)
		if i < c.tenths {
			s.FillColor = theme.Color(theme.ColorNamePrimary)
			s.StrokeColor = s.FillColor
		}
		s.Refresh()
	}
	c.words.Text, c.words.TextSize, c.words.Color = ChanceText(c.Value()), theme.TextSize(), look.Color(look.Plain)
	c.words.Refresh()
	c.frame.CornerRadius, c.frame.StrokeWidth = theme.InputRadiusSize(), 0
	if c.focused {
		c.frame.StrokeWidth, c.frame.StrokeColor = 2, theme.Color(theme.ColorNamePrimary)
	}
	c.frame.Refresh()
	r.Layout(c.Size())
	canvas.Refresh(c)
}
