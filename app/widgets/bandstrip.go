package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/valuation/money"
)

// Bands is a range of prices that can be asked for any level; a valuation.Band is one.
type Bands interface {
	Interval(level float64) (low, high money.Amount)
	Median() money.Amount
}

// StripMark is a price worth seeing against the band: what is asked, what was spent.
type StripMark struct {
	At    money.Amount
	Words string // in the user's language: "asked"
}

// BandStrip draws where a price is likely to fall: half of the time in the darkest bar, eight times in
// ten in the middle one, nineteen in twenty in the palest, a line at the middle price, and marks with
// their words. A sentence below says it too, and follows the mouse.
type BandStrip struct {
	widget.BaseWidget
	currency money.Currency
	levels   [3][2]money.Amount // 95, 80, 50
	median   money.Amount
	marks    []StripMark
	empty    bool
	bars     [3]*canvas.Rectangle
	middle   *canvas.Rectangle
	ticks    []*canvas.Rectangle
	words    []*canvas.Text
	ends     [3]*canvas.Text // low 80, median, high 80
	sentence *canvas.Text
	pointer  *canvas.Line
	over     bool
	at       float32
}

var _ desktop.Hoverable = (*BandStrip)(nil)

// NewBandStrip is empty.
func NewBandStrip(currency money.Currency) *BandStrip {
	s := &BandStrip{currency: currency, empty: true, middle: canvas.NewRectangle(color.Black),
		sentence: canvas.NewText("", color.Black), pointer: canvas.NewLine(color.Black)}
	for i := range s.bars {
		s.bars[i], s.ends[i] = canvas.NewRectangle(color.Black), canvas.NewText("", color.Black)
	}
	s.ExtendBaseWidget(s)
	return s
}

// SetBand shows a band with marks; nil shows none.
func (s *BandStrip) SetBand(b Bands, marks ...StripMark) {
	s.empty, s.marks, s.over = b == nil, marks, false
	if b != nil {
		for i, level := range []float64{0.95, 0.8, 0.5} {
			s.levels[i][0], s.levels[i][1] = b.Interval(level)
		}
		s.median = b.Median()
		s.empty = s.levels[0][1] <= s.levels[0][0]
	}
	s.ticks, s.words = nil, nil
	for _, m := range marks {
		s.ticks = append(s.ticks, canvas.NewRectangle(color.Black))
		s.words = append(s.words, canvas.NewText(m.Words+" "+s.currency.Whole(m.At), color.Black))
	}
	s.Refresh()
}

// Sentence is what stands below the strip.
func (s *BandStrip) Sentence() string { return s.sentence.Text }

func (s *BandStrip) extent() (low, high float64) {
	low, high = float64(s.levels[0][0]), float64(s.levels[0][1])
	for _, m := range s.marks {
		low, high = min(low, float64(m.At)), max(high, float64(m.At))
	}
	room := (high - low) * 0.04
	return low - room, high + room
}

func (s *BandStrip) x(a money.Amount) float32 {
	low, high := s.extent()
	return float32((float64(a) - low) / (high - low) * float64(s.Size().Width))
}

// say is the sentence for the price under the mouse, or for the band as a whole.
func (s *BandStrip) say() string {
	if s.empty {
		return lang.X("strip.none", "No band yet.")
	}
	chances := []string{
		lang.X("strip.95", "Nineteen times in twenty it sells between {{.Low}} and {{.High}}.", s.hole(0)),
		lang.X("strip.80", "Eight times in ten it sells between {{.Low}} and {{.High}}.", s.hole(1)),
		lang.X("strip.50", "Half of the time it sells between {{.Low}} and {{.High}}.", s.hole(2)),
	}
	if !s.over {
		return chances[1]
	}
	for i, m := range s.marks {
		if d := s.x(m.At) - s.at; d > -look.Scaled(5) && d < look.Scaled(5) {
			return s.words[i].Text
		}
	}
	if d := s.x(s.median) - s.at; d > -look.Scaled(4) && d < look.Scaled(4) {
		return lang.X("strip.median", "As often above {{.Middle}} as below it.", map[string]any{"Middle": s.currency.Whole(s.median)})
	}
	for i := 2; i >= 0; i-- {
		if s.at >= s.x(s.levels[i][0]) && s.at <= s.x(s.levels[i][1]) {
			return chances[i]
		}
	}
	return lang.X("strip.beyond", "Less than once in twenty does it sell out here.")
}

func (s *BandStrip) hole(i int) map[string]any {
	return map[string]any{"Low": s.currency.Whole(s.levels[i][0]), "High": s.currency.Whole(s.levels[i][1])}
}

// MouseIn is for the window library.
func (s *BandStrip) MouseIn(e *desktop.MouseEvent) { s.MouseMoved(e) }

// MouseMoved is for the window library.
func (s *BandStrip) MouseMoved(e *desktop.MouseEvent) {
	s.over, s.at = !s.empty, e.Position.X
	s.Refresh()
}

// MouseOut is for the window library.
func (s *BandStrip) MouseOut() { s.over = false; s.Refresh() }

// CreateRenderer is for the window library.
func (s *BandStrip) CreateRenderer() fyne.WidgetRenderer {
	r := &stripRenderer{s}
	r.Refresh()
	return r
}

type stripRenderer struct{ s *BandStrip }

