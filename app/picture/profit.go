package picture

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
	"skegworth/valuation/money"
)

// ProfitPoint is what paying one price would come to.
type ProfitPoint struct {
	Price     money.Amount
	Expected  money.Amount // expected profit
	Low, High money.Amount // one outcome in ten lies below Low, one above High
	Loss      string       // the chance of a loss in words, such as "four in ten"; "" leaves it unsaid
}

// ProfitMarks are prices worth naming; 0 is no mark.
type ProfitMarks struct {
	Top   money.Amount // the most to pay
	Asked money.Amount // what the seller asks
}

// ProfitCurve shows the profit to expect by the price paid, how far it may vary, and where it turns into
// a loss. A price can be dragged along it, by mouse or keyboard.
type ProfitCurve struct {
	Chart

	// OnPrice is called when the user moves the price.
	OnPrice func(money.Amount)

	currency money.Currency
	points   []ProfitPoint
	marks    ProfitMarks
	price    money.Amount
	focused  bool
	dragging bool

	rule   *canvas.Line
	knob   *canvas.Circle
	cover  *canvas.Rectangle // over the labels of the axis that the figure would lie on in part
	pill   *canvas.Rectangle
	figure *canvas.Text
}

// NewProfitCurve shows amounts of a currency.
func NewProfitCurve(c money.Currency) *ProfitCurve {
	p := &ProfitCurve{
		currency: c, rule: canvas.NewLine(nil), knob: canvas.NewCircle(nil),
		cover: canvas.NewRectangle(nil), pill: canvas.NewRectangle(nil), figure: canvas.NewText("", nil),
	}
	p.start(p, p.rule, p.knob, p.cover, p.pill, p.figure)
	return p
}

// SetPoints gives the curve, by rising price; fewer than two points are nothing to draw.
func (p *ProfitCurve) SetPoints(points []ProfitPoint) {
	p.points = append([]ProfitPoint(nil), points...)
	p.changed()
}

// SetMarks names prices on the curve.
func (p *ProfitCurve) SetMarks(m ProfitMarks) {
	if p.marks != m {
		p.marks = m
		p.changed()
	}
}

// SetPrice moves the marker from outside; OnPrice is not called.
func (p *ProfitCurve) SetPrice(a money.Amount) {
	p.price = a
	p.moved(p.now())
}

// Price is where the marker stands.
func (p *ProfitCurve) Price() money.Amount { return p.price }

func (p *ProfitCurve) draw(s *sheet) {
	s.caption = lang.X("picture.profit.caption", "Profit to expect by the price paid")
	if len(p.points) < 2 {
		s.nothing = lang.X("picture.profit.nothing", "The profit by price paid is drawn here as soon as the motor can be valued.")
		return
	}
	f := p.currency.Float
	money := func(v float64) string { return p.currency.Whole(p.currency.FromFloat(v)) }
	s.x = axis{label: money, finest: 1, bare: true, least: f(p.points[0].Price), most: f(p.points[len(p.points)-1].Price)}
	if s.x.most <= s.x.least {
		s.x.most = s.x.least + 1
	}
	s.y = axis{label: money, finest: 1}
	s.y.span(0)
	for _, pt := range p.points {
		s.y.span(f(pt.Low), f(pt.Expected), f(pt.High))
	}
	s.y.roomy(0.04)
	s.key = []keyEntry{
		{lang.X("picture.profit.expected", "expected"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			c.StrokeLine2(s.stroke(s.main, 2.5), b.Min.X, middle(b).Y, b.Max.X, middle(b).Y)
		}},
		{lang.X("picture.profit.range", "eight outcomes in ten"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			s.box(c, b.Min, b.Max, look.Fade(s.main, rangeShade))
		}},
		{lang.X("picture.profit.loss", "expect a loss"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			s.losing(c, []vg.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}})
		}},
	}
	s.layers = []layer{p.drawRange, p.drawLoss, drawZero, p.drawExpected}
	if s.still {
		s.layers = append(s.layers, p.drawMarker)
	}
	if p.marks.Top > 0 {
		s.marks = append(s.marks, mark{at: f(p.marks.Top), clr: s.good, width: 2,
			words: lang.X("picture.profit.top", "top price {{.Price}}", map[string]any{"Price": p.currency.Whole(p.marks.Top)})})
	}
	if p.marks.Asked > 0 {
		s.marks = append(s.marks, mark{at: f(p.marks.Asked), clr: s.words, width: 1.5, dashes: []float64{5, 3},
			words: lang.X("picture.profit.asked", "asked {{.Price}}", map[string]any{"Price": p.currency.Whole(p.marks.Asked)})})
	}
}

func (p *ProfitCurve) way(s *sheet, of func(ProfitPoint) money.Amount) []vg.Point {
	out := make([]vg.Point, len(p.points))
	for i, pt := range p.points {
		out[i] = s.at(p.currency.Float(pt.Price), p.currency.Float(of(pt)))
	}
	return out
}

func expected(pt ProfitPoint) money.Amount { return pt.Expected }

