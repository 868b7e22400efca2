package picture

import (
	"cmp"
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/valuation/money"
)

// StockBar is one thing in stock.
type StockBar struct {
	ID, Name string
	Note     string // a few words beside the amount, such as "120 days"; "" for none
	Cost     money.Amount
}

// StockBars shows what stands in stock, the dearest first.
type StockBars struct {
	Picker

	currency money.Currency
	stock    []StockBar
	rest     int // how many things the last bar stands for; 0 = none
}

// NewStockBars shows amounts of a currency.
func NewStockBars(c money.Currency) *StockBars {
	b := &StockBars{currency: c}
	b.find = func(s *sheet, at vg.Point) (string, bool) {
		shown, _ := s.rowsFitting(len(b.stock), stockRow)
		i := s.rowUnder(at, shown)
		if i < 0 {
			return "", false
		}
		return b.stock[i].ID, true
	}
	b.start(b)
	return b
}

// SetStock gives what stands in stock, in any order. At most so many bars are drawn; when there are more
// things, the last bar is all that is left together.
func (b *StockBars) SetStock(stock []StockBar, most int) {
	all := slices.Clone(stock)
	slices.SortStableFunc(all, func(x, y StockBar) int { return cmp.Compare(y.Cost, x.Cost) })
	b.rest = 0
	if most = max(most, 2); len(all) > most {
		last := StockBar{}
		for _, s := range all[most-1:] {
			last.Cost += s.Cost
			b.rest++
		}
		all = append(all[:most-1], last)
	}
	b.stock = all
	b.changed()
}

const stockRow = 24

func (b *StockBars) name(i int) string {
	if b.rest > 0 && i == len(b.stock)-1 {
		return lang.X("picture.stock.rest", "{{.Count}} others together", map[string]any{"Count": strconv.Itoa(b.rest)})
	}
	return b.stock[i].Name
}

func (b *StockBars) draw(s *sheet) {
	s.caption = lang.X("picture.stock.caption", "In stock, at cost")
	if len(b.stock) == 0 {
		s.nothing = lang.X("picture.stock.nothing", "Nothing stands in stock.")
		return
	}
	shown, more := s.rowsFitting(len(b.stock), stockRow)
	s.x = axis{label: func(v float64) string { return b.currency.Whole(b.currency.FromFloat(v)) }, finest: 1}
	s.x.span(0)
	var names []string
	var label vg.Length
	for i, v := range b.stock[:shown] {
		s.x.span(b.currency.Float(v.Cost))
		names = append(names, b.name(i))
		label = max(label, s.wide(b.label(v)))
	}
	if s.x.most <= s.x.least {
		s.x.most = s.x.least + 1
	}
	s.barRoom(names, label+s.u(10))
	s.setRows(names, more)
	s.layers = []layer{func(c draw.Canvas, s *sheet) {
		for i, v := range b.stock[:shown] {
			m, half := s.row(i)
			high := min(half*0.7, s.u(8))
			zero, end := s.atX(0), s.atX(b.currency.Float(v.Cost))
			from, to := vg.Point{X: zero, Y: m - high}, vg.Point{X: end, Y: m + high}
			switch {
			case v.Cost < 0:
				s.overBar(c, from, to)
			case b.rest > 0 && i == len(b.stock)-1:
				s.plannedBar(c, from, to)
			default:
				s.box(c, from, to, s.main)
			}
			if v.ID != "" && v.ID == b.chosen {
				s.frame(c, from, to, 2.5, s.words)
			}
			s.write(c, vg.Point{X: max(end, zero) + s.u(6), Y: m}, 0, s.words, b.label(v))
		}
		s.upright(c, 0, s.words)
	}}
}

func (b *StockBars) label(v StockBar) string {
	if v.Note == "" {
		return b.currency.Short(v.Cost)
	}
	return b.currency.Short(v.Cost) + ", " + v.Note
}

func (b *StockBars) tell(s *sheet, at vg.Point) (readout, bool) {
	shown, _ := s.rowsFitting(len(b.stock), stockRow)
	i := s.rowUnder(at, shown)
	if i < 0 {
		return readout{}, false
	}
	v := b.stock[i]
	return s.aroundRow(i, s.atX(b.currency.Float(max(v.Cost, 0))), b.name(i), b.label(v)), true
}

func (b *StockBars) least() fyne.Size { return leastRows(len(b.stock), stockRow) }
