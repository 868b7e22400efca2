package picture

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// AskedFrom is a price asked from a day on; one of 0 takes the motor off sale.
type AskedFrom struct {
	On  day.Day
	Ask money.Amount
}

// OfferMade is an offer on a day, with words to read out; Taken tells that it led to the sale.
type OfferMade struct {
	On     day.Day
	Amount money.Amount
	Words  string
	Taken  bool
}

// AskPath shows how the price asked went down over the days, the offers made meanwhile, and what is planned.
type AskPath struct {
	Chart

	currency money.Currency
	asked    []AskedFrom
	until    day.Day // to where the last of them runs: today, or the day of the sale
	ahead    []AskedFrom
	offers   []OfferMade
	walk     money.Amount
}

// NewAskPath shows amounts of a currency.
func NewAskPath(c money.Currency) *AskPath {
	a := &AskPath{currency: c}
	a.start(a)
	return a
}

// SetPath gives what was asked, oldest first, up to a day; what is planned to be asked from then on; what was
// offered; and the least to take, 0 where there is none.
func (a *AskPath) SetPath(asked []AskedFrom, until day.Day, ahead []AskedFrom, offers []OfferMade, walk money.Amount) {
	a.asked, a.until, a.ahead, a.offers, a.walk = append([]AskedFrom(nil), asked...), until, append([]AskedFrom(nil), ahead...), append([]OfferMade(nil), offers...), walk
	a.changed()
}

// Days drawn beyond the last thing known, so that its price can be seen.
const pathBeyond = 14

// span is the first and the last day drawn.
func (a *AskPath) span() (from, to day.Day) {
	from, to = a.until, a.until
	if len(a.asked) > 0 {
		from = a.asked[0].On
	}
	for _, o := range a.offers {
		from = min(from, o.On)
	}
	if n := len(a.ahead); n > 0 {
		to = max(to, a.ahead[n-1].On+pathBeyond)
	}
	if to-from < pathBeyond {
		to = from + pathBeyond
	}
	return from, to
}

func (a *AskPath) draw(s *sheet) {
	s.caption = lang.X("picture.path.caption", "What was asked and offered, day by day")
	if len(a.asked) == 0 && len(a.ahead) == 0 && len(a.offers) == 0 {
		s.nothing = lang.X("picture.path.nothing", "What was asked and offered is drawn here once the motor is for sale.")
		return
	}
	f := a.currency.Float
	from, to := a.span()
	n := int(to - from)
	s.x = axis{spacing: inOrder, bare: true, least: -0.5, most: float64(n) + 0.5}
	for d := from; d <= to; d++ {
		s.x.days = append(s.x.days, d)
	}
	s.y = axis{finest: 1, count: 5, label: func(v float64) string { return a.currency.Whole(a.currency.FromFloat(v)) }}
	for _, all := range [][]AskedFrom{a.asked, a.ahead} {
		for _, step := range all {
			if step.Ask > 0 {
				s.y.span(f(step.Ask))
			}
		}
	}
	for _, o := range a.offers {
		s.y.span(f(o.Amount))
	}
	if a.walk > 0 {
		s.y.span(f(a.walk))
	}
	s.y.roomy(0.1)
	s.key = []keyEntry{{lang.X("picture.path.asked", "asked"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
		c.StrokeLine2(s.stroke(s.main, 2.5), b.Min.X, middle(b).Y, b.Max.X, middle(b).Y)
	}}}
	if len(a.ahead) > 0 {
		s.key = append(s.key, keyEntry{lang.X("picture.path.ahead", "planned, if it is still there"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			c.StrokeLine2(s.stroke(s.main, 2, 2, 3), b.Min.X, middle(b).Y, b.Max.X, middle(b).Y)
		}})
	}
	if len(a.offers) > 0 {
		s.key = append(s.key, keyEntry{lang.X("picture.path.offer", "offered"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.diamond(c, middle(b), 5, s.other) }})
	}
	s.layers = []layer{
		func(c draw.Canvas, s *sheet) { a.steps(c, s, a.asked, a.until, s.stroke(s.main, 2.5)) },
		func(c draw.Canvas, s *sheet) { a.steps(c, s, a.ahead, to, s.stroke(s.main, 2, 2, 3)) },
		a.drawWalk, a.drawOffers,
	}
}