func (p *ProfitCurve) drawRange(c draw.Canvas, s *sheet) {
	low := p.way(s, func(pt ProfitPoint) money.Amount { return pt.Low })
	high := p.way(s, func(pt ProfitPoint) money.Amount { return pt.High })
	c.FillPolygon(look.Fade(s.main, rangeShade), ribbon(low, high))
}

// drawLoss shades between zero and the expected profit where that is below zero, and says so where there
// is room.
func (p *ProfitCurve) drawLoss(c draw.Canvas, s *sheet) {
	zero := s.atY(0)
	var under []vg.Point
	way := p.way(s, expected)
	flush := func() {
		if len(under) > 1 {
			first, last := under[0], under[len(under)-1]
			s.losing(c, append([]vg.Point{{X: first.X, Y: zero}}, append(under, vg.Point{X: last.X, Y: zero})...))
			s.nameLoss(c, first, last)
		}
		under = nil
	}
	for i, at := range way {
		if i > 0 && (way[i-1].Y < zero) != (at.Y < zero) {
			t := (zero - way[i-1].Y) / (at.Y - way[i-1].Y)
			cross := vg.Point{X: way[i-1].X + t*(at.X-way[i-1].X), Y: zero}
			under = append(under, cross)
			if at.Y >= zero {
				flush()
			}
		}
		if at.Y < zero {
			under = append(under, at)
		}
	}
	flush()
}

// nameLoss writes what the area is into its deep end, from where the curve leaves zero at first to where
// it is deepest at last, when there is room.
func (s *sheet) nameLoss(c draw.Canvas, first, last vg.Point) {
	words := lang.X("picture.profit.loss", "expect a loss")
	zero := s.atY(0)
	w := s.wide(words) + s.u(10)
	if length := last.X - first.X; w < length && (zero-last.Y)*(1-w/length) > s.u(lineText+4) {
		s.tag(c, vg.Point{X: last.X - s.u(6), Y: zero - s.u(lineText/2+3)}, -1, s.words, words)
	}
}

func drawZero(c draw.Canvas, s *sheet) {
	s.level(c, 0, s.words)
}

func (p *ProfitCurve) drawExpected(c draw.Canvas, s *sheet) {
	s.lines(c, s.stroke(s.main, 2.5), p.way(s, expected))
}

// drawMarker is the marker of a picture that nothing can be dragged on.
func (p *ProfitCurve) drawMarker(c draw.Canvas, s *sheet) {
	pt, known := p.pointAt(p.currency.Float(p.price))
	if !known {
		return
	}
	at := s.at(p.currency.Float(pt.Price), p.currency.Float(pt.Expected))
	c.StrokeLine2(s.stroke(s.main, 1.5), at.X, s.data.Min.Y, at.X, s.data.Max.Y)
	s.dot(c, at, 6, s.page)
	s.dot(c, at, 5, s.main)
	words := p.currency.Whole(p.price)
	half := s.wide(words)/2 + s.u(6)
	x := max(half, min(at.X, s.width-half))
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

// pointAt reads the curve at a price, straight between two points; false outside it.
func (p *ProfitCurve) pointAt(price float64) (ProfitPoint, bool) {
	f := p.currency.Float
	n := len(p.points)
	if n < 2 || price < f(p.points[0].Price) || price > f(p.points[n-1].Price) {
		return ProfitPoint{}, false
	}
	i := 1
	for i < n-1 && price > f(p.points[i].Price) {
		i++
	}
	a, b := p.points[i-1], p.points[i]
	t := 0.0
	if b.Price > a.Price {
		t = (price - f(a.Price)) / f(b.Price-a.Price)
	}
	between := func(a, b money.Amount) money.Amount { return a + money.Round(t*float64(b-a)) }
	out := ProfitPoint{
		Price: p.currency.FromFloat(price), Expected: between(a.Expected, b.Expected),
		Low: between(a.Low, b.Low), High: between(a.High, b.High), Loss: a.Loss,
	}
	if t >= 0.5 {
		out.Loss = b.Loss
	}
	return out, true
}

func (p *ProfitCurve) tell(s *sheet, at vg.Point) (readout, bool) {
	pt, known := p.pointAt(s.x.value(float64((at.X - s.data.Min.X) / (s.data.Max.X - s.data.Min.X))))
	if !known || at.Y > s.data.Max.Y {
		return readout{}, false
	}
	return p.say(s, pt), true
}

func (p *ProfitCurve) say(s *sheet, pt ProfitPoint) readout {
	w := p.currency.Whole
	r := readout{
		lines: []string{
			lang.X("picture.profit.pay", "paying {{.Price}}: profit about {{.Profit}}", map[string]any{"Price": w(pt.Price), "Profit": w(pt.Expected)}),
			lang.X("picture.profit.between", "eight times in ten between {{.Low}} and {{.High}}", map[string]any{"Low": w(pt.Low), "High": w(pt.High)}),
		},
		at: s.at(p.currency.Float(pt.Price), p.currency.Float(pt.Expected)), upright: true, ring: true,
	}
	if pt.Loss != "" {
		r.lines = append(r.lines, lang.X("picture.profit.chance", "chance of a loss: {{.Chance}}", map[string]any{"Chance": pt.Loss}))
	}
	return r
}

func (p *ProfitCurve) least() fyne.Size { return fyne.NewSize(260, 200) }
