package intake

import "strings"

// The separators that are tried, likeliest first.
var separators = []byte{',', ';', '\t'}

// sniffSeparator finds what stands between the cells. A first line "sep=;" says it outright, as some
// spreadsheets write; skip is then its length. Otherwise each separator is tried on the first lines,
// with quotes respected, and the one that yields the most known headings is taken; between equals, the
// one that splits the most lines into the same number of cells, more than one.
func sniffSeparator(s string, want wanted) (separator byte, skip int) {
	if len(s) >= 5 && strings.EqualFold(s[:4], "sep=") && strings.IndexByte(",;\t|:", s[4]) >= 0 {
		if end := strings.IndexByte(s, '\n'); end == 5 || end == 6 && s[5] == '\r' {
			return s[4], end + 1
		}
	}
	var best, known, even int
	for i, sep := range separators {
		lines := firstLines(s, sep)
		h, at, score := findHeader(lines, want)
		k, e := 2*score+len(h.columns), agreeing(lines[max(at, 0):])
		if i == 0 || k > known || k == known && e > even {
			best, known, even = i, k, e
		}
	}
	return separators[best], 0
}

// firstLines are the lines among which the header is looked for.
func firstLines(s string, separator byte) []line {
	var out []line
	r := newSplitter(s, separator, 1)
	for {
		l, more := r.next()
		if !more || l.number > HeaderWithin {
			return out
		}
		out = append(out, l)
	}
}

// agreeing counts the lines with as many cells as the first, when those are more than one.
func agreeing(lines []line) int {
	n := 0
	for _, l := range lines {
		if len(l.cells) > 1 && len(l.cells) == len(lines[0].cells) {
			n++
		}
	}
	return n
}
