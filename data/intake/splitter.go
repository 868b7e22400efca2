package intake

import (
	"strings"

	"skegworth/valuation/say"
)

// maxSpan is how many physical lines one row may go over, through line breaks within quotes. A quote
// that is never closed would otherwise swallow good rows up to the next one.
const maxSpan = 100

var (
	unclosed = say.New("intake.unclosed", "a quotation mark is not closed")
	stray    = say.New("intake.stray", "a quotation mark stands within a quoted cell, or one is missing")
)

// splitter cuts a text into the rows and cells of RFC 4180. Beyond the standard it takes any separator,
// line ends of either kind, quotes within a cell that does not begin with one (12" shaft), and blanks
// before a quote.
//
// The standard library's reader reads a whole record before any limit can be put to it, and loses its
// place at a broken quote. Here each limit holds while reading, and after a broken row reading goes on
// at the next physical line. Where both understand a text they agree; the tests hold them together.
type splitter struct {
	rest      string
	separator byte
	number    int // physical line at which rest begins
}

func newSplitter(s string, separator byte, number int) *splitter {
	return &splitter{rest: s, separator: separator, number: number}
}

// next is the next row that is not an empty line; false at the end.
func (s *splitter) next() (line, bool) {
	i := 0
	for {
		if i < len(s.rest) && s.rest[i] == '\n' {
			i++
		} else if strings.HasPrefix(s.rest[i:], "\r\n") {
			i += 2
		} else {
			break
		}
	}
	s.skip(i)
	if s.rest == "" {
		return line{}, false
	}
	l := line{number: s.number}
	end, why := s.row(&l)
	if !why.Empty() {
		l = line{number: s.number, broken: why}
		if end = strings.IndexByte(s.rest, '\n') + 1; end == 0 {
			end = len(s.rest)
		}
	}
	s.skip(end)
	return l, true
}

func (s *splitter) skip(n int) {
	s.number += strings.Count(s.rest[:n], "\n")
	s.rest = s.rest[n:]
}

// row reads the cells of one row and gives where the next begins, or why it cannot be read.
func (s *splitter) row(l *line) (end int, why say.Sentence) {
	t := s.rest
	for i := 0; ; {
		if len(l.cells) == MaxColumns {
			return 0, say.New("intake.wide", "the row has more than {{.Most}} cells", "Most", MaxColumns)
		}
		var value string
		if q := i + quoteAhead(t[i:], s.separator); q < len(t) && t[q] == '"' {
			if value, i, why = s.quoted(q + 1); !why.Empty() {
				return 0, why
			}
		} else {
			stop := strings.IndexAny(t[i:], string([]byte{s.separator, '\n'}))
			if stop < 0 {
				stop = len(t) - i
			}
			value, i = t[i:i+stop], i+stop
		}
		if len(value) > MaxCell {
			return 0, say.New("intake.long", "a cell is longer than {{.Most}} letters", "Most", MaxCell)
		}
		if strings.IndexByte(value, 0) >= 0 {
			return 0, say.New("intake.zero", "the row holds a zero byte, which is no text")
		}
		l.cells = append(l.cells, cell{text: clean(value)})
		if i >= len(t) {
			return len(t), say.Sentence{}
		}
		i++ // past the separator or the line end
		if t[i-1] == '\n' {
			return i, say.Sentence{}
		}
	}
}

// quoted reads a quoted cell whose text begins at start, and gives where the separator or line end
// after it stands.
func (s *splitter) quoted(start int) (value string, end int, why say.Sentence) {
	t := s.rest
	doubled := false
	for i := start; ; {
		q := strings.IndexByte(t[i:min(len(t), start+2*MaxCell+2)], '"')
		if q < 0 {
			return "", 0, unclosed
		}
		i += q + 1
		if i < len(t) && t[i] == '"' {
			doubled = true
			i++
			continue
		}
		value = t[start : i-1]
		if strings.Count(value, "\n") > maxSpan {
			return "", 0, unclosed
		}
		for i < len(t) && (t[i] == ' ' || t[i] == '\r') {
			i++
		}
		if i < len(t) && t[i] != s.separator && t[i] != '\n' {
			return "", 0, stray
		}
		if doubled {
			value = strings.ReplaceAll(value, `""`, `"`)
		}
		return value, i, say.Sentence{}
	}
}

// quoteAhead is how many blanks stand before the cell's text.
func quoteAhead(t string, separator byte) int {
	n := 0
	for n < len(t) && t[n] == ' ' && t[n] != separator {
		n++
	}
	return n
}
