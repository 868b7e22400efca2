package paper

import (
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"skegworth/valuation/say"
)

// All lengths are millimetres, sizes of letters points.
const (
	side   = 18.0 // margins
	top    = 14.0
	bottom = 15.5
	point  = 25.4 / 72
	hair   = 0.15 // lines
	rule   = 0.35
	gap    = 5.0 // between two columns
)

// style is how letters look.
type style struct {
	size float64
	bold bool
	pale bool // dark grey, still black enough on any printer
}

var (
	plainText = style{size: 9.5}
	boldText  = style{size: 9.5, bold: true}
	noteText  = style{size: 8, pale: true}
	labelText = style{size: 7.5, pale: true}
	headText  = style{size: 11, bold: true}
	titleText = style{size: 19, bold: true}
	saidText  = style{size: 12, bold: true}
)

// leading is the height of a line of text.
func (st style) leading() float64 { return st.size * point * 1.3 }

// sheet is a page being laid out, and the place reached on it.
type sheet struct {
	Setup
	pdf    *fpdf.Fpdf
	kind   string // what kind of page it is, in the reader's language
	about  string
	wide   float64
	high   float64
	y      float64
	page   int
	pages  int    // in all; 0 while they are counted
	lacked bool   // a letter that the font has not was met
	again  func() // repeats the heading of what goes over the end of a page
}

func (s *sheet) say(x say.Sentence) string { return s.Say(x) }
func (s *sheet) width() float64            { return s.wide - 2*side }
func (s *sheet) end() float64              { return s.high - bottom }
func (s *sheet) left() float64             { return s.end() - s.y }

// turn begins a new page.
func (s *sheet) turn() {
	s.pdf.AddPage()
	s.page++
	s.foot()
	s.y = top
	if s.page > 1 {
		s.write(side, s.y, s.width()/2, clipped(s.about, 90), labelText, left)
		s.write(side+s.width()/2, s.y, s.width()/2, s.kind, labelText, right)
		s.y += labelText.leading() + 1
		s.line(side, s.y, side+s.width(), s.y, hair)
		s.y += 4
	}
	if s.again != nil {
		s.again()
	}
}

func (s *sheet) foot() {
	y := s.end() + 3
	s.line(side, y, side+s.width(), y, hair)
	y += 1.5
	words := []string{}
	for _, w := range []string{clipped(s.Shop, 60), s.kind, s.Today.String()} {
		if w != "" {
			words = append(words, w)
		}
	}
	s.write(side, y, s.width()*0.7, clipped(strings.Join(words, " · "), 110), labelText, left)
	if s.pages > 0 {
		s.write(side+s.width()*0.7, y, s.width()*0.3,
			s.say(say.New("page.pages", "page {{.Page}} of {{.Pages}}", "Page", s.page, "Pages", s.pages)), labelText, right)
	}
	if s.lacked {
		s.write(side, y+labelText.leading(), s.width(), s.say(say.New("page.lacked", "{{.Sign}} stands for a sign that there is no letter for here.", "Sign", string(noLetter))), labelText, left)
	}
}

// need turns the page where there is not so much room left on it.
func (s *sheet) need(height float64) {
	if s.left() < height && s.y > top+12 {
		s.turn()
	}
}

// line draws a line.
func (s *sheet) line(x1, y1, x2, y2, thick float64) {
	s.pdf.SetLineWidth(thick)
	s.pdf.SetDrawColor(0, 0, 0)
	s.pdf.Line(x1, y1, x2, y2)
}

// box draws an empty box to tick.
func (s *sheet) box(x, y, size float64) { s.frame(x, y, size, size) }

// frame draws the four sides of a field.
func (s *sheet) frame(x, y, width, height float64) {
	s.pdf.SetLineWidth(0.25)
	s.pdf.SetDrawColor(0, 0, 0)
	s.pdf.Rect(x, y, width, height, "D")
}

func (s *sheet) use(st style) {
	bold := ""
	if st.bold {
		bold = "B"
	}
	s.pdf.SetFont(family, bold, st.size)
	grey := 0
	if st.pale {
		grey = 70
	}
	s.pdf.SetTextColor(grey, grey, grey)
}

// lines breaks a text into lines no wider than that, at blanks where it can.
func (s *sheet) lines(text string, st style, width float64) []string {
	s.use(st)
	var out []string
	blank := s.pdf.GetStringWidth(" ")
	for _, paragraph := range strings.Split(strings.TrimRight(s.plain(text), "\n "), "\n") {
		line, used := "", 0.0
		for _, word := range strings.FieldsFunc(paragraph, func(r rune) bool { return r == ' ' }) {
			wide := s.pdf.GetStringWidth(word)
			if line != "" && used+blank+wide <= width {
				line, used = line+" "+word, used+blank+wide
				continue
			}
			if line != "" {
				out, line, used = append(out, line), "", 0
			}
			for wide > width { // a word longer than the line
				n := s.fits(word, width)
				out = append(out, word[:n])
				word = word[n:]
				wide = s.pdf.GetStringWidth(word)
			}
			line, used = word, wide
		}
		out = append(out, line)
	}
	return out
}

// fits is how many bytes of a word fit a line; at least one letter.
func (s *sheet) fits(word string, width float64) int {
	used := 0.0
	for i, r := range word {
		used += s.pdf.GetStringWidth(string(r))
		if used > width && i > 0 {
			return i
		}
	}
	return len(word)
}

// align is the side of its column that a text keeps to.
type align int

const (
	left align = iota
	right
	middle
)

