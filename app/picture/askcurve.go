package picture

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/valuation/money"
)

// AskPoint is what asking one price comes to.
type AskPoint struct {
	Ask  money.Amount
	Net  money.Amount // expected to be left, all costs off
	Days float64      // expected until it is gone
}

// AskCurve shows what is left and how many days it takes by the price asked, one above the other over the
// same prices. A price can be dragged along it, by mouse or keyboard.
type AskCurve struct {
	PriceChart

	// Say reads out an ask, a line each; nothing is read out while it is nil.
	Say func(ask money.Amount) []string

	points []AskPoint
	marks  AskMarks
}

// NewAskCurve shows amounts of a currency.
func NewAskCurve(c money.Currency) *AskCurve {
	a := &AskCurve{}
	a.startPriced(a, c, 2)
	return a
}

// SetPoints gives the curve, by rising ask; fewer than two points are nothing to draw.
func (a *AskCurve) SetPoints(points []AskPoint) {
	a.points = append([]AskPoint(nil), points...)
	a.changed()
}

// SetMarks names prices on the curve.
func (a *AskCurve) SetMarks(m AskMarks) {
	if a.marks != m {
		a.marks = m
		a.changed()
	}
}

// Where the two panels run on the upright axis, and how much of it is left free between them.
const (
	daysTo  = 0.42
	netFrom = 0.54
)

func (a *AskCurve) panels() (days, net panel) {
	f := a.currency.Float
	days = panel{axis: axis{finest: 1, count: 4, label: func(v float64) string {
		return lang.X("picture.askcurve.days", "{{.Days}} days", map[string]any{"Days": int(v + 0.5)})
	}}, to: daysTo}
	net = panel{axis: axis{finest: 1, count: 5, label: func(v float64) string { return a.currency.Whole(a.currency.FromFloat(v)) }}, from: netFrom, to: 1}
	days.span(0)
	for _, pt := range a.points {
		days.span(pt.Days)
		net.span(f(pt.Net))
	}
	days.most += (days.most - days.least) * 0.04
	if days.most <= days.least {
		days.most = days.least + 1
	}
	net.roomy(0.06)
	return days, net
}

func (a *AskCurve) draw(s *sheet) {
	s.caption = lang.X("picture.askcurve.caption", "What it leaves, and how long it takes, by the price asked")
	if len(a.points) < 2 {
		s.nothing = lang.X("picture.ask.nothing", "What it may bring is drawn here as soon as the motor can be valued.")
		return
	}
	f := a.currency.Float
	s.x = axis{label: func(v float64) string { return a.currency.Whole(a.currency.FromFloat(v)) }, finest: 1, bare: true,
		least: f(a.points[0].Ask), most: f(a.points[len(a.points)-1].Ask)}
	if s.x.most <= s.x.least {
		s.x.most = s.x.least + 1
	}
	days, net := a.panels()
	s.y = axis{spacing: inPanels, least: 0, most: 1, panels: []panel{days, net}}
	s.marks = a.marks.lines(s, a.currency)
	curve := func(p panel, of func(AskPoint) float64) layer {
		return func(c draw.Canvas, s *sheet) {
			way := make([]vg.Point, len(a.points))
			for i, pt := range a.points {
				way[i] = s.at(f(pt.Ask), p.on(of(pt)))
			}
			s.lines(c, s.stroke(s.main, 2.5), way)
		}
	}
	s.layers = []layer{
		curve(days, func(pt AskPoint) float64 { return pt.Days }),
		curve(net, func(pt AskPoint) float64 { return f(pt.Net) }),
		func(c draw.Canvas, s *sheet) { // names where each curve leaves room: the one rises, the other falls at last
			s.tag(c, vg.Point{X: s.data.Max.X - s.u(4), Y: s.atY(netFrom) + s.u(lineText/2)}, -1, s.words, lang.X("picture.askcurve.net", "left, all costs off"))
			s.tag(c, vg.Point{X: s.data.Min.X + s.u(6), Y: s.atY(daysTo) - s.u(lineText/2)}, 0, s.words, lang.X("picture.askcurve.gone", "days until it is gone"))
		},
	}
	if s.still {
		s.layers = append(s.layers, a.drawMarker)
	}
}

func (a *AskCurve) ends() (least, most money.Amount, ok bool) {
	if len(a.points) == 0 {
		return 0, 0, false
	}
	return a.points[0].Ask, a.points[len(a.points)-1].Ask, len(a.points) > 1
}

// levels are where both curves stand at an ask, straight between two points.
func (a *AskCurve) levels(ask float64) []float64 {
	f := a.currency.Float
	least, most, ok := a.ends()
	if !ok || ask < f(least) || ask > f(most) {
		return nil
	}
	i := 1
	for i < len(a.points)-1 && ask > f(a.points[i].Ask) {
		i++
	}
	from, to := a.points[i-1], a.points[i]
	t := 0.0
	if to.Ask > from.Ask {
		t = (ask - f(from.Ask)) / f(to.Ask-from.Ask)
	}
	days, net := a.panels()
	return []float64{net.on(f(from.Net) + t*f(to.Net-from.Net)), days.on(from.Days + t*(to.Days-from.Days))}
}

func (a *AskCurve) tellPriced(s *sheet, ask float64) (readout, bool) {
	levels := a.levels(ask)
	if len(levels) == 0 || a.Say == nil {
		return readout{}, false
	}
	return readout{lines: a.Say(a.currency.FromFloat(ask)), at: s.at(ask, levels[0]), upright: true, ring: true}, true
}

func (a *AskCurve) least() fyne.Size { return fyne.NewSize(260, 260) }
