package picture

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"skegworth/valuation/money"
)

// Hinge is what the top price would be with one thing at either end of its range, and all else as it is.
type Hinge struct {
	Name      string
	Low, High money.Amount // the top price at the worse end and at the better
	Worse     string       // what the worse end is, such as "finished"; "" leaves it unsaid
	Better    string
	Words     string // the whole in one sentence, for reading out
}

// HingePicture shows what a top price hangs on, a bar for each thing, the longest first, around the top
// price as it is. Each bar has what its ends come to beside it.
type HingePicture struct {
	Chart

	currency money.Currency
	top      money.Amount
	hinges   []Hinge
}

// NewHingePicture shows amounts of a currency.
func NewHingePicture(c money.Currency) *HingePicture {
	h := &HingePicture{currency: c}
	h.start(h)
	return h
}

// SetHinges gives the bars from the top down, and the top price that they stand around.
func (h *HingePicture) SetHinges(top money.Amount, hinges []Hinge) {
	h.top, h.hinges = top, append([]Hinge(nil), hinges...)
	h.changed()
}

const hingeRow = 26

func (h *HingePicture) draw(s *sheet) {
	s.caption = lang.X("picture.hinge.caption", "What the top price would be with each thing at its worse and at its better end")
	if len(h.hinges) == 0 {
		s.nothing = lang.X("picture.hinge.nothing", "Nothing moves the top price by itself.")
		return
	}
	f := h.currency.Float
	shown, more := s.rowsFitting(len(h.hinges), hingeRow)
	s.x = axis{label: func(v float64) string { return h.currency.Whole(h.currency.FromFloat(v)) }, finest: 1}
	s.x.span(f(h.top))
	var names []string
	var end vg.Length
	for _, v := range h.hinges[:shown] {
		s.x.span(f(v.Low), f(v.High))
		names = append(names, v.Name)
		end = max(end, s.wide(h.endWords(v.Low, v.Worse)), s.wide(h.endWords(v.High, v.Better)))
	}
	h.makeRoom(s, names, end+s.u(8))
	s.setRows(names, more)
	s.key = []keyEntry{
		{lang.X("picture.hinge.worse", "worse"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			s.overBar(c, vg.Point{X: b.Min.X, Y: middle(b).Y - s.u(5)}, vg.Point{X: b.Max.X, Y: middle(b).Y + s.u(5)})
		}},
		{lang.X("picture.hinge.better", "better"), func(c draw.Canvas, s *sheet, b vg.Rectangle) {
			s.box(c, vg.Point{X: b.Min.X, Y: middle(b).Y - s.u(5)}, vg.Point{X: b.Max.X, Y: middle(b).Y + s.u(5)}, s.main)
		}},
	}
	s.marks = append(s.marks, mark{at: f(h.top), clr: s.good, width: 2,
		words: lang.X("picture.profit.top", "top price {{.Price}}", map[string]any{"Price": h.currency.Whole(h.top)})})
	s.layers = []layer{func(c draw.Canvas, s *sheet) {
		for i, v := range h.hinges[:shown] {
			m, _ := s.row(i)
			h.bar(c, s, v, m)
		}
	}}
}

// makeRoom widens the axis by what the words at either end of the longest bars take.
func (h *HingePicture) makeRoom(s *sheet, names []string, words vg.Length) {
	var name vg.Length
	for _, n := range names {
		name = max(name, min(s.wide(n), s.width*2/5))
	}
	room := s.width - name - s.u(24)
	if s.x.most <= s.x.least {
		s.x.most = s.x.least + 1
	}
	if room > 3*words {
		by := (s.x.most - s.x.least) * float64(words/(room-2*words))
		s.x.least, s.x.most = s.x.least-by, s.x.most+by
		return
	}
	s.x.roomy(0.05)
}

func (h *HingePicture) endWords(a money.Amount, what string) string {
	price := h.currency.Whole(a)
	if a < 0 {
		price = lang.X("picture.hinge.never", "at no price")
	}
	if what == "" {
		return price
	}
	return lang.X("picture.hinge.end", "{{.Price}} if {{.What}}", map[string]any{"Price": price, "What": what})
}

// bar runs from the worse end, in slanted lines, through the top price to the better end, solid. What the
// ends come to stands beside them where there is room on the sheet.
func (h *HingePicture) bar(c draw.Canvas, s *sheet, v Hinge, m vg.Length) {
	half := s.u(6)
	f := h.currency.Float
	low, top, high := s.atX(f(v.Low)), s.atX(f(h.top)), s.atX(f(v.High))
	if turn := min(top, high); turn > low {
		s.overBar(c, vg.Point{X: low, Y: m - half}, vg.Point{X: turn, Y: m + half})
	}
	if turn := max(top, low); turn < high {
		s.box(c, vg.Point{X: turn, Y: m - half}, vg.Point{X: high, Y: m + half}, s.main)
	}
	gap := s.u(4)
	if words := h.endWords(v.Low, v.Worse); low-gap-s.wide(words) >= s.data.Min.X {
		s.tag(c, vg.Point{X: low - gap, Y: m}, -1, s.words, words)
	}
	if words := h.endWords(v.High, v.Better); high+gap+s.wide(words) <= s.width {
		s.tag(c, vg.Point{X: high + gap, Y: m}, 0, s.words, words)
	}
}

func (h *HingePicture) tell(s *sheet, at vg.Point) (readout, bool) {
	shown, _ := s.rowsFitting(len(h.hinges), hingeRow)
	i := s.rowUnder(at, shown)
	if i < 0 {
		return readout{}, false
	}
	v := h.hinges[i]
	lines := []string{v.Name, v.Words}
	if v.Words == "" {
		lines = []string{v.Name, lang.X("picture.hinge.read", "worse: {{.Worse}}; better: {{.Better}}",
			map[string]any{"Worse": h.endWords(v.Low, v.Worse), "Better": h.endWords(v.High, v.Better)})}
	}
	return s.aroundRow(i, s.atX(h.currency.Float(v.High)), lines...), true
}

func (h *HingePicture) least() fyne.Size { return leastRows(len(h.hinges), hingeRow) }
