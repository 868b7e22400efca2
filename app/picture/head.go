package picture

import (
	"image/color"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// keyEntry says what a sign means.
type keyEntry struct {
	words string
	sign  func(c draw.Canvas, s *sheet, box vg.Rectangle) // draws the sign into a box
}

// placed is a piece of the head where it goes; at is the left end of the middle of its line.
type placed struct {
	at    vg.Point
	words string
	clr   color.Color
	sign  func(c draw.Canvas, s *sheet, box vg.Rectangle)
}

// A sign of the key is so wide and high, in units.
const signWide, signHigh = 18.0, 10.0

// layHead places the caption and the key from the left, over as many lines as they need, and takes their
// room from the top of the area.
func (s *sheet) layHead() {
	left, right := s.u(4), s.width-s.u(4)
	line := s.u(lineText + 2)
	x, y := left, s.height-line/2-s.u(2)
	if s.caption != "" {
		for i, words := range s.wrap(s.caption, right-left) {
			if i > 0 {
				y -= line
			}
			s.head = append(s.head, placed{at: vg.Point{X: left, Y: y}, words: words, clr: s.words})
			x = left + s.wide(words) + s.u(20)
		}
	}
	for _, k := range s.key {
		words := s.cut(k.words, right-left-s.u(signWide+6))
		w := s.u(signWide+6) + s.wide(words)
		if x > left && x+w > right {
			x, y = left, y-line
		}
		s.head = append(s.head, placed{at: vg.Point{X: x, Y: y}, words: words, clr: s.quiet, sign: k.sign})
		x += w + s.u(16)
	}
	if len(s.head) > 0 {
		s.area.Max.Y = y - line/2 - s.u(6)
	} else {
		s.area.Max.Y -= s.u(8)
	}
}

func (s *sheet) drawHead(c draw.Canvas) {
	for _, h := range s.head {
		x := h.at.X
		if h.sign != nil {
			half := vg.Point{X: s.u(signWide) / 2, Y: s.u(signHigh) / 2}
			middle := vg.Point{X: x + half.X, Y: h.at.Y}
			h.sign(c, s, vg.Rectangle{Min: middle.Sub(half), Max: middle.Add(half)})
			x += s.u(signWide + 6)
		}
		s.write(c, vg.Point{X: x, Y: h.at.Y}, 0, h.clr, h.words)
	}
}

// wrap breaks words into lines of at most a width; a single word that is longer is cut.
func (p pen) wrap(words string, width vg.Length) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(words) {
		switch {
		case line == "":
			line = w
		case p.wide(line+" "+w) <= width:
			line += " " + w
		default:
			lines = append(lines, p.cut(line, width))
			line = w
		}
	}
	if line != "" {
		lines = append(lines, p.cut(line, width))
	}
	return lines
}
