package picture

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// Resale is what a motor may bring, such as a valuation.Band.
type Resale interface {
	Quantile(p float64) money.Amount   // the price it stays at or below with chance p
	Chance(price money.Amount) float64 // the chance that it stays at or below a price
	Interval(level float64) (low, high money.Amount)
}

// AskMarks are prices worth naming; 0 is no mark.
type AskMarks struct {
	Ask         money.Amount // what to ask
	WalkAway    money.Amount // the least to accept
	BreakEven   money.Amount // what brings the money back
	PaidForTime money.Amount // what pays for the own time too
	Current     money.Amount // what is asked now
}

// AskPicture shows how many of ten such motors bring at least a price, with the prices that matter named.
type AskPicture struct {
	Chart

	currency  money.Currency
	prices    []float64 // rising
	reach     []float64 // how many in ten bring at least that
	low, high float64   // the band of 80 %
	marks     AskMarks
}

// NewAskPicture shows amounts of a currency.
func NewAskPicture(c money.Currency) *AskPicture {
	a := &AskPicture{currency: c}
	a.start(a)
	return a
}

// How finely the curve is read, and how far into the tails it is drawn.
const (
	askPoints = 80
	askTail   = 0.01
)

// SetResale gives what the motor may bring; nil for not known.
func (a *AskPicture) SetResale(r Resale) {
	a.prices, a.reach, a.low, a.high = nil, nil, 0, 0
	if r != nil {
		f := a.currency.Float
		low, high := r.Interval(0.8)
		a.low, a.high = f(low), f(high)
		from, to := f(r.Quantile(askTail)), f(r.Quantile(1-askTail))
		if to > from && from >= 0 && usable(from, to) {
			for i := range askPoints {
				v := from + (to-from)*float64(i)/(askPoints-1)
				chance := r.Chance(a.currency.FromFloat(v))
				if usable(chance) {
					a.prices, a.reach = append(a.prices, v), append(a.reach, 10*(1-chance))
				}
			}
		}
	}
	a.changed()
}

// SetMarks names prices on the curve.
func (a *AskPicture) SetMarks(m AskMarks) {
	if a.marks != m {
		a.marks = m
		a.changed()
	}
}

func (a *AskPicture) draw(s *sheet) {
	s.caption = lang.X("picture.ask.caption", "How many of ten such motors bring at least the price")
	if len(a.prices) < 2 {
		s.nothing = lang.X("picture.ask.nothing", "What it may bring is drawn here as soon as the motor can be valued.")
		return
	}
	money := func(v float64) string { return a.currency.Whole(a.currency.FromFloat(v)) }
	s.x = axis{label: money, finest: 1, bare: true}
	s.x.span(a.prices[0], a.prices[len(a.prices)-1])
	// A mark just beyond the curve widens the axis; one far beyond is only named at its end.
	room := s.x.most - s.x.least
	least, most := s.x.least-room/2, s.x.most+room/2
	s.marks = a.marks.lines(s, a.currency)
	for _, m := range s.marks {
		if m.at >= least && m.at <= most {
			s.x.span(m.at)
		}
	}
	s.x.roomy(0.02)
	s.y = axis{least: 0, most: 10, finest: 1, count: 6, label: inTen}
	s.key = []keyEntry{
		{lang.X("picture.ask.curve", "bring at least this"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			c.StrokeLine2(s.stroke(s.main, 2.5), b.Min.X, middle(b).Y, b.Max.X, middle(b).Y)
		}},
		{lang.X("picture.ask.band", "eight sales in ten lie in here"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			s.box(c, b.Min, b.Max, look.Fade(s.main, rangeShade))
		}},
	}
	s.layers = []layer{func(c draw.Canvas, s *sheet) {
		s.box(c, s.at(a.low, 0), s.at(a.high, 10), look.Fade(s.main, rangeShade))
		way := make([]vg.Point, 0, len(a.prices)+2)
		way = append(way, s.at(s.x.least, a.reach[0]))
		for i, v := range a.prices {
			way = append(way, s.at(v, a.reach[i]))
		}
		way = append(way, s.at(s.x.most, a.reach[len(a.reach)-1]))
		s.lines(c, s.stroke(s.main, 2.5), way)
	}}
}

