package paper

import (
	"slices"

	"skegworth/valuation/say"
)

// column of a table.
type column struct {
	head   say.Sentence
	share  float64 // of the width
	figure bool    // right-aligned
	bold   bool
}

// grid is a table.
type grid struct {
	columns []column
	rows    [][]string
	sums    map[int]bool // rows that close those above them
	size    float64      // of its letters, 0 for the usual
}

const pad = 1.5 // within a cell

// table draws a table; where it goes over the end of the page its heads are repeated.
func (s *sheet) table(t grid) {
	if t.size == 0 {
		t.size = 9
	}
	all := 0.0
	for _, c := range t.columns {
		all += c.share
	}
	widths := make([]float64, len(t.columns))
	for i, c := range t.columns {
		widths[i] = s.width() * c.share / all
	}
	above := s.again
	heads := func() {
		if slices.IndexFunc(t.columns, func(c column) bool { return !c.head.Empty() }) < 0 {
			return
		}
		st := style{size: t.size - 1.5, bold: true}
		cells := make([]string, len(t.columns))
		for i, c := range t.columns {
			cells[i] = capital(s.say(c.head))
		}
		lines, high := s.cells(t, cells, widths, func(int) style { return st })
		s.need(high + 8)
		x := side
		for i := range cells {
			y := s.y + high - float64(len(lines[i]))*st.leading() // heads stand on the line
			s.put(x+t.inset(i), y, widths[i]-t.inset(i)-t.outset(i), lines[i], st, t.align(i))
			x += widths[i]
		}
		s.y += high + 0.8
		s.line(side, s.y, side+s.width(), s.y, rule)
		s.y += 0.6
	}
	heads()
	s.again = func() {
		if above != nil {
			above()
		}
		heads()
	}
	for i, row := range t.rows {
		s.row(t, row, widths, t.sums[i])
	}
	s.again = above
	s.y += 1
}

func (t grid) align(i int) align {
	if t.columns[i].figure {
		return right
	}
	return left
}

func (t grid) inset(i int) float64 {
	if i == 0 {
		return 0
	}
	return pad
}

func (t grid) outset(i int) float64 {
	if i == len(t.columns)-1 {
		return 0
	}
	return pad
}

// cells breaks the texts of a row into lines and says how high the highest is.
func (s *sheet) cells(t grid, row []string, widths []float64, look func(int) style) (lines [][]string, high float64) {
	for i, text := range row {
		st := look(i)
		broken := s.lines(text, st, widths[i]-t.inset(i)-t.outset(i))
		lines = append(lines, broken)
		high = max(high, float64(len(broken))*st.leading())
	}
	return lines, high
}

func (s *sheet) row(t grid, row []string, widths []float64, sum bool) {
	look := func(i int) style { return style{size: t.size, bold: sum || t.columns[i].bold} }
	lines, high := s.cells(t, row, widths, look)
	const air = 0.7
	if high < 80 {
		s.need(high + 2*air)
	}
	if sum {
		s.line(side, s.y, side+s.width(), s.y, rule)
	}
	s.y += air
	leading := style{size: t.size}.leading()
	for from := 0; ; { // a row longer than the page goes on on the next
		s.need(leading)
		most := max(1, int(s.left()/leading))
		x, more := side, false
		drawn := 0
		for i := range row {
			rest := lines[i][min(from, len(lines[i])):]
			now := rest[:min(most, len(rest))]
			s.put(x+t.inset(i), s.y, widths[i]-t.inset(i)-t.outset(i), now, look(i), t.align(i))
			more = more || len(rest) > most
			drawn = max(drawn, len(now))
			x += widths[i]
		}
		s.y += float64(drawn) * leading
		if from += most; !more {
			break
		}
		s.turn()
	}
	s.y += air
	s.pdf.SetDrawColor(150, 150, 150)
	s.pdf.SetLineWidth(0.1)
	s.pdf.Line(side, s.y, side+s.width(), s.y)
}
