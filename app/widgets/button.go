package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Button answers a tap, Space and Return, and comes into view when it gains the keyboard.
type Button struct {
	widget.Button
	focused bool
}

// NewButton has words; icon may be nil.
func NewButton(words string, icon fyne.Resource, tapped func()) *Button {
	b := &Button{}
	b.Text, b.Icon, b.OnTapped = words, icon, tapped
	b.ExtendBaseWidget(b)
	return b
}

// NewMainButton is the one button of a row that is most likely wanted.
func NewMainButton(words string, icon fyne.Resource, tapped func()) *Button {
	b := NewButton(words, icon, tapped)
	b.Importance = widget.HighImportance
	return b
}

// NewQuietButton has no face of its own until the mouse or the keyboard is on it.
func NewQuietButton(words string, icon fyne.Resource, tapped func()) *Button {
	b := NewButton(words, icon, tapped)
	b.Importance = widget.LowImportance
	return b
}

// CreateRenderer is for the window library. It adds a ring while the button has the keyboard.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	b.ExtendBaseWidget(b)
	r := &buttonRenderer{WidgetRenderer: b.Button.CreateRenderer(), b: b, ring: canvas.NewRectangle(color.Transparent)}
	r.paint()
	return r
}

type buttonRenderer struct {
	fyne.WidgetRenderer
	b    *Button
	ring *canvas.Rectangle
}

func (r *buttonRenderer) Objects() []fyne.CanvasObject {
	return append(append([]fyne.CanvasObject{}, r.WidgetRenderer.Objects()...), r.ring)
}

func (r *buttonRenderer) Layout(size fyne.Size) {
	r.WidgetRenderer.Layout(size)
	r.ring.Resize(size)
}

func (r *buttonRenderer) Refresh() {
	r.WidgetRenderer.Refresh()
	r.paint()
}

func (r *buttonRenderer) paint() {
	r.ring.Hidden = !r.b.focused
	paintRing(r.ring, true)
}

// paintRing draws the edge of a control: plain, or strong while it has the keyboard.
func paintRing(ring *canvas.Rectangle, focused bool) {
	ring.StrokeColor, ring.StrokeWidth = theme.Color(theme.ColorNameInputBorder), 1
	if focused {
		ring.StrokeColor, ring.StrokeWidth = look.Color(look.Plain), 2
	}
	ring.CornerRadius = theme.InputRadiusSize()
	ring.Refresh()
}

// MinSize leaves some room beside the words.
func (b *Button) MinSize() fyne.Size {
	b.ExtendBaseWidget(b)
	least := b.Button.MinSize()
	if b.Text != "" {
		least.Width += look.Scaled(10)
	}
	return least
}

// FocusLost is for the window library.
func (b *Button) FocusLost() {
	b.focused = false
	b.Button.FocusLost()
}

// FocusGained is for the window library.
func (b *Button) FocusGained() {
	b.focused = true
	b.Button.FocusGained()
	reveal(b)
}

// TypedKey is for the window library.
func (b *Button) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		b.Tapped(nil)
	case fyne.KeyPageUp, fyne.KeyPageDown:
		scrollKey(b, key)
	default:
		passKey(b, key)
	}
}