func (a *AskPath) at(s *sheet, on day.Day, amount money.Amount) vg.Point {
	from, _ := a.span()
	return s.at(float64(on-from), a.currency.Float(amount))
}

// steps draws prices as stairs up to a day; there is no stair while the motor is off sale.
func (a *AskPath) steps(c draw.Canvas, s *sheet, all []AskedFrom, until day.Day, sty draw.LineStyle) {
	var way []vg.Point
	for i, step := range all {
		end := until
		if i+1 < len(all) {
			end = all[i+1].On
		}
		if step.Ask <= 0 {
			s.lines(c, sty, way)
			way = nil
			continue
		}
		if end == step.On { // as long as a day, so that it is seen
			end++
		}
		way = append(way, a.at(s, step.On, step.Ask), a.at(s, end, step.Ask))
	}
	s.lines(c, sty, way)
}

// drawWalk draws the least to take over the days to come.
func (a *AskPath) drawWalk(c draw.Canvas, s *sheet) {
	if a.walk <= 0 {
		return
	}
	_, to := a.span()
	left, right := a.at(s, a.until, a.walk), a.at(s, to, a.walk)
	c.StrokeLine2(s.stroke(s.bad, 2, 8, 3), left.X, left.Y, right.X, right.Y)
	words := lang.X("picture.ask.walk", "walk away under {{.Price}}", map[string]any{"Price": a.currency.Whole(a.walk)})
	s.tag(c, vg.Point{X: s.data.Max.X - s.u(4), Y: left.Y - s.u(lineText/2+2)}, -1, s.words, words)
}

func (a *AskPath) drawOffers(c draw.Canvas, s *sheet) {
	for _, o := range a.offers {
		at := a.at(s, o.On, o.Amount)
		s.diamond(c, at, 5, s.other)
		if o.Taken {
			s.ring(c, at, 9, 1.5, s.words)
		}
	}
}

func (a *AskPath) tell(s *sheet, at vg.Point) (readout, bool) {
	if at.X < s.data.Min.X || at.X > s.data.Max.X || at.Y < s.data.Min.Y || at.Y > s.data.Max.Y {
		return readout{}, false
	}
	near, best := -1, float64(s.u(reach))
	for i, o := range a.offers {
		p := a.at(s, o.On, o.Amount)
		if d := math.Hypot(float64(p.X-at.X), float64(p.Y-at.Y)); d < best {
			near, best = i, d
		}
	}
	if near >= 0 {
		o := a.offers[near]
		return readout{lines: []string{dayText(o.On), o.Words}, at: a.at(s, o.On, o.Amount), ring: true}, true
	}
	from, _ := a.span()
	on := from + day.Day(math.Round(s.x.value(float64((at.X-s.data.Min.X)/(s.data.Max.X-s.data.Min.X)))))
	all, coming := a.asked, on > a.until
	if coming {
		all = a.ahead
	}
	ask := money.Amount(0)
	for _, step := range all {
		if step.On <= on {
			ask = step.Ask
		}
	}
	if ask <= 0 {
		return readout{}, false
	}
	named := map[string]any{"Price": a.currency.Whole(ask)}
	words := lang.X("picture.path.was", "asked {{.Price}}", named)
	if coming {
		words = lang.X("picture.path.will", "to be asked {{.Price}}, if it is still there", named)
	}
	return readout{lines: []string{dayText(on), words}, at: a.at(s, on, ask), upright: true, ring: true}, true
}

func (a *AskPath) least() fyne.Size { return fyne.NewSize(260, 200) }
