package picture

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/valuation/money"
)

// PlanBar is one kind of cost: what was planned for it and what it came to.
type PlanBar struct {
	Name            string
	Planned, Actual money.Amount
}

// PlanBars shows planned against actual cost, a pair of bars for each kind.
type PlanBars struct {
	Chart

	currency money.Currency
	bars     []PlanBar
}

// NewPlanBars shows amounts of a currency.
func NewPlanBars(c money.Currency) *PlanBars {
	p := &PlanBars{currency: c}
	p.start(p)
	return p
}

// SetBars gives the rows from the top down.
func (p *PlanBars) SetBars(bars []PlanBar) {
	p.bars = append([]PlanBar(nil), bars...)
	p.changed()
}

const planRow = 34

func (p *PlanBars) draw(s *sheet) {
	s.caption = lang.X("picture.plan.caption", "Planned and actual cost")
	if len(p.bars) == 0 {
		s.nothing = lang.X("picture.plan.nothing", "Plan and cost are held against each other here as soon as there is either.")
		return
	}
	shown, more := s.rowsFitting(len(p.bars), planRow)
	s.x = axis{label: func(v float64) string { return p.currency.Whole(p.currency.FromFloat(v)) }, finest: 1}
	s.x.span(0)
	var names []string
	var label vg.Length
	for _, b := range p.bars[:shown] {
		s.x.span(p.currency.Float(b.Planned), p.currency.Float(b.Actual))
		names = append(names, b.Name)
		label = max(label, s.wide(p.currency.Short(b.Planned)), s.wide(p.currency.Short(b.Actual)))
	}
	if s.x.most <= s.x.least {
		s.x.most = s.x.least + 1
	}
	s.barRoom(names, label+s.u(10))
	s.setRows(names, more)
	s.key = []keyEntry{
		{lang.X("picture.plan.planned", "planned"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.plannedBar(c, b.Min, b.Max) }},
		{lang.X("picture.plan.actual", "actual"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.box(c, b.Min, b.Max, s.main) }},
		{lang.X("picture.plan.over", "over the plan"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.overBar(c, b.Min, b.Max) }},
	}
	s.layers = []layer{func(c draw.Canvas, s *sheet) {
		for i, b := range p.bars[:shown] {
			p.drawBar(c, s, i, b)
		}
		s.upright(c, 0, s.words)
	}}
}

func (p *PlanBars) drawBar(c draw.Canvas, s *sheet, i int, b PlanBar) {
	m, half := s.row(i)
	high := min(half*0.82, s.u(14))
	f := p.currency.Float
	zero, planned, actual := s.atX(0), s.atX(f(b.Planned)), s.atX(f(b.Actual))
	gap := s.u(1)
	s.plannedBar(c, vg.Point{X: zero, Y: m + gap}, vg.Point{X: planned, Y: m + high})
	if b.Actual > b.Planned && b.Planned >= 0 {
		s.box(c, vg.Point{X: zero, Y: m - high}, vg.Point{X: planned, Y: m - gap}, s.main)
		s.overBar(c, vg.Point{X: planned, Y: m - high}, vg.Point{X: actual, Y: m - gap})
	} else {
		s.box(c, vg.Point{X: zero, Y: m - high}, vg.Point{X: actual, Y: m - gap}, s.main)
	}
	s.write(c, vg.Point{X: max(planned, zero) + s.u(6), Y: m + (high+gap)/2}, 0, s.quiet, p.currency.Short(b.Planned))
	s.write(c, vg.Point{X: max(actual, zero) + s.u(6), Y: m - (high+gap)/2}, 0, s.words, p.currency.Short(b.Actual))
}

func (p *PlanBars) tell(s *sheet, at vg.Point) (readout, bool) {
	shown, _ := s.rowsFitting(len(p.bars), planRow)
	i := s.rowUnder(at, shown)
	if i < 0 {
		return readout{}, false
	}
	b := p.bars[i]
	amounts := map[string]any{"Planned": p.currency.Short(b.Planned), "Actual": p.currency.Short(b.Actual)}
	lines := []string{b.Name, lang.X("picture.plan.is", "planned {{.Planned}}, actual {{.Actual}}", amounts)}
	switch {
	case b.Actual > b.Planned:
		lines = append(lines, lang.X("picture.plan.more", "{{.Amount}} over the plan", map[string]any{"Amount": p.currency.Short(b.Actual - b.Planned)}))
	case b.Actual < b.Planned:
		lines = append(lines, lang.X("picture.plan.left", "{{.Amount}} of the plan left", map[string]any{"Amount": p.currency.Short(b.Planned - b.Actual)}))
	}
	return s.aroundRow(i, s.atX(p.currency.Float(max(b.Planned, b.Actual, 0))), lines...), true
}

func (p *PlanBars) least() fyne.Size { return leastRows(len(p.bars), planRow) }
