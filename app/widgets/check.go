package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Check is a box to tick. Space and Return tick it.
type Check struct {
	widget.Check

	// OnValue is given every tick of the user's.
	OnValue func(on bool)

	quiet bool
}

// NewCheck is not ticked.
func NewCheck(words string) *Check {
	c := &Check{}
	c.Text = words
	c.Check.OnChanged = func(on bool) {
		if !c.quiet && c.OnValue != nil {
			c.OnValue(on)
		}
	}
	c.ExtendBaseWidget(c)
	return c
}

// SetValue shows a value from outside.
func (c *Check) SetValue(on bool) {
	c.quiet = true
	c.SetChecked(on)
	c.quiet = false
}

// FocusGained is for the window library.
func (c *Check) FocusGained() {
	c.Check.FocusGained()
	reveal(c)
}

// TypedKey is for the window library.
func (c *Check) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		c.SetChecked(!c.Checked)
	case fyne.KeyPageUp, fyne.KeyPageDown:
		scrollKey(c, key)
	case fyne.KeyEscape:
		passKey(c, key)
	default:
		c.Check.TypedKey(key)
	}
}

// outdent moves a box to tick left by the room it keeps around itself, so that it stands under the edge
// of the fields above it.
func outdent(c *Check) *fyne.Container {
	return &fyne.Container{Layout: outdented{}, Objects: []fyne.CanvasObject{c}}
}

type outdented struct{}

func (outdented) room() float32 { return theme.InnerPadding() / 2 }

func (l outdented) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.NewPos(-l.room()*1.5, -l.room()))
	o[0].Resize(size.AddWidthHeight(l.room(), 2*l.room()))
}

func (l outdented) MinSize(o []fyne.CanvasObject) fyne.Size {
	return o[0].MinSize().SubtractWidthHeight(l.room(), 2*l.room())
}
