package picture

import (
	"image/color"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// mark is a named upright line at a value.
type mark struct {
	at     float64
	words  string
	clr    color.Color
	width  float64 // units
	dashes []float64

	lane vg.Length // middle of its name, from below
}

// layMarks gives each mark's name a place in as few lanes above the chart as keep them apart, and tells
// how high the lanes are together. Marks outside the axis are named at its end.
func (s *sheet) layMarks() vg.Length {
	order := make([]int, len(s.marks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case s.marks[a].at < s.marks[b].at:
			return -1
		case s.marks[a].at > s.marks[b].at:
			return 1
		}
		return 0
	})
	s.lane = make([]vg.Length, len(s.marks))
	lanes := []vg.Length{} // where each lane is taken up to
	in := make([]int, len(s.marks))
	gap := s.u(10)
	for _, i := range order {
		w := s.wide(s.marks[i].words)
		middle := s.atX(s.marks[i].at)
		middle = min(middle, s.width-s.u(4)-w/2)
		middle = max(middle, s.u(4)+w/2)
		k := 0
		for k < len(lanes) && lanes[k] > middle-w/2 {
			k++
		}
		if k == len(lanes) {
			lanes = append(lanes, 0)
		}
		lanes[k] = middle + w/2 + gap
		in[i], s.lane[i] = k, middle
	}
	line := s.u(lineText)
	high := vg.Length(len(lanes))*line + s.u(2)
	for i := range s.marks {
		s.marks[i].lane = s.area.Max.Y - line*(vg.Length(in[i])+0.5)
	}
	return high
}

func (s *sheet) drawMarks(c draw.Canvas) {
	for i, m := range s.marks {
		x := s.atX(m.at)
		if x < s.data.Min.X-1 || x > s.data.Max.X+1 {
			s.write(c, vg.Point{X: s.lane[i], Y: m.lane}, -0.5, s.quiet, m.words)
			continue
		}
		c.StrokeLine2(s.stroke(m.clr, m.width, m.dashes...), x, s.data.Min.Y, x, m.lane-s.u(lineText)/2)
	}
	// Names over lines, each on a patch of the page so that a line of a lower lane passes behind it.
	for i, m := range s.marks {
		at := vg.Point{X: s.lane[i], Y: m.lane}
		half := vg.Point{X: s.wide(m.words)/2 + s.u(2), Y: s.u(lineText) / 2}
		c.SetColor(s.page)
		c.Fill(vg.Rectangle{Min: at.Sub(half), Max: at.Add(half)}.Path())
		s.write(c, at, -0.5, s.words, m.words)
	}
}
