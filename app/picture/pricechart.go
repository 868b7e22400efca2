package picture

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
	"skegworth/valuation/money"
)

// PriceChart is what charts over a price have in common: a marker at one price that is moved by dragging, by
// a tap and by keys. The marker is made of plain objects over the drawing, so that moving it draws nothing
// anew. It is not used by itself.
type PriceChart struct {
	Chart

	// OnPrice is called when the user moves the price.
	OnPrice func(money.Amount)

	currency money.Currency
	priced   priced
	price    money.Amount
	focused  bool
	dragging bool

	rule   *canvas.Line
	knobs  []*canvas.Circle
	cover  *canvas.Rectangle // over the labels of the axis that the figure would lie on in part
	pill   *canvas.Rectangle
	figure *canvas.Text
}

// priced is what a kind of chart over a price adds.
type priced interface {
	subject
	// ends are the prices that the drawing runs between, false when there is nothing to choose from.
	ends() (least, most money.Amount, ok bool)
	// levels are how high the marker's knobs stand at a price on the upright axis; none outside the drawing.
	levels(price float64) []float64
	// tellPriced reads out a price.
	tellPriced(s *sheet, price float64) (readout, bool)
}

// startPriced must be called by each kind of chart before its first use, with how many knobs its marker has.
func (p *PriceChart) startPriced(of priced, c money.Currency, knobs int) {
	p.priced, p.currency = of, c
	p.rule, p.cover, p.pill, p.figure = canvas.NewLine(nil), canvas.NewRectangle(nil), canvas.NewRectangle(nil), canvas.NewText("", nil)
	marker := []fyne.CanvasObject{p.rule}
	for range knobs {
		k := canvas.NewCircle(nil)
		p.knobs = append(p.knobs, k)
		marker = append(marker, k)
	}
	p.start(of, append(marker, p.cover, p.pill, p.figure)...)
}

// SetPrice moves the marker from outside; OnPrice is not called.
func (p *PriceChart) SetPrice(a money.Amount) {
	p.price = a
	p.moved(p.now())
}

// Price is where the marker stands.
func (p *PriceChart) Price() money.Amount { return p.price }

// step is by how much one key press moves the price: a round sum, about a hundredth of the range.
func (p *PriceChart) step() money.Amount {
	least, most, ok := p.priced.ends()
	if !ok {
		return p.currency.PerUnit()
	}
	return max(p.currency.FromFloat(niceStep(p.currency.Float(most-least), 150)), p.currency.PerUnit())
}

// Range is from where to where the curve runs, and by how much the price moves along it.
func (p *PriceChart) Range() (least, most, step money.Amount) {
	least, most, _ = p.priced.ends()
	return least, most, p.step()
}

// choose moves the price by hand: held within the curve, to whole steps.
func (p *PriceChart) choose(price float64) {
	least, most, ok := p.priced.ends()
	if !ok || math.IsNaN(price) {
		return
	}
	step := p.step()
	a := money.Round(price*float64(p.currency.PerUnit())/float64(step)) * step
	a = max(least, min(a, most))
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
func (p *PriceChart) Tapped(e *fyne.PointEvent) {
	p.focus()
	p.chooseAt(e.Position)
}

func (p *PriceChart) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(p.subject); c != nil {
		c.Focus(p.subject.(fyne.Focusable))
	}
}

func (p *PriceChart) chooseAt(at fyne.Position) {
	if s := p.now(); s != nil {
		p.choose(s.x.value(float64((s.onSheet(at).X - s.data.Min.X) / (s.data.Max.X - s.data.Min.X))))
	}
}

// Dragged is for the window library.
func (p *PriceChart) Dragged(e *fyne.DragEvent) {
	if !p.dragging {
		p.dragging = true
		p.focus()
	}
	p.chooseAt(e.Position)
	p.tellPrice()
}

// DragEnd is for the window library.
func (p *PriceChart) DragEnd() {
	p.dragging = false
	p.silent()
}

// MouseIn is for the window library.
func (p *PriceChart) MouseIn(e *desktop.MouseEvent) { p.MouseMoved(e) }

// MouseMoved is for the window library.
func (p *PriceChart) MouseMoved(e *desktop.MouseEvent) {
	if !p.dragging {
		p.Chart.MouseMoved(e)
	}
}

// Cursor is for the window library.
func (p *PriceChart) Cursor() desktop.Cursor { return desktop.HResizeCursor }

// MouseOut is for the window library.
func (p *PriceChart) MouseOut() {
	if !p.dragging {
		p.silent()
	}
}

func (p *PriceChart) tell(s *sheet, at vg.Point) (readout, bool) {
	if at.Y > s.data.Max.Y {
		return readout{}, false
	}
	return p.priced.tellPriced(s, s.x.value(float64((at.X-s.data.Min.X)/(s.data.Max.X-s.data.Min.X))))
}

// tellPrice reads out the price at the marker, until the mouse or the keyboard goes elsewhere.
func (p *PriceChart) tellPrice() {
	p.retell = p.tellPrice
	if s := p.now(); s != nil {
		if r, known := p.priced.tellPriced(s, p.currency.Float(p.price)); known {
			p.readout.show(&p.Chart, s, r)
			return
		}
	}
	p.readout.hide()
}

