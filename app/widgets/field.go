package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Field is a label, a control, and under it a hint or the reason why what was typed cannot be used.
type Field struct {
	composite
	Wide bool // takes a whole line of a form

	label   *Text
	control fyne.CanvasObject
	hint    *Text
	problem *fyne.Container
	words   *Text
	aside   fyne.CanvasObject // beside the label, nil for none
}

// NewField puts a label over a control. A control that can have a problem shows it here by itself.
func NewField(label string, control fyne.CanvasObject) *Field {
	shown := control
	if c, isCheck := control.(*Check); isCheck {
		shown = outdent(c)
	}
	f := &Field{
		label: newText(label, theme.SizeNameText, look.Plain, false), control: control,
		hint: NewCaption(""), words: newText("", theme.SizeNameCaptionText, look.Bad, false),
	}
	f.label.Hidden = label == ""
	f.hint.Hidden = true
	f.problem = &fyne.Container{Layout: smallNote{}, Hidden: true, Objects: []fyne.CanvasObject{
		widget.NewIcon(theme.NewColoredResource(theme.ErrorIcon(), look.Bad)), f.words}}
	f.root = Column(look.Tight, f.label, shown, f.problem, f.hint)
	f.ExtendBaseWidget(f)
	if c, can := control.(interface{ watchProblem(func(error)) }); can {
		c.watchProblem(f.SetProblem)
	}
	return f
}

// WithHint adds a line of help and returns the field.
func (f *Field) WithHint(words string) *Field {
	f.SetHint(words)
	return f
}

// Spanning makes the field take a whole line of a form and returns it.
func (f *Field) Spanning() *Field {
	f.Wide = true
	return f
}

// SetHint changes the line of help; "" takes it away.
func (f *Field) SetHint(words string) {
	if f.hint.Text() == words {
		return
	}
	f.hint.SetText(words)
	f.hint.Hidden = words == "" || f.problem.Visible()
	f.Refresh()
	reflow(f)
}

// setAside puts a small control beside the label. The keyboard comes to it before the field's own control, so
// that one that shows only once the field is filled never stands in the way of typing from field to field.
func (f *Field) setAside(o fyne.CanvasObject) {
	f.aside = o
	parts := f.root.Objects
	f.root.Layout = labelled{f.root.Layout.(*column), f}
	f.root.Objects = append([]fyne.CanvasObject{o}, parts...)
}

// labelled is the column of a field, with a control beside its label.
type labelled struct {
	*column
	f *Field
}

func (l labelled) heightOf(o []fyne.CanvasObject, width float32) float32 {
	return l.column.heightOf(o[1:], width)
}

func (l labelled) Layout(o []fyne.CanvasObject, size fyne.Size) {
	l.column.Layout(o[1:], size)
	aside, label := o[0], l.f.label
	if !aside.Visible() {
		return
	}
	least := aside.MinSize()
	words := fyne.MeasureText(label.words, look.Size(label.size), label.style)
	x := min(words.Width+look.Scaled(look.Gap), size.Width-least.Width)
	aside.Move(fyne.NewPos(max(0, x), max(0, (words.Height-least.Height)/2)))
	aside.Resize(least)
}

func (l labelled) MinSize(o []fyne.CanvasObject) fyne.Size { return l.column.MinSize(o[1:]) }

// SetLabel changes the label.
func (f *Field) SetLabel(words string) { f.label.SetText(words) }

// SetProblem shows why the value cannot be used, in place of the hint; nil takes it away.
func (f *Field) SetProblem(err error) {
	words := ErrorText(err)
	if words == f.words.Text() {
		return
	}
	f.words.SetText(words)
	f.problem.Hidden = words == ""
	f.hint.Hidden = f.hint.Text() == "" || words != ""
	f.Refresh()
	reflow(f)
}

// Problem is the reason on show, "" for none.
func (f *Field) Problem() string { return f.words.Text() }

// Control is the control.
func (f *Field) Control() fyne.CanvasObject { return f.control }

// NewForm lays fields out in up to two columns, one where it is narrow.
func NewForm(fields ...fyne.CanvasObject) *fyne.Container {
	return Columns(230, 2, look.Wide, fields...)
}

// smallNote is a note in small text.
type smallNote struct{}

func (smallNote) icon() float32 { return theme.CaptionTextSize() * 1.3 }

func (n smallNote) heightOf(o []fyne.CanvasObject, width float32) float32 {
	return max(n.icon(), heightFor(o[1], width-n.icon()-look.Scaled(look.Tight)))
}

func (n smallNote) Layout(o []fyne.CanvasObject, size fyne.Size) {
	left := n.icon() + look.Scaled(look.Tight)
	o[0].Resize(fyne.NewSquareSize(n.icon()))
	o[0].Move(fyne.NewPos(0, 0))
	o[1].Move(fyne.NewPos(left, 0))
	o[1].Resize(fyne.NewSize(size.Width-left, size.Height))
}

func (n smallNote) MinSize(o []fyne.CanvasObject) fyne.Size {
	min := o[1].MinSize()
	return fyne.NewSize(min.Width+n.icon()+look.Scaled(look.Tight), max(n.icon(), min.Height))
}
