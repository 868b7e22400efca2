package intake

import (
	"strings"
	"unicode"

	"skegworth/valuation/say"
)

// kind is what a cell was in the file. CSV knows only text; a workbook tells numbers from text, which
// settles what 1.480 means.
type kind uint8

const (
	text     kind = iota
	number        // a number as the workbook stores it, with a point
	dated         // a number shown as a date
	truth         // TRUE or FALSE
	fault         // an error such as #REF!
	unworked      // a formula whose value was never stored
	nothing       // a cell without a value, there for its looks
)

type cell struct {
	text string
	kind kind
}

// line is one row of a file before anything in it is understood.
type line struct {
	number int // physical line of a CSV file where the row begins, row of a worksheet
	cells  []cell
	broken say.Sentence // why the row cannot be read at all
}

// at is the cell in a column, blank beyond the end of the row.
func (l line) at(column int) cell {
	if column < len(l.cells) {
		return l.cells[column]
	}
	return cell{}
}

// blank tells whether nothing is written in the row.
func (l line) blank() bool {
	if !l.broken.Empty() {
		return false
	}
	for _, c := range l.cells {
		if c.text != "" {
			return false
		}
	}
	return true
}

// clean takes off what people do not see: blanks of every width around the text, marks of writing
// direction, byte order marks within a file glued from two, and a spreadsheet's own wrapping of text
// that must not become a number (="0815" and '0815).
func clean(s string) string {
	s = strings.TrimFunc(s, unseen)
	if len(s) >= 3 && strings.HasPrefix(s, `="`) && strings.HasSuffix(s, `"`) {
		s = strings.TrimFunc(s[2:len(s)-1], unseen)
	}
	if len(s) > 1 && s[0] == '\'' {
		s = strings.TrimFunc(s[1:], unseen)
	}
	return s
}

func unseen(r rune) bool {
	return unicode.IsSpace(r) || r == '\ufeff' || r == '\u200b' || r == '\u200e' || r == '\u200f' ||
		r == '\u202a' || r == '\u202c'
}

// notKnown tells whether a cell says in so many words that nothing is known.
func notKnown(s string) bool {
	switch strings.ToLower(s) {
	case "", "-", "--", "---", "\u2013", "\u2014", "?", "??", "???", "n/a", "na", "n.a.", "n.a", "#n/a",
		"nil", "null", "unknown", "not known", "unk", "unk.", "tbd", "?unknown", "don't know", "dont know":
		return true
	}
	return false
}
