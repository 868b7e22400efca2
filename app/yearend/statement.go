package yearend

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// statement lists names with their figures at the right, as accounts do: a rule over what closes the lines
// above it. Names wrap where it is narrow.
type statement struct {
	widget.BaseWidget
	lines []*statementLine
}

type statementLine struct {
	name   *widgets.Text
	figure *canvas.Text
	rule   *canvas.Rectangle
	sum    bool
}

func newStatement() *statement {
	s := &statement{}
	s.ExtendBaseWidget(s)
	return s
}

// set shows the lines in place of those before.
func (s *statement) set(lines []shop.YearLine) {
	s.lines = s.lines[:0]
	for _, l := range lines {
		figure := canvas.NewText(l.Figure, nil)
		figure.Alignment = fyne.TextAlignTrailing
		figure.TextStyle.Bold = l.Sum
		s.lines = append(s.lines, &statementLine{widgets.NewText(widgets.Say(l.Name)), figure, canvas.NewRectangle(nil), l.Sum})
	}
	s.Refresh()
}

// mostWidth keeps figures near their names in a wide window, at 100 %.
const mostWidth = 640

// CreateRenderer is for the window library.
func (s *statement) CreateRenderer() fyne.WidgetRenderer {
	r := &statementRenderer{s}
	r.Refresh()
	return r
}

type statementRenderer struct{ s *statement }

func (r *statementRenderer) Destroy() {}

func (r *statementRenderer) Objects() []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, l := range r.s.lines {
		out = append(out, l.name, l.figure, l.rule)
	}
	return out
}

// place lays the lines out in a width and tells how high they are together.
func (r *statementRenderer) place(width float32) float32 {
	width = min(width, look.Scaled(mostWidth))
	var figures float32
	for _, l := range r.s.lines {
		figures = max(figures, l.figure.MinSize().Width)
	}
	gap, between := look.Scaled(look.Wide), look.Scaled(3)
	room := max(width-figures-gap, look.Scaled(80))
	var y float32
	for _, l := range r.s.lines {
		if l.sum {
			y += between
			l.rule.Move(fyne.NewPos(width-figures, y))
			l.rule.Resize(fyne.NewSize(figures, 1))
			y += between
		}
		if l.name.Size().Width != room {
			l.name.Resize(fyne.NewSize(room, l.name.Size().Height))
		}
		h := max(l.name.MinSize().Height, l.figure.MinSize().Height)
		l.name.Move(fyne.NewPos(0, y))
		l.name.Resize(fyne.NewSize(room, h))
		l.figure.Move(fyne.NewPos(width-figures, y))
		l.figure.Resize(fyne.NewSize(figures, l.figure.MinSize().Height))
		y += h + between
		if l.sum {
			y += 2 * between
		}
	}
	return y
}

func (r *statementRenderer) Layout(size fyne.Size) { r.place(size.Width) }

// MinSize is as high as the lines are at the present width; in a width not known yet, as single lines.
func (r *statementRenderer) MinSize() fyne.Size {
	width := r.s.Size().Width
	if width <= 0 {
		width = look.Scaled(mostWidth)
	}
	return fyne.NewSize(look.Scaled(200), r.place(width))
}

func (r *statementRenderer) Refresh() {
	for _, l := range r.s.lines {
		l.figure.Color, l.figure.TextSize = look.Color(look.Plain), theme.TextSize()
		l.rule.FillColor, l.rule.Hidden = look.Color(look.Plain), !l.sum
		l.name.Refresh()
	}
	r.place(r.s.Size().Width)
	canvas.Refresh(r.s)
}
