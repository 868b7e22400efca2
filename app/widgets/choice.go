package widgets

import (
	"image/color"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Option is one thing to choose: the value kept and the words shown.
type Option struct{ Value, Text string }

// Choice is a list to choose one thing from. Space, Return, Up and Down open it, Left and Right step, a
// letter jumps to the next option that begins with it. What is not known is an option like any other,
// with the value "".
type Choice struct {
	widget.Select

	// OnValue is given every choice of the user's. An error stands under the field.
	OnValue func(value string) error

	options   []Option
	quiet     bool
	focused   bool
	onProblem func(error)
}

// NewChoice has the options, nothing chosen but the one with the value "" if there is one.
func NewChoice(options ...Option) *Choice {
	c := &Choice{options: options}
	c.Select.PlaceHolder = " "
	c.Select.OnChanged = c.changed
	c.ExtendBaseWidget(c)
	c.SetOptionsOf(options...)
	c.SetValue("")
	return c
}

// SetOptionsOf changes what there is to choose from.
func (c *Choice) SetOptionsOf(options ...Option) {
	c.options = options
	c.Select.Options = make([]string, len(options))
	for i, o := range options {
		c.Select.Options[i] = o.Text
	}
	c.Refresh()
}

func (c *Choice) changed(string) {
	if c.quiet || c.OnValue == nil {
		return
	}
	err := c.OnValue(c.Value())
	if c.onProblem != nil {
		c.onProblem(err)
	}
}

// shown tells whether it stands in a window. A screen that was laid out anew while a tap or a key was on its way
// leaves this one behind, and there is nowhere left to open its list over.
func (c *Choice) shown() bool { return windowOf(c) != nil }

// windowOf is canvasOf, but for tests.
var windowOf = canvasOf

// Tapped is for the window library.
func (c *Choice) Tapped(at *fyne.PointEvent) {
	if c.shown() {
		c.Select.Tapped(at)
	}
}

func (c *Choice) watchProblem(fn func(error)) { c.onProblem = fn }

// Value is the value chosen, "" for none.
func (c *Choice) Value() string {
	for _, o := range c.options {
		if o.Text == c.Selected {
			return o.Value
		}
	}
	return ""
}

// SetValue shows a value from outside. A value that is none of the options is shown as it is.
func (c *Choice) SetValue(value string) {
	words := value
	for _, o := range c.options {
		if o.Value == value {
			words = o.Text
		}
	}
	if words == c.Selected {
		return
	}
	c.quiet = true
	c.Selected = words
	c.Refresh()
	c.quiet = false
}

// MinSize has room for the words of every option, up to a limit.
func (c *Choice) MinSize() fyne.Size {
	min := c.Select.MinSize()
	var widest float32
	for _, o := range c.options {
		widest = max(widest, fyne.MeasureText(o.Text, theme.TextSize(), fyne.TextStyle{}).Width)
	}
	min.Width = max(min.Width, fyne.Min(widest, look.Scaled(240))+theme.IconInlineSize()+4*theme.InnerPadding())
	return min
}

// CreateRenderer is for the window library. It draws an edge like a field's.
func (c *Choice) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	r := &choiceRenderer{WidgetRenderer: c.Select.CreateRenderer(), c: c, ring: canvas.NewRectangle(color.Transparent)}
	paintRing(r.ring, c.focused)
	return r
}

type choiceRenderer struct {
	fyne.WidgetRenderer
	c    *Choice
	ring *canvas.Rectangle
}

func (r *choiceRenderer) Objects() []fyne.CanvasObject {
	return append(append([]fyne.CanvasObject{}, r.WidgetRenderer.Objects()...), r.ring)
}

func (r *choiceRenderer) Layout(size fyne.Size) {
	r.WidgetRenderer.Layout(size)
	r.ring.Resize(size)
}

func (r *choiceRenderer) Refresh() {
	r.WidgetRenderer.Refresh()
	paintRing(r.ring, r.c.focused)
}

// FocusLost is for the window library.
func (c *Choice) FocusLost() {
	c.focused = false
	c.Select.FocusLost()
}

// FocusGained is for the window library.
func (c *Choice) FocusGained() {
	c.focused = true
	c.Select.FocusGained()
	reveal(c)
	revealAside(c)
}

// TypedKey is for the window library.
func (c *Choice) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace, fyne.KeyUp, fyne.KeyDown:
		if c.shown() {
			c.Select.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
		}
	case fyne.KeyLeft, fyne.KeyRight:
		c.Select.TypedKey(key)
	case fyne.KeyPageUp, fyne.KeyPageDown:
		scrollKey(c, key)
	default:
		passKey(c, key)
	}
}

// TypedRune is for the window library.
func (c *Choice) TypedRune(r rune) {
	at := c.SelectedIndex()
	for step := 1; step <= len(c.options); step++ {
		i := (at + step) % len(c.options)
		if startsWith(c.options[i].Text, r) {
			c.SetSelectedIndex(i)
			return
		}
	}
}

func startsWith(words string, r rune) bool {
	return strings.HasPrefix(strings.ToLower(words), string(unicode.ToLower(r)))
}