// write puts a text at a place without looking for room, and says how high it is.
func (s *sheet) write(x, y, width float64, text string, st style, a align) float64 {
	lines := s.lines(text, st, width)
	s.put(x, y, width, lines, st, a)
	return float64(len(lines)) * st.leading()
}

// put writes lines that were broken before.
func (s *sheet) put(x, y, width float64, lines []string, st style, a align) {
	s.use(st)
	for i, line := range lines {
		if line == "" {
			continue
		}
		line = visual(line)
		at := x
		switch a {
		case right:
			at = x + width - s.pdf.GetStringWidth(line)
		case middle:
			at = x + (width-s.pdf.GetStringWidth(line))/2
		}
		s.pdf.Text(at, y+float64(i)*st.leading()+st.size*point*0.98, line)
	}
}

// flow writes a text over the width of the page, over the end of it where it must.
func (s *sheet) flow(text string, st style) { s.flowIn(side, s.width(), text, st) }

func (s *sheet) flowIn(x, width float64, text string, st style) {
	if strings.TrimSpace(text) == "" {
		return
	}
	lines := s.lines(text, st, width)
	if len(lines) <= 4 {
		s.need(float64(len(lines)) * st.leading())
	}
	for _, line := range lines {
		s.need(st.leading())
		s.put(x, s.y, width, []string{line}, st, left)
		s.y += st.leading()
	}
}

// space leaves some room.
func (s *sheet) space(height float64) { s.y += height }

// title opens the first page: what kind it is, what of, and a line of description.
func (s *sheet) title(text, below string) {
	s.write(side, s.y, s.width()*0.6, clipped(s.Shop, 120), style{size: 9, bold: true}, left)
	s.write(side+s.width()*0.6, s.y, s.width()*0.4, s.kind, style{size: 9, pale: true}, right)
	h := max(float64(len(s.lines(clipped(s.Shop, 120), style{size: 9, bold: true}, s.width()*0.6))), 1) * style{size: 9}.leading()
	s.y += h + 1.2
	s.line(side, s.y, side+s.width(), s.y, rule)
	s.y += 4
	st := titleText
	if len(s.lines(text, st, s.width())) > 2 {
		st.size = 13
	}
	s.y += s.write(side, s.y, s.width(), clipped(text, 300), st, left) + 0.5
	if below != "" {
		s.y += s.write(side, s.y, s.width(), below, style{size: 10, pale: true}, left)
	}
	s.y += 3
}

// section is a heading with what stands under it: its first lines, so high, stay with the heading. Where it
// goes over the end of the page the heading is repeated.
func (s *sheet) section(heading say.Sentence, keep float64, body func()) {
	s.again = nil
	s.y += 2
	s.need(headText.leading() + 3 + keep)
	text := s.say(heading)
	s.heading(text)
	s.again = func() { s.heading(s.say(say.New("page.continued", "{{.Heading}}, continued", "Heading", text))) }
	body()
	s.again = nil
}

func (s *sheet) heading(text string) {
	s.y += s.write(side, s.y, s.width(), text, headText, left) + 0.6
	s.line(side, s.y, side+s.width(), s.y, hair)
	s.y += 1.8
}

// bullets are sentences one under the other, each with a dash before it.
func (s *sheet) bullets(all []string, st style) {
	for _, text := range all {
		if strings.TrimSpace(text) == "" {
			continue
		}
		lines := s.lines(text, st, s.width()-4)
		if len(lines) <= 6 {
			s.need(float64(len(lines)) * st.leading())
		}
		for i, line := range lines {
			s.need(st.leading())
			if i == 0 {
				s.put(side, s.y, 4, []string{"–"}, st, left)
			}
			s.put(side+4, s.y, s.width()-4, []string{line}, st, left)
			s.y += st.leading()
		}
		s.y += 0.7
	}
}

// bulletsHigh is the room that they take.
func (s *sheet) bulletsHigh(all []string, st style) (high float64) {
	for _, text := range all {
		high += float64(len(s.lines(text, st, s.width()-4)))*st.leading() + 0.7
	}
	return high
}

// said is each sentence in the reader's language.
func (s *sheet) said(all ...say.Sentence) []string {
	out := make([]string, 0, len(all))
	for _, x := range all {
		if !x.Empty() {
			out = append(out, capital(s.say(x)))
		}
	}
	return out
}

// fact is a label with what is known.
type fact struct {
	label say.Sentence
	value string
}

// facts stand in columns beside each other; those without a value are left out.
func (s *sheet) facts(columns int, all ...fact) {
	var known []fact
	for _, f := range all {
		if strings.TrimSpace(f.value) != "" {
			known = append(known, f)
		}
	}
	width := (s.width() - float64(columns-1)*gap) / float64(columns)
	look := plainText
	if columns > 4 {
		look.size = 8.5
	}
	for i := 0; i < len(known); i += columns {
		row := known[i:min(len(known), i+columns)]
		high := 0.0
		for _, f := range row {
			high = max(high, float64(len(s.lines(f.value, look, width)))*look.leading())
		}
		high += labelText.leading()
		s.need(min(high, 60))
		if high > s.left() { // too long for the page: one under the other
			for _, f := range row {
				s.flow(s.say(f.label), labelText)
				s.flow(f.value, look)
			}
			continue
		}
		for j, f := range row {
			x := side + float64(j)*(width+gap)
			s.write(x, s.y, width, capital(s.say(f.label)), labelText, left)
			s.write(x, s.y+labelText.leading(), width, f.value, look, left)
		}
		s.y += high + 1.1
	}
}

// blank is a line to write on by hand, with its label under it.
func (s *sheet) blank(x, y, width float64, label string) {
	s.line(x, y, x+width, y, hair)
	s.write(x, y+0.6, width, capital(label), labelText, left)
}
