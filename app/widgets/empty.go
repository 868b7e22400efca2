package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Empty stands where there is nothing to show yet. It says what to do next, with the buttons to do it.
type Empty struct {
	composite
}

// NewEmpty has a short title, a sentence or two, and what can be done; icon may be nil.
func NewEmpty(icon fyne.Resource, title, words string, actions ...fyne.CanvasObject) *Empty {
	e := &Empty{}
	var parts []fyne.CanvasObject
	if icon != nil {
		parts = append(parts, &fyne.Container{Layout: leading{side: 40}, Objects: []fyne.CanvasObject{widget.NewIcon(icon)}})
	}
	parts = append(parts, newText(title, look.AnswerText, look.Plain, false), NewQuiet(words))
	if len(actions) > 0 {
		parts = append(parts, Flow(look.Gap, actions...))
	}
	e.root = &fyne.Container{Layout: middle{most: 440}, Objects: []fyne.CanvasObject{Column(look.Wide, parts...)}}
	e.ExtendBaseWidget(e)
	return e
}

// leading keeps one object square at the left.
type leading struct{ side float32 }

func (l leading) Layout(objects []fyne.CanvasObject, _ fyne.Size) {
	objects[0].Resize(fyne.NewSquareSize(look.Scaled(l.side)))
}

func (l leading) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSquareSize(look.Scaled(l.side))
}

// middle puts one object a third down, in the middle, no wider than most.
type middle struct{ most float32 }

func (m middle) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	w := min(size.Width-2*look.Scaled(look.Page), look.Scaled(m.most))
	h := heightFor(objects[0], w)
	objects[0].Resize(fyne.NewSize(w, h))
	objects[0].Move(fyne.NewPos((size.Width-w)/2, max(look.Scaled(look.Page), (size.Height-h)/3)))
}

func (m middle) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(min(objects[0].MinSize().Width, look.Scaled(m.most)), look.Scaled(160))
}
