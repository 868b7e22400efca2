package intake

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/currency"
)

// wanted says which columns a kind of list has.
type wanted struct {
	needed []string        // without these there is nothing to read
	unused map[string]bool // known columns that mean nothing in this list
	layout *Layout         // what the columns are to be taken for; nil to guess
}

var (
	salesHeader = wanted{
		needed: []string{sold, price, "power", "year", "stroke"},
		unused: map[string]bool{on: true},
	}
	motorsHeader = wanted{
		needed: []string{"power", "year", "stroke"},
		unused: map[string]bool{sold: true, price: true, listed: true, asked: true, channel: true, note: true},
	}
)

// column is one heading understood.
type column struct {
	index   int
	field   string // its word in the intake header
	heading string // as written in the file
	unit    string // unit or currency named in the heading, folded: "kw" of "Power (kW)"
	exact   bool   // the heading is the field's own word
	yes, no string // what yes and no stand for, where the heading asks a question
}

// header is the row of headings understood.
type header struct {
	line     int
	width    int // cells in the row
	columns  []column
	unknown  []string // headings nobody knows
	doubled  []string // headings of a field that another column already gives
	unused   []string // headings of fields that this list has no use for
	headings []string // every heading as written
	row      line     // as it stands in the file
}

// column finds the column of a field.
func (h header) column(field string) (column, bool) {
	for _, c := range h.columns {
		if c.field == field {
			return c, true
		}
	}
	return column{}, false
}

// missing lists the needed columns that are not there.
func (h header) missing(want wanted) []string {
	var out []string
	for _, field := range want.needed {
		if _, ok := h.column(field); !ok {
			out = append(out, field)
		}
	}
	return out
}

// identify understands one heading; ok is false when nobody knows it.
func identify(heading string, want wanted) (column, bool) {
	c := column{heading: heading}
	if c.name(fold(heading), want) {
		c.unit = ownUnit[fold(heading)]
		return c, true
	}
	rest := words(heading)
	for len(rest) > 1 && isUnit(rest[len(rest)-1]) {
		c.unit = rest[len(rest)-1]
		rest = rest[:len(rest)-1]
		if c.name(strings.Join(rest, ""), want) {
			return c, true
		}
	}
	return column{}, false
}

// name sets the field that a folded heading stands for. A word that two fields share, such as "date",
// goes to the one this list uses.
func (c *column) name(key string, want wanted) bool {
	var unused string
	for _, h := range headings {
		for i, n := range h.names {
			if n != key {
				continue
			}
			if want.unused[h.field] {
				unused = h.field
				break
			}
			c.field, c.exact = h.field, i == 0 || key == "condition"
			return true
		}
	}
	if a, ok := answers[key]; ok {
		c.field, c.yes, c.no = a.field, a.yes, a.no
		return true
	}
	c.field = unused
	return unused != ""
}

// ownUnit is for headings that are themselves a unit.
var ownUnit = map[string]string{"kw": "kw", "kilowatt": "kw", "kilowatts": "kw", "ps": "ps", "cv": "cv"}

// isUnit tells whether the last word of a heading is a unit or a currency rather than a name.
func isUnit(word string) bool {
	switch word {
	case "hp", "bhp", "kw", "kilowatt", "kilowatts", "ps", "cv", "in", "inch", "inches", "cm", "mm", "h", "hr", "hrs",
		"hours", "days", "psi", "bar", "kpa", "approx", "about":
		return true
	}
	if len(word) == 3 {
		_, err := currency.ParseISO(word)
		return err == nil
	}
	return false
}

// understand reads a row as headings.
func understand(l line, want wanted) header {
	h := header{line: l.number, width: len(l.cells), row: l}
	at := map[string]int{} // field to its place in h.columns
	for i, cell := range l.cells {
		if cell.text == "" {
			continue
		}
		h.headings = append(h.headings, cell.text)
		c, ok := identify(cell.text, want)
		c.index = i
		switch earlier, taken := at[c.field]; {
		case !ok:
			h.unknown = append(h.unknown, cell.text)
		case want.unused[c.field]:
			h.unused = append(h.unused, cell.text)
		case !taken:
			at[c.field] = len(h.columns)
			h.columns = append(h.columns, c)
		case c.exact && !h.columns[earlier].exact: // "date, sold, price": sold is meant
			h.doubled = append(h.doubled, h.columns[earlier].heading)
			h.columns[earlier] = c
		default:
			h.doubled = append(h.doubled, cell.text)
		}
	}
	return h
}

// findHeader looks for the headings among the first lines: the row with every needed column, or else
// the one that comes nearest. score is how many of the needed columns it has.
func findHeader(lines []line, want wanted) (found header, at, score int) {
	at = -1
	if want.layout != nil {
		for i, l := range lines {
			if l.number == want.layout.Line {
				h := want.layout.as(l, want)
				return h, i, len(want.needed) - len(h.missing(want))
			}
		}
		return header{}, -1, 0
	}
	for i, l := range lines {
		h := understand(l, want)
		s := len(want.needed) - len(h.missing(want))
		if s > score || s == score && s > 0 && len(h.columns) > len(found.columns) {
			found, at, score = h, i, s
		}
		if s == len(want.needed) {
			break
		}
	}
	return found, at, score
}

// lacking is the error for a file whose best row of headings does not do.
func lacking(h header, score int, want wanted) error {
	if score < 2 { // one word alone is more likely a word in a title
		return fmt.Errorf("%w in the first %d lines: one line must name the columns %s", ErrNoHeader, HeaderWithin,
			strings.Join(want.needed, ", "))
	}
	return fmt.Errorf("%w: line %d names %s, but no column is called %s", ErrNoColumns, h.line,
		quoteAll(h.headings), strings.Join(h.missing(want), " or "))
}

// quoteAll lists headings for a sentence, the first dozen, each shortened.
func quoteAll(all []string) string {
	var out []string
	for i, s := range all {
		if i == 12 {
			out = append(out, fmt.Sprintf("and %d more", len(all)-i))
			break
		}
		out = append(out, fmt.Sprintf("%q", short(s)))
	}
	return strings.Join(out, ", ")
}

// short cuts a text that came from a file to what a sentence can carry: one line of forty letters.
func short(s string) string {
	const most = 40
	if len(s) > 8*most {
		s = strings.ToValidUTF8(s[:8*most], "")
	}
	s = oneLine(s)
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// oneLine puts blanks where a text from a file would break a line or a screen.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' {
			return ' '
		}
		return r
	}, s)
}
