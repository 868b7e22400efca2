package picture

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"gonum.org/v1/plot/vg"

	"skegworth/app/look"
	"skegworth/valuation/money"
)

// The price on a [ProfitCurve] is moved by dragging, by a tap and by keys. Its marker is made of plain
// objects over the drawing, so that moving it draws nothing anew.

// step is by how much one key press moves the price: a round sum, about a hundredth of the range.
func (p *ProfitCurve) step() money.Amount {
	if len(p.points) < 2 {
		return p.currency.PerUnit()
	}
	span := p.currency.Float(p.points[len(p.points)-1].Price - p.points[0].Price)
	return max(p.currency.FromFloat(niceStep(span, 150)), p.currency.PerUnit())
}

// Range is from where to where the curve runs, and by how much the price moves along it.
func (p *ProfitCurve) Range() (least, most, step money.Amount) {
	if n := len(p.points); n > 0 {
		least, most = p.points[0].Price, p.points[n-1].Price
	}
	return least, most, p.step()
}

// choose moves the price by hand: held within the curve, to whole steps.
func (p *ProfitCurve) choose(price float64) {
	n := len(p.points)
	if n < 2 || math.IsNaN(price) {
		return
	}
	step := p.step()
	a := money.Round(price*float64(p.currency.PerUnit())/float64(step)) * step
	a = max(p.points[0].Price, min(a, p.points[n-1].Price))
	if a == p.price {
		return
	}
	p.price = a
	p.moved(p.now())
	if p.OnPrice != nil {
		p.OnPrice(a)
	}
}

// Tapped is for the window library.
func (p *ProfitCurve) Tapped(e *fyne.PointEvent) {
	p.focus()
	p.chooseAt(e.Position)
}

func (p *ProfitCurve) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p); c != nil {
		c.Focus(p)
	}
}

func (p *ProfitCurve) chooseAt(at fyne.Position) {
	if s := p.now(); s != nil {
		p.choose(s.x.value(float64((s.onSheet(at).X - s.data.Min.X) / (s.data.Max.X - s.data.Min.X))))
	}
}

// Dragged is for the window library.
func (p *ProfitCurve) Dragged(e *fyne.DragEvent) {
	if !p.dragging {
		p.dragging = true
		p.focus()
	}
	p.chooseAt(e.Position)
	p.tellPrice()
}

// DragEnd is for the window library.
func (p *ProfitCurve) DragEnd() {
	p.dragging = false
	p.silent()
}

// MouseIn is for the window library.
func (p *ProfitCurve) MouseIn(e *desktop.MouseEvent) { p.MouseMoved(e) }

// MouseMoved is for the window library.
func (p *ProfitCurve) MouseMoved(e *desktop.MouseEvent) {
	if !p.dragging {
		p.Chart.MouseMoved(e)
	}
}

// Cursor is for the window library.
func (p *ProfitCurve) Cursor() desktop.Cursor { return desktop.HResizeCursor }

// MouseOut is for the window library.
func (p *ProfitCurve) MouseOut() {
	if !p.dragging {
		p.silent()
	}
}

// tellPrice reads out the price at the marker, until the mouse or the keyboard goes elsewhere.
func (p *ProfitCurve) tellPrice() {
	p.retell = p.tellPrice
	pt, known := p.pointAt(p.currency.Float(p.price))
	if s := p.now(); s != nil && known {
		p.readout.show(&p.Chart, s, p.say(s, pt))
	} else {
		p.readout.hide()
	}
}

// FocusGained is for the window library.
func (p *ProfitCurve) FocusGained() {
	p.focused = true
	p.moved(p.now())
}

// FocusLost is for the window library.
func (p *ProfitCurve) FocusLost() {
	p.focused = false
	if !p.dragging {
		p.silent()
	}
	p.moved(p.now())
}

// TypedRune is for the window library.
func (p *ProfitCurve) TypedRune(rune) {}

// TypedKey is for the window library.
func (p *ProfitCurve) TypedKey(key *fyne.KeyEvent) {
	n := len(p.points)
	by := 0
	switch key.Name {
	case fyne.KeyLeft:
		by = -1
	case fyne.KeyRight:
		by = 1
	case fyne.KeyDown:
		by = -10
	case fyne.KeyUp:
		by = 10
	case fyne.KeyHome:
		if n > 1 {
			p.choose(p.currency.Float(p.points[0].Price))
		}
	case fyne.KeyEnd:
		if n > 1 {
			p.choose(p.currency.Float(p.points[n-1].Price))
		}
	default:
		if c := fyne.CurrentApp().Driver().CanvasForObject(p); c != nil && c.OnTypedKey() != nil {
			c.OnTypedKey()(key)
		}
		return
	}
	if by != 0 {
		p.choose(p.currency.Float(p.price + money.Amount(by)*p.step()))
	}
	p.tellPrice()
}

// moved puts the marker where the price lies on the curve.
func (p *ProfitCurve) moved(s *sheet) {
	pt, known := p.pointAt(p.currency.Float(p.price))
	if s == nil || !known {
		for _, o := range p.Chart.marker {
			o.Hide()
		}
		return
	}
	at := s.onWidget(s.at(p.currency.Float(pt.Price), p.currency.Float(pt.Expected)))
	top, bottom := s.onWidget(s.data.Max).Y, s.onWidget(s.data.Min).Y
	primary := theme.ColorForWidget(theme.ColorNamePrimary, p)
	p.rule.StrokeColor, p.rule.StrokeWidth = primary, look.Scaled(1.5)
	p.rule.Position1, p.rule.Position2 = fyne.NewPos(at.X, top), fyne.NewPos(at.X, bottom)
	radius := look.Scaled(6)
	p.knob.FillColor, p.knob.StrokeColor, p.knob.StrokeWidth = primary, s.page, look.Scaled(2)
	if p.focused {
		radius = look.Scaled(8)
		p.knob.StrokeColor, p.knob.StrokeWidth = s.words, look.Scaled(2.5)
	}
	p.knob.Move(at.SubtractXY(radius, radius))
	p.knob.Resize(fyne.NewSquareSize(2 * radius))
	p.figure.Text, p.figure.TextSize = p.currency.Whole(p.price), look.Scaled(smallText)
	p.figure.Color = theme.ColorForWidget(theme.ColorNameForegroundOnPrimary, p)
	words := p.figure.MinSize()
	pill := fyne.NewSize(words.Width+look.Scaled(12), look.Scaled(lineText+2))
	x := max(0, min(at.X-pill.Width/2, p.Size().Width-pill.Width))
	y := bottom + look.Scaled(4)
	p.pill.FillColor, p.pill.CornerRadius = primary, look.Scaled(4)
	p.pill.Move(fyne.NewPos(x, y))
	p.pill.Resize(pill)
	p.cover.FillColor = s.page
	from, to := s.labelsUnder(vg.Length(x), vg.Length(x+pill.Width))
	p.cover.Move(fyne.NewPos(float32(from), y))
	p.cover.Resize(fyne.NewSize(float32(to-from), pill.Height))
	p.figure.Move(fyne.NewPos(x+(pill.Width-words.Width)/2, y+(pill.Height-words.Height)/2))
	p.figure.Resize(words)
	for _, o := range p.Chart.marker {
		o.Show()
		o.Refresh()
	}
}
