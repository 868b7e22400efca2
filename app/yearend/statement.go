package yearend

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// statement lists names with their figures at the right, as accounts do: a rule over what closes the lines
// above it. Names wrap where it is narrow. A line opens what its figure is made of by a tap; the keyboard has
// one stop here, Up and Down go from line to line, Return or Space opens.
type statement struct {
	widget.BaseWidget

	onOpen func(shop.YearLine)
	lines  []*statementLine
	ground *canvas.Rectangle
	at     int // the line the keyboard is on
	over   int // the line the mouse is on, -1 for none

	focused bool
}

type statementLine struct {
	shop.YearLine
	name        *widgets.Text
	figure      *canvas.Text
	rule        *canvas.Rectangle
	top, bottom float32
}

var (
	_ fyne.Focusable     = (*statement)(nil)
	_ fyne.Tappable      = (*statement)(nil)
	_ desktop.Hoverable  = (*statement)(nil)
	_ desktop.Cursorable = (*statement)(nil)
)

func newStatement(p *Screen) *statement {
	s := &statement{ground: canvas.NewRectangle(nil), over: -1, onOpen: p.openLine}
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
		s.lines = append(s.lines, &statementLine{YearLine: l, name: widgets.NewText(widgets.Say(l.Name)), figure: figure, rule: canvas.NewRectangle(nil)})
	}
	s.at, s.over = min(s.at, max(0, len(s.lines)-1)), -1
	s.Refresh()
}

// open shows what makes the figure of a line.
func (s *statement) open(i int) {
	if i >= 0 && i < len(s.lines) && s.lines[i].Opens() {
		s.onOpen(s.lines[i].YearLine)
	}
}

// under is the line at a height, -1 where there is none that opens.
func (s *statement) under(at fyne.Position) int {
	if at.X > min(s.Size().Width, look.Scaled(mostWidth)) {
		return -1
	}
	for i, l := range s.lines {
		if at.Y >= l.top && at.Y < l.bottom && l.Opens() {
			return i
		}
	}
	return -1
}

// step moves the keyboard to the next line that opens and tells whether there is one.
func (s *statement) step(by int) bool {
	for i := s.at + by; i >= 0 && i < len(s.lines); i += by {
		if s.lines[i].Opens() {
			s.at = i
			s.Refresh()
			widgets.RevealPart(s, s.lines[i].top, s.lines[i].bottom)
			return true
		}
	}
	return false
}

// Tapped is for the window library.
func (s *statement) Tapped(e *fyne.PointEvent) {
	i := s.under(e.Position)
	if i < 0 {
		return
	}
	s.at = i
	if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil {
		c.Focus(s)
	}
	s.open(i)
}

// MouseIn is for the window library.
func (s *statement) MouseIn(e *desktop.MouseEvent) { s.MouseMoved(e) }

// MouseMoved is for the window library.
func (s *statement) MouseMoved(e *desktop.MouseEvent) {
	if i := s.under(e.Position); i != s.over {
		s.over = i
		s.Refresh()
	}
}

// MouseOut is for the window library.
func (s *statement) MouseOut() {
	s.over = -1
	s.Refresh()
}

// Cursor is for the window library.
func (s *statement) Cursor() desktop.Cursor {
	if s.over >= 0 {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// FocusGained is for the window library.
func (s *statement) FocusGained() {
	s.focused = true
	if s.at < len(s.lines) && !s.lines[s.at].Opens() {
		s.step(1)
	}
	s.Refresh()
	if s.at < len(s.lines) {
		widgets.RevealPart(s, s.lines[s.at].top, s.lines[s.at].bottom)
	}
}

// FocusLost is for the window library.
func (s *statement) FocusLost() {
	s.focused = false
	s.Refresh()
}

// TypedRune is for the window library.
func (s *statement) TypedRune(rune) {}

// TypedKey is for the window library.
func (s *statement) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyDown:
		s.step(1)
	case fyne.KeyUp:
		s.step(-1)
	case fyne.KeyHome:
		s.at = -1
		s.step(1)
	case fyne.KeyEnd:
		s.at = len(s.lines)
		s.step(-1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		s.open(s.at)
	default:
		widgets.PassKey(s, key)
	}
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
	out := []fyne.CanvasObject{r.s.ground}
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
		if l.Sum {
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
		l.top, l.bottom = y-between/2, y+h+between/2
		y += h + between
		if l.Sum {
			y += 2 * between
		}
	}
	r.mark(width)
	return y
}

// mark puts a ground under the line that a tap or Return would open.
func (r *statementRenderer) mark(width float32) {
	s, at := r.s, r.s.over
	if s.focused && (at < 0 || at == s.at) {
		at = s.at
	}
	s.ground.Hidden = at < 0 || at >= len(s.lines) || !s.lines[at].Opens()
	if s.ground.Hidden {
		return
	}
	s.ground.CornerRadius = theme.InputRadiusSize()
	s.ground.FillColor = theme.Color(theme.ColorNameHover)
	if s.focused && at == s.at {
		s.ground.FillColor = theme.Color(theme.ColorNameFocus)
	}
	l, out := s.lines[at], look.Scaled(look.Tight)
	s.ground.Move(fyne.NewPos(-out, l.top))
	s.ground.Resize(fyne.NewSize(width+2*out, l.bottom-l.top))
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
		l.rule.FillColor, l.rule.Hidden = look.Color(look.Plain), !l.Sum
		l.name.Refresh()
	}
	r.place(r.s.Size().Width)
	canvas.Refresh(r.s)
}