func (r *stripRenderer) Destroy() {}

func (r *stripRenderer) MinSize() fyne.Size {
	line := fyne.MeasureText("0", theme.CaptionTextSize(), fyne.TextStyle{}).Height
	text := fyne.MeasureText("0", theme.TextSize(), fyne.TextStyle{}).Height
	return fyne.NewSize(look.Scaled(220), look.Scaled(30)+r.markLines()*line+line+text+look.Scaled(3*look.Tight))
}

// markLines is how many lines the words of the marks take above the bars.
func (r *stripRenderer) markLines() float32 {
	if len(r.s.marks) == 0 {
		return 0
	}
	return float32(min(len(r.s.marks), 3))
}

func (r *stripRenderer) Objects() []fyne.CanvasObject {
	s := r.s
	out := []fyne.CanvasObject{}
	for _, b := range s.bars {
		out = append(out, b)
	}
	out = append(out, s.middle, s.pointer)
	for i := range s.ticks {
		out = append(out, s.ticks[i], s.words[i])
	}
	for _, e := range s.ends {
		out = append(out, e)
	}
	return append(out, s.sentence)
}

func (r *stripRenderer) Layout(size fyne.Size) {
	s := r.s
	line := fyne.MeasureText("0", theme.CaptionTextSize(), fyne.TextStyle{}).Height
	bars, tall := r.markLines()*line, look.Scaled(30)
	heights := []float32{0.4, 0.7, 1} // of the bars, so that they tell apart without colour
	for i, b := range s.bars {
		b.Hidden = s.empty
		low, high, h := s.x(s.levels[i][0]), s.x(s.levels[i][1]), tall*heights[i]
		b.Move(fyne.NewPos(low, bars+(tall-h)/2))
		b.Resize(fyne.NewSize(max(high-low, 1), h))
	}
	s.middle.Hidden = s.empty
	s.middle.Move(fyne.NewPos(s.x(s.median)-look.Scaled(1), bars-look.Scaled(2)))
	s.middle.Resize(fyne.NewSize(look.Scaled(2), tall+look.Scaled(4)))
	s.pointer.Hidden = !s.over
	s.pointer.Position1, s.pointer.Position2 = fyne.NewPos(s.at, bars), fyne.NewPos(s.at, bars+tall)
	for i, m := range s.marks {
		x, lane := s.x(m.At), float32(i%3)
		s.ticks[i].Hidden, s.words[i].Hidden = s.empty, s.empty
		s.ticks[i].Move(fyne.NewPos(x-look.Scaled(1), lane*line+line*0.2))
		s.ticks[i].Resize(fyne.NewSize(look.Scaled(2), bars+tall-lane*line-line*0.2))
		words := s.words[i].MinSize()
		at := x + look.Scaled(5)
		if at+words.Width > size.Width {
			at = x - look.Scaled(5) - words.Width
		}
		s.words[i].Move(fyne.NewPos(max(0, at), lane*line))
		s.words[i].Resize(words)
	}
	r.layoutEnds(size, bars+tall+look.Scaled(look.Tight))
	h := s.sentence.MinSize().Height
	s.sentence.Move(fyne.NewPos(0, size.Height-h))
	s.sentence.Resize(fyne.NewSize(size.Width, h))
}

// layoutEnds puts the prices under the ends of the 80 bar and the middle, left out where they would run
// into each other.
func (r *stripRenderer) layoutEnds(size fyne.Size, y float32) {
	s := r.s
	var right float32 = -1
	order := []int{0, 1, 2}
	at := []money.Amount{s.levels[1][0], s.median, s.levels[1][1]}
	for _, i := range order {
		e := s.ends[i]
		words := e.MinSize()
		x := max(0, min(s.x(at[i])-words.Width/2, size.Width-words.Width))
		e.Hidden = s.empty || x < right+look.Scaled(6)
		if !e.Hidden {
			right = x + words.Width
		}
		e.Move(fyne.NewPos(x, y))
		e.Resize(words)
	}
}

func (r *stripRenderer) Refresh() {
	s := r.s
	main := theme.Color(theme.ColorNamePrimary)
	for i, alpha := range []uint8{0x38, 0x66, 0xc0} {
		s.bars[i].FillColor, s.bars[i].CornerRadius = look.Fade(main, alpha), look.Scaled(3)
		s.bars[i].Refresh()
	}
	s.middle.FillColor = look.Color(look.Plain)
	s.pointer.StrokeColor, s.pointer.StrokeWidth = look.Color(look.Quiet), 1
	for i := range s.ticks {
		s.ticks[i].FillColor = look.Color(look.Plain)
		s.words[i].Color, s.words[i].TextSize = look.Color(look.Plain), theme.CaptionTextSize()
	}
	for i, a := range []money.Amount{s.levels[1][0], s.median, s.levels[1][1]} {
		s.ends[i].Text, s.ends[i].TextSize, s.ends[i].Color = s.currency.Whole(a), theme.CaptionTextSize(), look.Color(look.Quiet)
	}
	s.ends[1].TextStyle.Bold = true
	s.sentence.Text, s.sentence.TextSize, s.sentence.Color = s.say(), theme.TextSize(), look.Color(look.Plain)
	r.Layout(s.Size())
	canvas.Refresh(s)
}
