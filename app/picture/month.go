package picture

import (
	"math"
	"strconv"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/valuation/money"
)

// Month is what one month brought.
type Month struct {
	Year   int
	Month  time.Month
	Sales  money.Amount // prices of the motors sold
	Profit money.Amount // before own time
	Sold   int
}

// MonthBars shows the profit of each month of a year, and with SetSalesShown the sales behind it.
type MonthBars struct {
	Chart

	currency money.Currency
	months   []Month
	sales    bool
}

// NewMonthBars shows amounts of a currency.
func NewMonthBars(c money.Currency) *MonthBars {
	m := &MonthBars{currency: c}
	m.start(m)
	return m
}

// SetMonths gives the months from the left, usually twelve.
func (m *MonthBars) SetMonths(months []Month) {
	m.months = append([]Month(nil), months...)
	m.changed()
}

// SetSalesShown draws the sales of each month behind its profit.
func (m *MonthBars) SetSalesShown(shown bool) {
	if m.sales != shown {
		m.sales = shown
		m.changed()
	}
}

func (m *MonthBars) draw(s *sheet) {
	s.caption = lang.X("picture.month.caption", "Profit before own time, by month")
	if m.sales {
		s.caption = lang.X("picture.month.both", "Sales, and profit before own time, by month")
	}
	anything, loss := false, false
	f := m.currency.Float
	s.y = axis{finest: 1, label: func(v float64) string { return m.currency.Whole(m.currency.FromFloat(v)) }}
	s.y.span(0)
	s.x = axis{spacing: inTurn, bare: true, least: -0.6, most: float64(len(m.months)) - 0.4}
	for _, v := range m.months {
		s.x.names = append(s.x.names, MonthName(v.Month))
		s.y.span(f(v.Profit))
		if m.sales {
			s.y.span(f(v.Sales))
		}
		anything = anything || v.Profit != 0 || v.Sales != 0 || v.Sold != 0
		loss = loss || v.Profit < 0
	}
	if !anything {
		s.nothing = lang.X("picture.month.nothing", "Nothing was sold in this year.")
		return
	}
	s.y.roomy(0.04)
	if s.y.least > -1e-9*s.y.most || !loss {
		s.y.least = math.Min(0, s.y.least)
		if !loss {
			s.y.least = 0
		}
	}
	if m.sales {
		s.key = append(s.key, keyEntry{lang.X("picture.month.sales", "sales"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.plannedBar(c, b.Min, b.Max) }})
	}
	s.key = append(s.key, keyEntry{lang.X("picture.month.profit", "profit"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.box(c, b.Min, b.Max, s.main) }})
	if loss {
		s.key = append(s.key, keyEntry{lang.X("picture.month.loss", "loss"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.overBar(c, b.Min, b.Max) }})
	}
	s.layers = []layer{m.drawBars}
}

func (m *MonthBars) drawBars(c draw.Canvas, s *sheet) {
	room := (s.data.Max.X - s.data.Min.X) / vg.Length(len(m.months))
	half := min(room*0.36, s.u(26))
	zero := s.atY(0)
	for i, v := range m.months {
		x := s.atX(float64(i))
		inner := half
		if m.sales {
			s.plannedBar(c, vg.Point{X: x - half, Y: zero}, vg.Point{X: x + half, Y: s.atY(m.currency.Float(v.Sales))})
			inner = half * 0.6
		}
		from, to := vg.Point{X: x - inner, Y: zero}, vg.Point{X: x + inner, Y: s.atY(m.currency.Float(v.Profit))}
		switch {
		case v.Profit > 0:
			s.box(c, from, to, s.main)
		case v.Profit < 0:
			s.overBar(c, from, to)
		}
	}
	s.level(c, 0, s.words)
}

func (m *MonthBars) tell(s *sheet, at vg.Point) (readout, bool) {
	if at.X < s.data.Min.X || at.X > s.data.Max.X || at.Y > s.data.Max.Y || at.Y < 0 {
		return readout{}, false
	}
	i := int(math.Round(s.x.value(float64((at.X - s.data.Min.X) / (s.data.Max.X - s.data.Min.X)))))
	i = max(0, min(i, len(m.months)-1))
	v := m.months[i]
	w := m.currency.Whole
	room := (s.data.Max.X - s.data.Min.X) / vg.Length(len(m.months))
	x := s.atX(float64(i))
	r := readout{
		at:   vg.Point{X: x, Y: s.atY(math.Max(0, m.currency.Float(v.Profit)))},
		from: vg.Point{X: x - room/2, Y: s.data.Min.Y}, to: vg.Point{X: x + room/2, Y: s.data.Max.Y},
		lines: []string{MonthName(v.Month) + " " + strconv.Itoa(v.Year)},
	}
	switch {
	case v.Sold == 0 && v.Sales == 0:
		r.lines = append(r.lines, lang.X("picture.month.none", "none sold"))
	case v.Sold == 1:
		r.lines = append(r.lines, lang.X("picture.month.one", "1 sold for {{.Sales}}", map[string]any{"Sales": w(v.Sales)}))
	default:
		r.lines = append(r.lines, lang.X("picture.month.sold", "{{.Count}} sold for {{.Sales}}", map[string]any{"Count": strconv.Itoa(v.Sold), "Sales": w(v.Sales)}))
	}
	switch {
	case v.Profit < 0:
		r.lines = append(r.lines, lang.X("picture.month.isloss", "a loss of {{.Loss}} before own time", map[string]any{"Loss": w(-v.Profit)}))
	case v.Profit > 0 || v.Sold > 0:
		r.lines = append(r.lines, lang.X("picture.month.isprofit", "profit {{.Profit}} before own time", map[string]any{"Profit": w(v.Profit)}))
	}
	return r, true
}

func (m *MonthBars) least() fyne.Size { return fyne.NewSize(260, 180) }