// FocusGained is for the window library.
func (p *PriceChart) FocusGained() {
	p.focused = true
	p.moved(p.now())
}

// FocusLost is for the window library.
func (p *PriceChart) FocusLost() {
	p.focused = false
	if !p.dragging {
		p.silent()
	}
	p.moved(p.now())
}

// TypedRune is for the window library.
func (p *PriceChart) TypedRune(rune) {}

// TypedKey is for the window library.
func (p *PriceChart) TypedKey(key *fyne.KeyEvent) {
	least, most, ok := p.priced.ends()
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
		if ok {
			p.choose(p.currency.Float(least))
		}
	case fyne.KeyEnd:
		if ok {
			p.choose(p.currency.Float(most))
		}
	default:
		if c := fyne.CurrentApp().Driver().CanvasForObject(p.subject); c != nil && c.OnTypedKey() != nil {
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
func (p *PriceChart) moved(s *sheet) {
	price := p.currency.Float(p.price)
	levels := p.priced.levels(price)
	if s == nil || len(levels) == 0 {
		for _, o := range p.Chart.marker {
			o.Hide()
		}
		return
	}
	w := p.subject
	x := s.onWidget(s.at(price, 0)).X
	top, bottom := s.onWidget(s.data.Max).Y, s.onWidget(s.data.Min).Y
	primary := theme.ColorForWidget(theme.ColorNamePrimary, w)
	p.rule.StrokeColor, p.rule.StrokeWidth = primary, look.Scaled(1.5)
	p.rule.Position1, p.rule.Position2 = fyne.NewPos(x, top), fyne.NewPos(x, bottom)
	radius, edge, thick := look.Scaled(6), s.page, look.Scaled(2)
	if p.focused {
		radius, edge, thick = look.Scaled(8), s.words, look.Scaled(2.5)
	}
	for i, k := range p.knobs {
		at := s.onWidget(s.at(price, levels[min(i, len(levels)-1)]))
		k.FillColor, k.StrokeColor, k.StrokeWidth = primary, edge, thick
		k.Move(at.SubtractXY(radius, radius))
		k.Resize(fyne.NewSquareSize(2 * radius))
	}
	p.figure.Text, p.figure.TextSize = p.currency.Whole(p.price), look.Scaled(smallText)
	p.figure.Color = theme.ColorForWidget(theme.ColorNameForegroundOnPrimary, w)
	words := p.figure.MinSize()
	pill := fyne.NewSize(words.Width+look.Scaled(12), look.Scaled(lineText+2))
	left := max(0, min(x-pill.Width/2, p.Size().Width-pill.Width))
	y := bottom + look.Scaled(4)
	p.pill.FillColor, p.pill.CornerRadius = primary, look.Scaled(4)
	p.pill.Move(fyne.NewPos(left, y))
	p.pill.Resize(pill)
	p.cover.FillColor = s.page
	from, to := s.labelsUnder(vg.Length(left), vg.Length(left+pill.Width))
	p.cover.Move(fyne.NewPos(float32(from), y))
	p.cover.Resize(fyne.NewSize(float32(to-from), pill.Height))
	p.figure.Move(fyne.NewPos(left+(pill.Width-words.Width)/2, y+(pill.Height-words.Height)/2))
	p.figure.Resize(words)
	for _, o := range p.Chart.marker {
		o.Show()
		o.Refresh()
	}
}

// drawMarker is the marker of a picture that nothing can be dragged on.
func (p *PriceChart) drawMarker(c draw.Canvas, s *sheet) {
	price := p.currency.Float(p.price)
	levels := p.priced.levels(price)
	if len(levels) == 0 {
		return
	}
	mark := s.atX(price)
	c.StrokeLine2(s.stroke(s.main, 1.5), mark, s.data.Min.Y, mark, s.data.Max.Y)
	for _, level := range levels {
		s.dot(c, s.at(price, level), 6, s.page)
		s.dot(c, s.at(price, level), 5, s.main)
	}
	words := p.currency.Whole(p.price)
	half := s.wide(words)/2 + s.u(6)
	x := max(half, min(mark, s.width-half))
	y := s.data.Min.Y - s.u(13)
	if from, to := s.labelsUnder(x-half, x+half); to > from {
		s.box(c, vg.Point{X: from, Y: y - s.u(8)}, vg.Point{X: to, Y: y + s.u(8)}, s.page)
	}
	s.box(c, vg.Point{X: x - half, Y: y - s.u(8)}, vg.Point{X: x + half, Y: y + s.u(8)}, s.main)
	s.write(c, vg.Point{X: x, Y: y}, -0.5, s.onMain(), words)
}

// labelsUnder is from where to where the labels of the level axis reach that a figure between two places
// would touch; the same place twice when it touches none.
func (s *sheet) labelsUnder(from, to vg.Length) (vg.Length, vg.Length) {
	first, last := from, from
	for _, t := range s.plot.X.Tick.Marker.Ticks(s.x.least, s.x.most) {
		half := s.wide(t.Label)/2 + s.u(2)
		if at := s.atX(t.Value); at+half > from && at-half < to {
			first, last = min(first, at-half), max(last, at+half)
		}
	}
	return first, last
}

// onMain is the colour of words on the main colour.
func (p pen) onMain() color.Color {
	if p.main == look.SkyBlue {
		return look.Black
	}
	return color.White
}
