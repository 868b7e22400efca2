package picture

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
)

// Effect is what one difference does to the price: multipliers, 80 % of the belief from Low to High.
// Effects that are not numbers above 0 are not drawn.
type Effect struct {
	Name           string
	Low, Mid, High float64
	Prior          bool   // mostly the trade prior
	Words          string // what it does and its range, for reading out
}

// EffectPicture shows what moves the price, a row for each difference.
type EffectPicture struct {
	Chart

	effects []Effect
}

// NewEffectPicture is empty until SetEffects.
func NewEffectPicture() *EffectPicture {
	e := &EffectPicture{}
	e.start(e)
	return e
}

// SetEffects gives the rows from the top down.
func (e *EffectPicture) SetEffects(effects []Effect) {
	e.effects = nil
	for _, v := range effects {
		if positive(v.Low, v.Mid, v.High) {
			e.effects = append(e.effects, v)
		}
	}
	e.changed()
}

const effectRow = 22

// perCent is a factor as what it adds to the price or takes from it.
func perCent(factor float64) string {
	by := figure(100*(factor-1), 0)
	if factor > 1 {
		by = "+" + by
	}
	return by + " %"
}

func (e *EffectPicture) draw(s *sheet) {
	s.caption = lang.X("picture.effect.caption", "What each difference does to the price, in per cent of it")
	if len(e.effects) == 0 {
		s.nothing = lang.X("picture.effect.nothing", "What moves the price is drawn here as soon as motors can be valued.")
		return
	}
	shown, more := s.rowsFitting(len(e.effects), effectRow)
	s.x = axis{spacing: logarithmic, label: perCent, finest: 0.01}
	s.x.span(1)
	var names []string
	for _, v := range e.effects[:shown] {
		s.x.span(v.Low, v.High)
		names = append(names, v.Name)
	}
	s.x.roomy(0.03)
	s.setRows(names, more)
	s.key = []keyEntry{
		{lang.X("picture.effect.own", "learned from your sales"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			s.effect(c, b.Min.X, middle(b).X, b.Max.X, middle(b).Y, false)
		}},
		{lang.X("picture.effect.prior", "still mostly the trade prior"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			s.effect(c, b.Min.X, middle(b).X, b.Max.X, middle(b).Y, true)
		}},
	}
	s.layers = []layer{func(c draw.Canvas, s *sheet) {
		s.upright(c, 1, s.words)
		for i, v := range e.effects[:shown] {
			m, _ := s.row(i)
			s.effect(c, s.atX(v.Low), s.atX(v.Mid), s.atX(v.High), m, v.Prior)
		}
	}}
}

// effect is a bar from low to high with its middle marked: solid where own sales speak, hollow where the
// prior does.
func (s *sheet) effect(c draw.Canvas, low, mid, high, y vg.Length, prior bool) {
	if prior {
		half := s.u(3.5)
		s.box(c, vg.Point{X: low, Y: y - half}, vg.Point{X: high, Y: y + half}, s.page)
		s.frame(c, vg.Point{X: low, Y: y - half}, vg.Point{X: high, Y: y + half}, 1.2, s.quiet)
		s.dot(c, vg.Point{X: mid, Y: y}, 4.5, s.quiet)
		s.dot(c, vg.Point{X: mid, Y: y}, 3.2, s.page)
		return
	}
	half := s.u(3.5)
	s.box(c, vg.Point{X: low, Y: y - half}, vg.Point{X: high, Y: y + half}, look.Fade(s.main, 0x90))
	s.dot(c, vg.Point{X: mid, Y: y}, 5.5, s.page)
	s.dot(c, vg.Point{X: mid, Y: y}, 4.5, s.main)
}

func (e *EffectPicture) tell(s *sheet, at vg.Point) (readout, bool) {
	shown, _ := s.rowsFitting(len(e.effects), effectRow)
	i := s.rowUnder(at, shown)
	if i < 0 {
		return readout{}, false
	}
	v := e.effects[i]
	lines := []string{v.Name,
		v.Words}
	if v.Prior {
		lines = append(lines, lang.X("picture.effect.prior", "still mostly the trade prior"))
	}
	return s.aroundRow(i, s.atX(v.Mid), lines...), true
}

func (e *EffectPicture) least() fyne.Size { return leastRows(len(e.effects), effectRow) }
