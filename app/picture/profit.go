package picture

import (
	"fyne.io/fyne/v2"
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
	PriceChart

	points []ProfitPoint
	marks  ProfitMarks
}

// NewProfitCurve shows amounts of a currency.
func NewProfitCurve(c money.Currency) *ProfitCurve {
	p := &ProfitCurve{}
	p.startPriced(p, c, 1)
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

func (p *ProfitCurve) ends() (least, most money.Amount, ok bool) {
	if len(p.points) == 0 {
		return 0, 0, false
	}
	return p.points[0].Price, p.points[len(p.points)-1].Price, len(p.points) > 1
}

func (p *ProfitCurve) levels(price float64) []float64 {
	if pt, known := p.pointAt(price); known {
		return []float64{p.currency.Float(pt.Expected)}
	}
	return nil
}

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

func (p *ProfitCurve) tellPriced(s *sheet, price float64) (readout, bool) {
	pt, known := p.pointAt(price)
	if !known {
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
