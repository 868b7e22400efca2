package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Button answers a tap, Space and Return, and comes into view when it gains the keyboard.
type Button struct {
	widget.Button
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

// FocusGained is for the window library.
func (b *Button) FocusGained() {
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
