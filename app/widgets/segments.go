package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Segments shows all options side by side, the chosen one filled and bold: one tap chooses. A tap on the
// chosen one takes the choice back to not known, unless it is Required. On the keyboard it is one stop:
// Left and Right step, a digit chooses by number, a letter by its first letter, Delete takes it back.
type Segments struct {
	widget.BaseWidget

	// OnValue is given every choice of the user's, "" for not known. An error stands under the field.
	OnValue  func(value string) error
	Required bool
	Tall     bool // with room for a thumb

	options   []Option
	value     string
	parts     []*segment
	focused   bool
	width     float32
	onProblem func(error)
}

var _ fyne.Focusable = (*Segments)(nil)

// NewSegments has the options, none of them chosen.
func NewSegments(options ...Option) *Segments {
	s := &Segments{options: options}
	for i := range options {
		s.parts = append(s.parts, newSegment(s, i))
	}
	s.ExtendBaseWidget(s)
	return s
}

func (s *Segments) watchProblem(fn func(error)) { s.onProblem = fn }

// Value is the value chosen, "" for none.
func (s *Segments) Value() string { return s.value }

// SetValue shows a value from outside.
func (s *Segments) SetValue(value string) {
	if s.value != value {
		s.value = value
		s.Refresh()
	}
}

func (s *Segments) index() int {
	for i, o := range s.options {
		if o.Value == s.value {
			return i
		}
	}
	return -1
}

// choose is the user's choice; -1 takes it back.
func (s *Segments) choose(i int) {
	value := ""
	if i >= 0 {
		value = s.options[i].Value
	} else if s.Required {
		return
	}
	if value == s.value {
		return
	}
	s.value = value
	s.Refresh()
	if s.OnValue != nil {
		err := s.OnValue(value)
		if s.onProblem != nil {
			s.onProblem(err)
		}
	}
}

func (s *Segments) tapped(i int) {
	if i == s.index() {
		i = -1
	}
	s.choose(i)
	if c := canvasOf(s); c != nil {
		c.Focus(s)
	}
}

// FocusGained is for the window library.
func (s *Segments) FocusGained() { s.focused = true; s.Refresh(); reveal(s) }

// FocusLost is for the window library.
func (s *Segments) FocusLost() { s.focused = false; s.Refresh() }

// TypedRune is for the window library.
func (s *Segments) TypedRune(r rune) {
	if n := int(r - '1'); n >= 0 && n < len(s.options) {
		s.choose(n)
		return
	}
	at := s.index()
	for step := 1; step <= len(s.options); step++ {
		if i := (at + step) % len(s.options); startsWith(s.options[i].Text, r) {
			s.choose(i)
			return
		}
	}
}

// TypedKey is for the window library.
func (s *Segments) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyRight, fyne.KeyDown:
		s.choose(min(s.index()+1, len(s.options)-1))
	case fyne.KeyLeft, fyne.KeyUp:
		if i := s.index(); i != 0 {
			s.choose(max(i, 1) - 1)
		}
	case fyne.KeyDelete, fyne.KeyBackspace:
		s.choose(-1)
	case fyne.KeySpace:
		if s.index() < 0 {
			s.choose(0)
		}
	case fyne.KeyPageUp, fyne.KeyPageDown:
		scrollKey(s, key)
	default:
		passKey(s, key)
	}
}

func (s *Segments) place(width float32, put func(*segment, fyne.Position, fyne.Size)) float32 {
	gap := look.Scaled(look.Tight)
	var x, y, line float32
	for _, p := range s.parts {
		min := p.MinSize()
		min.Width = fyne.Min(min.Width, max(width, 1))
		if x > 0 && x+min.Width > width {
			x, y = 0, y+line+gap
		}
		if put != nil {
			put(p, fyne.NewPos(x, y), min)
		}
		x += min.Width + gap
		line = min.Height
	}
	return y + line
}

func (s *Segments) heightFor(width float32) float32 { return s.place(width, nil) }

// CreateRenderer is for the window library.
func (s *Segments) CreateRenderer() fyne.WidgetRenderer { return &segmentsRenderer{s} }

type segmentsRenderer struct{ s *Segments }

func (r *segmentsRenderer) Destroy() {}

