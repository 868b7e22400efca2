package picture

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/app/look"
)

// Tenths is how many prices fell into each tenth of their bands, from the lowest to the highest, and how
// many chance would give each of them with bands that are right.
type Tenths struct {
	Counts      []int
	Even        float64 // all tenths alike
	Least, Most int
}

// TenthPicture shows where in their bands the prices fell. Bars all about as high as the even line are
// what bands that are right look like.
type TenthPicture struct {
	Chart

	tenths Tenths
}

// NewTenthPicture is empty until SetTenths.
func NewTenthPicture() *TenthPicture {
	t := &TenthPicture{}
	t.start(t)
	return t
}

// SetTenths gives the counts; those below 0 are not drawn.
func (t *TenthPicture) SetTenths(v Tenths) {
	v.Counts = append([]int(nil), v.Counts...)
	t.tenths = v
	t.changed()
}

func (t *TenthPicture) draw(s *sheet) {
	s.caption = lang.X("picture.tenth.caption", "Sales in each tenth of their bands, from the lowest prices (1) to the highest (10)")
	any, odd := false, false
	s.x = axis{spacing: inTurn, bare: true, least: -0.6, most: float64(len(t.tenths.Counts)) - 0.4}
	s.y = axis{finest: 1, label: func(v float64) string { return figure(v, 0) }}
	s.y.span(0, float64(t.tenths.Most), 1)
	for i, n := range t.tenths.Counts {
		any = any || n > 0
		odd = odd || t.odd(n)
		s.x.names = append(s.x.names, strconv.Itoa(i+1))
		s.y.span(float64(max(n, 0)))
	}
	if !any || !usable(t.tenths.Even) {
		s.nothing = lang.X("picture.tenth.nothing", "Where prices fell in their bands is shown here once there are sales of your own.")
		return
	}
	s.y.roomy(0.06)
	s.y.least = 0
	s.key = []keyEntry{
		{lang.X("picture.tenth.even", "all tenths alike"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			c.StrokeLine2(s.stroke(s.words, 1.5, 5, 3), b.Min.X, middle(b).Y, b.Max.X, middle(b).Y)
		}},
		{lang.X("picture.tenth.chance", "what chance would give"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { t.drawChance(c, s, b) }},
		{lang.X("picture.tenth.count", "sales"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.box(c, b.Min, b.Max, s.main) }},
	}
	if odd {
		s.key = append(s.key, keyEntry{lang.X("picture.tenth.odd", "beyond chance"), func(c draw.Canvas, s *sheet, b vg.Rectangle) { s.overBar(c, b.Min, b.Max) }})
	}
	s.layers = []layer{t.drawBars}
}

// odd tells whether a count lies outside what chance would give.
func (t *TenthPicture) odd(n int) bool { return n < t.tenths.Least || n > t.tenths.Most }

// drawChance shades a range between two thin lines.
func (t *TenthPicture) drawChance(c draw.Canvas, s *sheet, r vg.Rectangle) {
	s.box(c, r.Min, r.Max, look.Fade(s.quiet, rangeShade))
	sty := s.stroke(s.quiet, 1)
	c.StrokeLine2(sty, r.Min.X, r.Min.Y, r.Max.X, r.Min.Y)
	c.StrokeLine2(sty, r.Min.X, r.Max.Y, r.Max.X, r.Max.Y)
}

func (t *TenthPicture) drawBars(c draw.Canvas, s *sheet) {
	t.drawChance(c, s, vg.Rectangle{
		Min: vg.Point{X: s.data.Min.X, Y: s.atY(float64(max(t.tenths.Least, 0)))},
		Max: vg.Point{X: s.data.Max.X, Y: s.atY(float64(max(t.tenths.Most, 0)))},
	})
	half := t.room(s) * 0.36
	zero := s.atY(0)
	for i, n := range t.tenths.Counts {
		if n <= 0 {
			continue
		}
		x := s.atX(float64(i))
		from, to := vg.Point{X: x - half, Y: zero}, vg.Point{X: x + half, Y: s.atY(float64(n))}
		if t.odd(n) {
			s.box(c, from, to, s.page) // so that the slanted lines stand out from the range
			s.overBar(c, from, to)
		} else {
			s.box(c, from, to, s.main)
		}
	}
	even := s.atY(t.tenths.Even)
	c.StrokeLine2(s.stroke(s.words, 1.5, 5, 3), s.data.Min.X, even, s.data.Max.X, even)
	s.level(c, 0, s.words)
}

// room is the breadth of one tenth.
func (t *TenthPicture) room(s *sheet) vg.Length {
	return (s.data.Max.X - s.data.Min.X) / vg.Length(len(t.tenths.Counts))
}

func (t *TenthPicture) tell(s *sheet, at vg.Point) (readout, bool) {
	if at.X < s.data.Min.X || at.X > s.data.Max.X || at.Y > s.data.Max.Y || at.Y < 0 {
		return readout{}, false
	}
	i := int(math.Round(s.x.value(float64((at.X - s.data.Min.X) / (s.data.Max.X - s.data.Min.X)))))
	i = max(0, min(i, len(t.tenths.Counts)-1))
	n := t.tenths.Counts[i]
	x, room := s.atX(float64(i)), t.room(s)
	r := readout{
		at:   vg.Point{X: x, Y: s.atY(float64(max(n, 0)))},
		from: vg.Point{X: x - room/2, Y: s.data.Min.Y}, to: vg.Point{X: x + room/2, Y: s.data.Max.Y},
	}
	part := map[string]any{"From": percent(float64(i) / float64(len(t.tenths.Counts))), "To": percent(float64(i+1) / float64(len(t.tenths.Counts)))}
	r.lines = []string{lang.X("picture.tenth.part", "from {{.From}} to {{.To}} of the way up the band", part)}
	sales := lang.X("picture.tenth.many", "{{.Sales}} sales", map[string]any{"Sales": strconv.Itoa(n)})
	if n == 1 {
		sales = lang.X("picture.tenth.one", "1 sale")
	}
	chance := map[string]any{"Sales": sales, "Least": strconv.Itoa(t.tenths.Least), "Most": strconv.Itoa(t.tenths.Most)}
	if t.odd(n) {
		r.lines = append(r.lines, lang.X("picture.tenth.isodd", "{{.Sales}}, beyond the {{.Least}} to {{.Most}} of chance", chance))
	} else {
		r.lines = append(r.lines, lang.X("picture.tenth.is", "{{.Sales}}; chance would give {{.Least}} to {{.Most}}", chance))
	}
	return r, true
}

func (t *TenthPicture) least() fyne.Size { return fyne.NewSize(280, 180) }
