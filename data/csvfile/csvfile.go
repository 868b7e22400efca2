// Package csvfile writes tables as comma-separated values (RFC 4180) that a spreadsheet can take for
// nothing but data, and reads them back exactly.
//
// Text that would start a formula is guarded by an apostrophe put before it, and so is text that begins
// with an apostrophe itself. A backslash is doubled, and a line break inside a cell becomes \n or \r, so
// that every row is one line. [Bare] undoes all of it. Figures are not text and carry no guard.
package csvfile

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

// starts of text that some spreadsheet takes for a formula, and the guard itself.
const starts = "=+-@\t\r\n'＝＋－＠"

var (
	escape   = strings.NewReplacer(`\`, `\\`, "\n", `\n`, "\r", `\r`)
	unescape = strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\r`, "\r")
)

// Guard is text as a cell holds it.
func Guard(s string) string {
	guarded := strings.ContainsAny(s[:min(len(s), 1)], starts)
	for _, wide := range []string{"＝", "＋", "－", "＠"} {
		guarded = guarded || strings.HasPrefix(s, wide)
	}
	if strings.ContainsAny(s, "\\\r\n") {
		s = escape.Replace(s)
	}
	if guarded {
		return "'" + s
	}
	return s
}

// ErrNotGuarded is returned for a cell that [Guard] cannot have written.
var ErrNotGuarded = errors.New("the cell was not written as these files write text")

// Bare is the text that a cell holds.
func Bare(cell string) (string, error) {
	s := strings.TrimPrefix(cell, "'")
	if strings.Contains(s, `\`) {
		s = unescape.Replace(s)
	}
	if Guard(s) != cell && cell != "'" {
		return "", ErrNotGuarded
	}
	return s, nil
}

// Writer writes rows, each ended by CR LF.
type Writer struct{ w *csv.Writer }

// NewWriter writes to w.
func NewWriter(w io.Writer) *Writer {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	return &Writer{out}
}

// Row writes cells as they are: text is to be guarded before.
func (w *Writer) Row(cells []string) error { return w.w.Write(cells) }

// Flush writes what is held back and tells whether everything was written.
func (w *Writer) Flush() error {
	w.w.Flush()
	return w.w.Error()
}

// longest row in bytes: a quote that is never shut must not fill the memory with the rest of the file.
const longest = 128 << 20

// ErrLong is returned for a row that goes on and on.
var ErrLong = fmt.Errorf("a row is longer than %d MB", longest>>20)

// Reader reads rows of one length.
type Reader struct {
	r     *csv.Reader
	l     *leash
	limit int
}

// NewReader reads rows of the given number of cells.
func NewReader(r io.Reader, cells int) *Reader {
	l := &leash{r: r}
	in := csv.NewReader(l)
	in.FieldsPerRecord = cells
	in.ReuseRecord = true
	return &Reader{in, l, longest}
}

// Row is the next row, good until the next call; io.EOF after the last.
func (r *Reader) Row() ([]string, error) {
	r.l.left = r.limit
	return r.r.Read()
}

// leash lets only so much be read for one row.
type leash struct {
	r    io.Reader
	left int
}

func (l *leash) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, ErrLong
	}
	n, err := l.r.Read(p)
	l.left -= n
	return n, err
}
