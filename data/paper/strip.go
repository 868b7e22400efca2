package paper

import (
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// mark is a price shown on a strip.
type mark struct {
	at   money.Amount
	name say.Sentence
}

// strip draws a band: a thin line for nineteen times in twenty, a thicker one for eight in ten, a box for
// half, and a tick at the middle, with the figures under it. Marks stand above it as pointers.
func (s *sheet) strip(b valuation.Band, marks ...mark) {
	low95, high95 := b.Interval(0.95)
	low80, high80 := b.Interval(0.8)
	low50, high50 := b.Interval(0.5)
	from, to := low95, high95
	for _, m := range marks {
		from, to = min(from, m.at), max(to, m.at)
	}
	if to <= from {
		return
	}
	const inset = 8.0
	wide := s.width() - 2*inset
	at := func(a money.Amount) float64 { return side + inset + wide*float64(a-from)/float64(to-from) }
	level := 0.0
	var lastEnd float64
	s.need(26)
	base := s.y + 4
	for range marks {
		base += labelText.leading()
	}
	for i, m := range marks { // each a line higher, so that none stands on another
		text := s.say(m.name)
		s.use(labelText)
		w := s.pdf.GetStringWidth(s.plain(text))
		x := min(max(at(m.at)-w/2, side), side+s.width()-w)
		y := s.y + float64(i)*labelText.leading()
		s.write(x, y, w+1, text, labelText, left)
		s.line(at(m.at), y+labelText.leading(), at(m.at), base-1.2, hair)
		s.pdf.SetFillColor(0, 0, 0)
		s.pdf.Line(at(m.at)-0.8, base-2.6, at(m.at), base-1.2)
		s.pdf.Line(at(m.at)+0.8, base-2.6, at(m.at), base-1.2)
	}
	s.line(at(low95), base+2, at(high95), base+2, 0.25)
	s.line(at(low80), base+2, at(high80), base+2, 0.9)
	s.pdf.SetFillColor(215, 215, 215)
	s.pdf.SetLineWidth(0.25)
	s.pdf.Rect(at(low50), base, at(high50)-at(low50), 4, "FD")
	s.line(at(b.Median()), base-0.8, at(b.Median()), base+4.8, 0.7)
	y := base + 5.2
	for _, a := range []money.Amount{low80, b.Median(), high80} {
		text := s.Currency.Whole(a)
		s.use(labelText)
		w := s.pdf.GetStringWidth(text)
		x := at(a) - w/2
		if x < lastEnd {
			level++
		}
		lastEnd = x + w + 1.5
		s.write(x, y+level*labelText.leading(), w+1, text, labelText, left)
	}
	s.y = y + (level+1)*labelText.leading() + 0.8
	s.flow(s.say(say.New("page.strip", "Box: half of such motors; thick line: eight times in ten; thin line: nineteen times in twenty; tick: the middle.")), labelText)
}
