package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/valuation/say"
)

// Warnings lists what a figure must not be read without. Each stands beside a sign, so that it is never
// told by colour alone; with none the list takes no room.
type Warnings struct {
	composite
}

// NewWarnings is an empty list.
func NewWarnings() *Warnings {
	w := &Warnings{}
	w.root = Column(look.Tight)
	w.root.Hidden = true
	w.ExtendBaseWidget(w)
	return w
}

// Set shows the sentences in place of those before. Whoever shows the list lays itself out anew.
func (w *Warnings) Set(all []say.Sentence) {
	w.root.Objects = nil
	for _, words := range SayAll(all) {
		w.root.Add(NewNote(theme.WarningIcon(), look.Warn, WholeSentence(words)))
	}
	w.root.Hidden = len(w.root.Objects) == 0
	w.Refresh()
}

func (w *Warnings) heightFor(width float32) float32 {
	if w.root.Hidden {
		return 0
	}
	return w.composite.heightFor(width)
}

// MinSize is nothing while there are no warnings.
func (w *Warnings) MinSize() fyne.Size {
	if w.root.Hidden {
		return fyne.Size{}
	}
	return w.root.MinSize()
}

// NewNote is a sign and a sentence; the sign takes the colour, the words stay easy to read.
func NewNote(sign fyne.Resource, color fyne.ThemeColorName, words string) *fyne.Container {
	icon := widget.NewIcon(theme.NewColoredResource(sign, color))
	return &fyne.Container{Layout: note{}, Objects: []fyne.CanvasObject{icon, NewText(words)}}
}

// note lays out a sign and, beside it, words that wrap.
type note struct{}

func (note) sizes() (icon, left float32) {
	icon = theme.IconInlineSize()
	return icon, icon + look.Scaled(look.Gap)
}

func (n note) heightOf(o []fyne.CanvasObject, width float32) float32 {
	icon, left := n.sizes()
	return max(icon, heightFor(o[1], width-left))
}

func (n note) Layout(o []fyne.CanvasObject, size fyne.Size) {
	icon, left := n.sizes()
	o[0].Resize(fyne.NewSquareSize(icon))
	o[0].Move(fyne.NewPos(0, 0))
	o[1].Move(fyne.NewPos(left, (icon-fyne.MeasureText("Ag", theme.TextSize(), fyne.TextStyle{}).Height)/2))
	o[1].Resize(fyne.NewSize(size.Width-left, heightFor(o[1], size.Width-left)))
}

func (n note) MinSize(o []fyne.CanvasObject) fyne.Size {
	icon, left := n.sizes()
	min := o[1].MinSize()
	return fyne.NewSize(min.Width+left, max(icon, min.Height))
}
