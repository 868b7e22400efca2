package intake

import (
	"fmt"
	"io"
	"slices"

	"skegworth/valuation/say"
)

// table is a file read into rows, with its header found.
type table struct {
	sheet  string // it was read from, "" for text
	header header
	found  bool   // the header has every needed column
	lines  []line // below the header, blank ones left out
	cells  int    // in them
	grid   bool   // a worksheet, where a cell cannot slip into the next column
	date4  bool   // the workbook counts days from 1904
	notes  []say.Sentence
}

// readTable reads a whole file. Everything that is wrong with it as a whole is the error.
func readTable(r io.Reader, want wanted) (table, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxFile+1))
	if err != nil {
		return table{}, err
	}
	if len(data) > MaxFile {
		return table{}, fmt.Errorf("%w: at most %d MB are read", ErrTooLarge, MaxFile>>20)
	}
	kind, err := sniff(data)
	if err != nil {
		return table{}, err
	}
	var t table
	if kind == workbook {
		t, err = readWorkbook(data, want)
	} else {
		t, err = readText(data, want)
	}
	if err != nil {
		return t, err
	}
	if len(t.lines) == 0 {
		return table{}, fmt.Errorf("%w, which is line %d", ErrNoRows, t.header.line)
	}
	t.notes = append(t.notes, t.header.notes()...)
	return t, nil
}

// fill takes rows from next until it says that there are no more: the header from the first of them,
// and all below it. A table whose header was not found has the nearest to one, with how many of the
// needed columns it names, and the rows that were looked at.
func fill(next func() (line, bool, error), want wanted) (t table, score int, err error) {
	var top []line
	l, more, err := next()
	for ; err == nil && more && l.number <= HeaderWithin; l, more, err = next() {
		top = append(top, l)
	}
	if err != nil {
		return table{}, 0, err
	}
	h, at, score := findHeader(top, want)
	if want.layout != nil && at < 0 && len(top) > 0 {
		return table{}, 0, errMoved
	}
	if t.header = h; len(h.missing(want)) > 0 {
		t.nearest(top, at)
		return t, score, nil
	}
	t.found = true
	t.above(top[:at])
	for _, l := range top[at+1:] {
		if err := t.keep(l); err != nil {
			return table{}, 0, err
		}
	}
	for ; err == nil && more; l, more, err = next() {
		if err := t.keep(l); err != nil {
			return table{}, 0, err
		}
	}
	if err != nil {
		return table{}, 0, err
	}
	return t, score, nil
}

// nearest keeps the first rows of a table whose header was not found, below what comes nearest to one: the
// first row with anything in it where no heading is known.
func (t *table) nearest(top []line, at int) {
	if at < 0 {
		at = slices.IndexFunc(top, func(l line) bool { return !l.blank() && l.broken.Empty() })
		if at < 0 {
			t.lines = top
			return
		}
		t.header = header{line: top[at].number, width: len(top[at].cells), row: top[at]}
	}
	for _, l := range top[at+1:] {
		if !l.blank() {
			t.lines = append(t.lines, l)
		}
	}
}

// above says which lines stood above the header.
func (t *table) above(lines []line) {
	for _, l := range lines {
		if !l.blank() {
			t.notes = append(t.notes, say.New("intake.above", "The headings stand on line {{.Line}}; what is above was passed over.", "Line", t.header.line))
			return
		}
	}
}

// keep puts a row below the header into the table: blank rows and the header said again (as on every
// printed page) are passed over.
func (t *table) keep(l line) error {
	if l.blank() || t.repeats(l) {
		return nil
	}
	if len(t.lines) == MaxRows {
		return fmt.Errorf("%w: at most %d rows are read", ErrTooLarge, MaxRows)
	}
	if t.cells += len(l.cells); t.cells > maxCells {
		return fmt.Errorf("%w: more than %d cells", ErrTooLarge, maxCells)
	}
	t.lines = append(t.lines, l)
	return nil
}

func (t *table) repeats(l line) bool {
	if !l.broken.Empty() {
		return false
	}
	for _, c := range t.header.columns {
		if l.at(c.index).text != c.heading {
			return false
		}
	}
	return true
}

// notes says what was passed over in and above the header.
func (h header) notes() []say.Sentence {
	var out []say.Sentence
	if len(h.unknown) > 0 {
		out = append(out, say.New("intake.unknown", "Columns not known and passed over: {{.Columns}}.", "Columns", quoteAll(h.unknown)))
	}
	if len(h.doubled) > 0 {
		out = append(out, say.New("intake.doubled", "Columns passed over because another gives the same: {{.Columns}}.", "Columns", quoteAll(h.doubled)))
	}
	if len(h.unused) > 0 {
		out = append(out, say.New("intake.unused", "Columns of no use in this list: {{.Columns}}.", "Columns", quoteAll(h.unused)))
	}
	return out
}
