package picture

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/valuation/money"
)

// CutBar is what the motors with one thing in common, or one year, brought.
type CutBar struct {
	Name   string
	Sales  money.Amount
	Profit money.Amount // before own time
	Sold   int
}

// CutBars shows sales with the profit inside them, a row for each.
type CutBars struct {
	Chart

	currency money.Currency
	bars     []CutBar
}

// NewCutBars shows amounts of a currency.
func NewCutBars(c money.Currency) *CutBars {
	b := &CutBars{currency: c}
	b.start(b)
	return b
}

// SetBars gives the rows from the top down.
func (b *CutBars) SetBars(bars []CutBar) {
	b.bars = append([]CutBar(nil), bars...)
	b.changed()
}

const cutRow = 30

func (b *CutBars) draw(s *sheet) {
	s.caption = lang.X("picture.cut.caption", "Sales, and profit before own time")
	if len(b.bars) == 0 {
		s.nothing = lang.X("picture.cut.nothing", "Nothing was sold in this year.")
		return
	}
	shown, more := s.rowsFitting(len(b.bars), cutRow)
	s.x = axis{label: func(v float64) string { return b.currency.Whole(b.currency.FromFloat(v)) }, finest: 1}
	s.x.span(0)
	var names []string
	var label vg.Length
	loss := false
	for _, v := range b.bars[:shown] {
		s.x.span(b.currency.Float(v.Sales), b.currency.Float(v.Profit))
		names = append(names, v.Name)
		label = max(label, s.wide(b.currency.Whole(v.Profit)))
		loss = loss || v.Profit < 0
	}
	if s.x.most <= s.x.least {
		s.x.most = s.x.least + 1
	}
	s.barRoom(names, label+s.u(10))
	s.setRows(names, more)
	s.key = []keyEntry{
		{lang.X("picture.month.sales", "sales"), func(c draw.Canvas, s *sheet, r vg.Rectangle) { s.plannedBar(c, r.Min, r.Max) }},
		{lang.X("picture.month.profit", "profit"), func(c draw.Canvas, s *sheet, r vg.Rectangle) { s.box(c, r.Min, r.Max, s.main) }},
	}
	if loss {
		s.key = append(s.key, keyEntry{lang.X("picture.month.loss", "loss"), func(c draw.Canvas, s *sheet, r vg.Rectangle) { s.overBar(c, r.Min, r.Max) }})
	}
	s.layers = []layer{func(c draw.Canvas, s *sheet) {
		for i, v := range b.bars[:shown] {
			b.drawBar(c, s, i, v)
		}
		s.upright(c, 0, s.words)
	}}
}

func (b *CutBars) drawBar(c draw.Canvas, s *sheet, i int, v CutBar) {
	m, half := s.row(i)
	high := min(half*0.8, s.u(12))
	f := b.currency.Float
	zero, sales, profit := s.atX(0), s.atX(f(v.Sales)), s.atX(f(v.Profit))
	s.plannedBar(c, vg.Point{X: zero, Y: m - high}, vg.Point{X: sales, Y: m + high})
	from, to := vg.Point{X: zero, Y: m - high*0.6}, vg.Point{X: profit, Y: m + high*0.6}
	switch {
	case v.Profit > 0:
		s.box(c, from, to, s.main)
	case v.Profit < 0:
		s.overBar(c, from, to)
	}
	s.write(c, vg.Point{X: max(sales, profit, zero) + s.u(6), Y: m}, 0, s.words, b.currency.Whole(v.Profit))
}

func (b *CutBars) tell(s *sheet, at vg.Point) (readout, bool) {
	shown, _ := s.rowsFitting(len(b.bars), cutRow)
	i := s.rowUnder(at, shown)
	if i < 0 {
		return readout{}, false
	}
	v, w := b.bars[i], b.currency.Whole
	lines := []string{v.Name, lang.X("picture.month.sold", "{{.Count}} sold for {{.Sales}}", map[string]any{"Count": strconv.Itoa(v.Sold), "Sales": w(v.Sales)})}
	if v.Profit < 0 {
		lines = append(lines, lang.X("picture.month.isloss", "a loss of {{.Loss}} before own time", map[string]any{"Loss": w(-v.Profit)}))
	} else {
		lines = append(lines, lang.X("picture.month.isprofit", "profit {{.Profit}} before own time", map[string]any{"Profit": w(v.Profit)}))
	}
	return s.aroundRow(i, s.atX(math.Max(0, b.currency.Float(max(v.Sales, v.Profit)))), lines...), true
}

func (b *CutBars) least() fyne.Size { return leastRows(len(b.bars), cutRow) }