func (r *segmentsRenderer) Layout(size fyne.Size) {
	r.s.width = size.Width
	r.s.place(size.Width, func(p *segment, at fyne.Position, size fyne.Size) {
		p.Move(at)
		p.Resize(size)
	})
}

func (r *segmentsRenderer) MinSize() fyne.Size {
	var least fyne.Size
	for _, p := range r.s.parts {
		least = least.Max(p.MinSize())
	}
	if r.s.width > 0 {
		least.Height = r.s.heightFor(r.s.width)
	}
	return least
}

func (r *segmentsRenderer) Objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(r.s.parts))
	for i, p := range r.s.parts {
		out[i] = p
	}
	return out
}

func (r *segmentsRenderer) Refresh() {
	for _, p := range r.s.parts {
		p.Refresh()
	}
	r.Layout(r.s.Size())
	canvas.Refresh(r.s)
}

// segment is one option.
type segment struct {
	widget.BaseWidget
	of      *Segments
	at      int
	hovered bool
	ground  *canvas.Rectangle
	words   *canvas.Text
}

var (
	_ fyne.Tappable     = (*segment)(nil)
	_ desktop.Hoverable = (*segment)(nil)
)

func newSegment(of *Segments, at int) *segment {
	p := &segment{of: of, at: at, ground: canvas.NewRectangle(color.Transparent), words: canvas.NewText(of.options[at].Text, color.Black)}
	p.ExtendBaseWidget(p)
	return p
}

func (p *segment) Tapped(*fyne.PointEvent)        { p.of.tapped(p.at) }
func (p *segment) MouseIn(*desktop.MouseEvent)    { p.hovered = true; p.Refresh() }
func (p *segment) MouseMoved(*desktop.MouseEvent) {}
func (p *segment) MouseOut()                      { p.hovered = false; p.Refresh() }
func (p *segment) CreateRenderer() fyne.WidgetRenderer {
	r := &segmentRenderer{p}
	r.Refresh()
	return r
}

type segmentRenderer struct{ p *segment }

func (r *segmentRenderer) Destroy() {}

func (r *segmentRenderer) Layout(size fyne.Size) {
	r.p.ground.Resize(size)
	h := r.p.words.MinSize().Height
	r.p.words.Move(fyne.NewPos(0, (size.Height-h)/2))
	r.p.words.Resize(fyne.NewSize(size.Width, h))
}

// MinSize has room for the bold words, so that choosing does not move the neighbours.
func (r *segmentRenderer) MinSize() fyne.Size {
	words := fyne.MeasureText(r.p.words.Text, theme.TextSize(), fyne.TextStyle{Bold: true})
	if r.p.of.Tall {
		return fyne.NewSize(max(words.Width+look.Scaled(32), look.Scaled(72)), max(words.Height+look.Scaled(14), look.Scaled(46)))
	}
	return fyne.NewSize(max(words.Width+look.Scaled(22), look.Scaled(40)), look.Reach(words.Height+look.Scaled(14)))
}

func (r *segmentRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.p.ground, r.p.words}
}

func (r *segmentRenderer) Refresh() {
	p := r.p
	chosen := p.of.value != "" && p.of.options[p.at].Value == p.of.value
	p.words.TextSize, p.words.Alignment = theme.TextSize(), fyne.TextAlignCenter
	p.words.TextStyle.Bold = chosen
	p.ground.CornerRadius = theme.InputRadiusSize()
	p.ground.StrokeWidth, p.ground.StrokeColor = 1, theme.Color(theme.ColorNameInputBorder)
	switch {
	case chosen:
		p.ground.FillColor = theme.Color(theme.ColorNamePrimary)
		p.ground.StrokeColor = p.ground.FillColor
		p.words.Color = theme.Color(theme.ColorNameForegroundOnPrimary)
	case p.hovered:
		p.ground.FillColor = theme.Color(theme.ColorNameButton)
		p.words.Color = look.Color(look.Plain)
	default:
		p.ground.FillColor = look.Color(look.Raised)
		p.words.Color = look.Color(look.Plain)
	}
	if p.of.focused && (chosen || p.of.index() < 0 && p.at == 0) {
		p.ground.StrokeWidth, p.ground.StrokeColor = 2.5, look.Color(look.Plain)
	}
	p.ground.Refresh()
	p.words.Refresh()
	r.Layout(p.Size())
	canvas.Refresh(p)
}
