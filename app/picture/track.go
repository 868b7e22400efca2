package picture

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// TrackSale is one sale and the band of 80 % that the other sales would have given it. Sales whose
// amounts are not above 0 are not drawn.
type TrackSale struct {
	ID, Name       string
	Sold           day.Day
	Price          money.Amount
	Low, Mid, High money.Amount
	Inside         bool
}

// TrackPicture shows how the bands did: each sale in the order of time, its band as an upright bar and
// its price as a point on it.
type TrackPicture struct {
	Picker

	currency money.Currency
	sales    []TrackSale
}

// NewTrackPicture shows amounts of a currency.
func NewTrackPicture(c money.Currency) *TrackPicture {
	t := &TrackPicture{currency: c}
	t.find = func(s *sheet, at vg.Point) (string, bool) {
		i := t.under(s, at)
		if i < 0 {
			return "", false
		}
		return t.sales[i].ID, true
	}
	t.start(t)
	return t
}

// SetSales gives the sales in the order of time.
func (t *TrackPicture) SetSales(sales []TrackSale) {
	t.sales = nil
	for _, v := range sales {
		if v.Price > 0 && v.Low > 0 && v.High >= v.Low {
			t.sales = append(t.sales, v)
		}
	}
	t.changed()
}

func (t *TrackPicture) draw(s *sheet) {
	s.caption = lang.X("picture.track.caption", "Each sale against its band, in the order of time")
	if len(t.sales) == 0 {
		s.nothing = lang.X("picture.track.nothing", "Each sale is held against its band here once there are sales of your own.")
		return
	}
	f := t.currency.Float
	s.x = axis{spacing: inOrder, bare: true, least: -0.7, most: float64(len(t.sales)) - 0.3}
	s.y = axis{spacing: logarithmic, finest: 1, label: func(v float64) string { return t.currency.Whole(t.currency.FromFloat(v)) }}
	for _, v := range t.sales {
		s.x.days = append(s.x.days, v.Sold)
		s.y.span(f(v.Price), f(v.Low), f(v.High))
	}
	s.y.roomy(0.04)
	s.key = []keyEntry{
		{lang.X("picture.track.band", "band, eight times in ten"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			m := middle(b)
			s.box(c, vg.Point{X: m.X - s.u(3), Y: b.Min.Y - s.u(2)}, vg.Point{X: m.X + s.u(3), Y: b.Max.Y + s.u(2)}, look.Fade(s.main, barShade))
		}},
		{lang.X("picture.track.inside", "price inside"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.sale(c, middle(b), false) }},
		{lang.X("picture.track.outside", "price outside"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.sale(c, middle(b), true) }},
	}
	s.layers = []layer{t.drawSales}
}

// barShade is how opaque the bar of a band is.
const barShade = 0x60

func (t *TrackPicture) drawSales(c draw.Canvas, s *sheet) {
	room := float64((s.data.Max.X-s.data.Min.X)/s.unit) / float64(len(t.sales)) // units a sale
	half := s.u(math.Min(4, math.Max(0.6, room*0.36)))
	small := math.Min(1, math.Max(0.45, room/8)) // points shrink where sales stand close
	f := t.currency.Float
	for i, v := range t.sales {
		x := s.atX(float64(i))
		s.box(c, vg.Point{X: x - half, Y: s.atY(f(v.Low))}, vg.Point{X: x + half, Y: s.atY(f(v.High))}, look.Fade(s.main, barShade))
		if v.Mid > 0 && room > 5 {
			c.StrokeLine2(s.stroke(s.main, 1.5), x-half, s.atY(f(v.Mid)), x+half, s.atY(f(v.Mid)))
		}
	}
	for i, v := range t.sales {
		at := s.at(float64(i), f(v.Price))
		if v.Inside {
			s.dot(c, at, 4.2*small, s.page)
			s.dot(c, at, 3.5*small, s.main)
		} else {
			s.diamond(c, at, math.Max(3.5, 5.5*small), s.bad)
		}
		if t.chosen != "" && v.ID == t.chosen {
			s.ring(c, at, 8, 2, s.words)
		}
	}
}

// under is the sale in whose column a point lies, -1 for none.
func (t *TrackPicture) under(s *sheet, at vg.Point) int {
	if at.X < s.data.Min.X || at.X > s.data.Max.X || at.Y > s.data.Max.Y || at.Y < s.data.Min.Y {
		return -1
	}
	i := int(math.Round(s.x.value(float64((at.X - s.data.Min.X) / (s.data.Max.X - s.data.Min.X)))))
	return max(0, min(i, len(t.sales)-1))
}

func (t *TrackPicture) tell(s *sheet, at vg.Point) (readout, bool) {
	i := t.under(s, at)
	if i < 0 {
		return readout{}, false
	}
	v := t.sales[i]
	w := t.currency.Whole
	r := readout{at: s.at(float64(i), t.currency.Float(v.Price)), upright: true, ring: true, lines: []string{v.Name, saleText(t.currency, v.Price, v.Sold)}}
	band := map[string]any{"Low": w(v.Low), "High": w(v.High)}
	if v.Inside {
		r.lines = append(r.lines, lang.X("picture.track.in", "inside its band of {{.Low}} to {{.High}}", band))
	} else {
		r.lines = append(r.lines, lang.X("picture.track.out", "outside its band of {{.Low}} to {{.High}}", band))
	}
	return r, true
}

func (t *TrackPicture) least() fyne.Size { return fyne.NewSize(260, 200) }