// lines names the prices, the plainest line for the ask itself. What is asked now is not named twice where it
// is what to ask.
func (m AskMarks) lines(s *sheet, currency money.Currency) []mark {
	var all []mark
	add := func(price money.Amount, words string, l mark) {
		if price > 0 {
			l.at, l.words = currency.Float(price), words
			all = append(all, l)
		}
	}
	named := func(price money.Amount) map[string]any { return map[string]any{"Price": currency.Whole(price)} }
	if m.Current == m.Ask {
		add(m.Ask, lang.X("picture.ask.both", "ask {{.Price}}, as now", named(m.Ask)), mark{clr: s.good, width: 2.5})
		m.Ask, m.Current = 0, 0
	}
	add(m.Ask, lang.X("picture.ask.ask", "ask {{.Price}}", named(m.Ask)), mark{clr: s.good, width: 2.5})
	add(m.WalkAway, lang.X("picture.ask.walk", "walk away under {{.Price}}", named(m.WalkAway)), mark{clr: s.bad, width: 2, dashes: []float64{8, 3}})
	add(m.BreakEven, lang.X("picture.ask.even", "break-even {{.Price}}", named(m.BreakEven)), mark{clr: s.words, width: 1.2, dashes: []float64{2, 3}})
	add(m.PaidForTime, lang.X("picture.ask.time", "time paid {{.Price}}", named(m.PaidForTime)), mark{clr: s.words, width: 1.2, dashes: []float64{5, 3}})
	add(m.Current, lang.X("picture.ask.now", "asked now {{.Price}}", named(m.Current)), mark{clr: s.words, width: 1.2})
	return all
}

// inTen is a count of ten in words.
func inTen(n float64) string {
	return lang.X("picture.inten", "{{.Count}} in ten", map[string]any{"Count": look.Say(valuation.Count(int(math.Round(n))))})
}

func (a *AskPicture) tell(s *sheet, at vg.Point) (readout, bool) {
	if at.X < s.data.Min.X || at.X > s.data.Max.X || at.Y > s.data.Max.Y || at.Y < s.data.Min.Y {
		return readout{}, false
	}
	v := s.x.value(float64((at.X - s.data.Min.X) / (s.data.Max.X - s.data.Min.X)))
	many := a.reachAt(v)
	return readout{at: s.at(v, many), upright: true, ring: true, lines: []string{a.say(v, many)}}, true
}

func (a *AskPicture) say(price, many float64) string {
	named := map[string]any{"Count": inTen(many), "Price": a.currency.Whole(a.currency.FromFloat(price))}
	switch {
	case many < 0.5:
		return lang.X("picture.ask.hardly", "hardly any bring {{.Price}} or more", named)
	case many > 9.5:
		return lang.X("picture.ask.nearly", "nearly all bring {{.Price}} or more", named)
	}
	return lang.X("picture.ask.is", "about {{.Count}} bring {{.Price}} or more", named)
}

// reachAt reads the curve at a price, straight between two points and level beyond the ends.
func (a *AskPicture) reachAt(price float64) float64 {
	n := len(a.prices)
	switch {
	case price <= a.prices[0]:
		return a.reach[0]
	case price >= a.prices[n-1]:
		return a.reach[n-1]
	}
	i := 1
	for price > a.prices[i] {
		i++
	}
	t := (price - a.prices[i-1]) / (a.prices[i] - a.prices[i-1])
	return a.reach[i-1] + t*(a.reach[i]-a.reach[i-1])
}

func (a *AskPicture) least() fyne.Size { return fyne.NewSize(260, 200) }
