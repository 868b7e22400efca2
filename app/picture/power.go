package picture

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// PowerSale is one sale as a point. Sales without a power or a price above 0 are not drawn.
type PowerSale struct {
	ID, Name string
	Power    float64 // hp
	Price    money.Amount
	Sold     day.Day
	Odd      bool // far from what the other sales make of it, or left out
}

// PowerBand is what a reference motor would bring at one power.
type PowerBand struct {
	Power          float64 // hp
	Low, Mid, High money.Amount
}

// PriceByPower shows past sales by power and price, both by their ratios, over the band of one reference
// motor.
type PriceByPower struct {
	Picker

	currency  money.Currency
	sales     []PowerSale
	band      []PowerBand
	bandWords string
	unit      string
	perHP     float64
}

// NewPriceByPower shows amounts of a currency.
func NewPriceByPower(c money.Currency) *PriceByPower {
	p := &PriceByPower{currency: c, perHP: 1}
	p.find = func(s *sheet, at vg.Point) (string, bool) {
		i := s.nearest(at, p.places(s))
		if i < 0 {
			return "", false
		}
		return p.sales[i].ID, true
	}
	p.start(p)
	return p
}

// SetSales gives the points.
func (p *PriceByPower) SetSales(sales []PowerSale) {
	p.sales = nil
	for _, v := range sales {
		if positive(v.Power) && v.Price > 0 {
			p.sales = append(p.sales, v)
		}
	}
	p.changed()
}

// SetBand gives the band of a reference motor by rising power, and words that name the motor. Without any
// there is none.
func (p *PriceByPower) SetBand(words string, band []PowerBand) {
	p.bandWords, p.band = words, nil
	for _, b := range band {
		if positive(b.Power) && b.Low > 0 && b.Mid > 0 && b.High > 0 {
			p.band = append(p.band, b)
		}
	}
	p.changed()
}

// SetPowerUnit shows power in a unit of the user's: its name, and how many of it one horsepower is.
func (p *PriceByPower) SetPowerUnit(name string, perHP float64) {
	if positive(perHP) {
		p.unit, p.perHP = name, perHP
		p.changed()
	}
}

func (p *PriceByPower) unitName() string {
	if p.unit != "" {
		return p.unit
	}
	return lang.X("picture.power.hp", "hp")
}

func (p *PriceByPower) draw(s *sheet) {
	s.caption = lang.X("picture.power.caption", "Price by power in {{.Unit}}", map[string]any{"Unit": p.unitName()})
	if len(p.sales) == 0 && len(p.band) < 2 {
		s.nothing = lang.X("picture.power.nothing", "Each sale becomes a point here.")
		return
	}
	f := p.currency.Float
	s.x = axis{spacing: logarithmic, label: func(v float64) string { return figure(v, 1) }}
	s.y = axis{spacing: logarithmic, finest: 1, label: func(v float64) string { return p.currency.Whole(p.currency.FromFloat(v)) }}
	odd := false
	for _, v := range p.sales {
		s.x.span(v.Power * p.perHP)
		s.y.span(f(v.Price))
		odd = odd || v.Odd
	}
	for _, b := range p.band {
		if len(p.sales) == 0 {
			s.x.span(b.Power * p.perHP)
		}
	}
	s.x.roomy(0.03)
	band := p.within(s.x.least, s.x.most)
	for _, b := range band {
		s.y.span(f(b.Low), f(b.High))
	}
	s.y.roomy(0.05)
	if len(p.sales) > 0 {
		s.key = append(s.key, keyEntry{lang.X("picture.power.sale", "a sale"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.sale(c, middle(b), false) }})
	}
	if odd {
		s.key = append(s.key, keyEntry{lang.X("picture.power.odd", "an odd one"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.sale(c, middle(b), true) }})
	}
	if len(band) > 1 {
		words := p.bandWords
		if words == "" {
			words = lang.X("picture.power.band", "eight sales in ten of a plain motor")
		}
		s.key = append(s.key, keyEntry{words, func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			s.box(c, b.Min, b.Max, look.Fade(s.main, rangeShade))
			c.StrokeLine2(s.stroke(s.main, 2), b.Min.X, middle(b).Y, b.Max.X, middle(b).Y)
		}})
	}
	s.layers = []layer{
		func(c draw.Canvas, s *sheet) { p.drawBand(c, s, band) },
		p.drawSales,
	}
}

// within is the band on an axis from least to most: it neither widens the axis nor is drawn beyond it.
func (p *PriceByPower) within(least, most float64) []PowerBand {
	var out []PowerBand
	for _, b := range p.band {
		if v := b.Power * p.perHP; v >= least && v <= most {
			out = append(out, b)
		}
	}
	return out
}

func (p *PriceByPower) drawBand(c draw.Canvas, s *sheet, band []PowerBand) {
	if len(band) < 2 {
		return
	}
	way := func(of func(PowerBand) money.Amount) []vg.Point {
		out := make([]vg.Point, len(band))
		for i, b := range band {
			out[i] = s.at(b.Power*p.perHP, p.currency.Float(of(b)))
		}
		return out
	}
	low := way(func(b PowerBand) money.Amount { return b.Low })
	high := way(func(b PowerBand) money.Amount { return b.High })
	c.FillPolygon(look.Fade(s.main, rangeShade), ribbon(low, high))
	s.lines(c, s.stroke(s.main, 2), way(func(b PowerBand) money.Amount { return b.Mid }))
}

func (p *PriceByPower) drawSales(c draw.Canvas, s *sheet) {
	for _, odd := range []bool{false, true} {
		for i, at := range p.places(s) {
			if p.sales[i].Odd == odd {
				s.sale(c, at, odd)
			}
		}
	}
	for i, at := range p.places(s) {
		if p.chosen != "" && p.sales[i].ID == p.chosen {
			s.ring(c, at, 8, 2, s.words)
		}
	}
}

// sale is the sign of one sale.
func (s *sheet) sale(c draw.Canvas, at vg.Point, odd bool) {
	if odd {
		s.diamond(c, at, 5.5, s.bad)
		return
	}
	s.dot(c, at, 4.2, s.page)
	s.dot(c, at, 3.5, s.main)
}

func (p *PriceByPower) places(s *sheet) []vg.Point {
	out := make([]vg.Point, len(p.sales))
	for i, v := range p.sales {
		out[i] = s.at(v.Power*p.perHP, p.currency.Float(v.Price))
	}
	return out
}

func (p *PriceByPower) tell(s *sheet, at vg.Point) (readout, bool) {
	places := p.places(s)
	i := s.nearest(at, places)
	if i < 0 {
		return readout{}, false
	}
	v := p.sales[i]
	r := readout{at: places[i], ring: true, lines: []string{v.Name,
		saleText(p.currency, v.Price, v.Sold),
		lang.X("picture.power.power", "{{.Power}} {{.Unit}}", map[string]any{"Power": figure(v.Power*p.perHP, 1), "Unit": p.unitName()})}}
	if v.Odd {
		r.lines = append(r.lines, lang.X("picture.power.odd", "an odd one"))
	}
	return r, true
}

// saleText is a price and its day.
func saleText(c money.Currency, price money.Amount, sold day.Day) string {
	if sold == 0 {
		return lang.X("picture.sold", "sold for {{.Price}}", map[string]any{"Price": c.Short(price)})
	}
	return lang.X("picture.soldon", "sold for {{.Price}} on {{.Day}}", map[string]any{"Price": c.Short(price), "Day": dayText(sold)})
}

func (p *PriceByPower) least() fyne.Size { return fyne.NewSize(240, 200) }
