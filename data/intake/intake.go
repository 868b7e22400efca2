// Package intake takes past sales and lists of motors in from the files people have: CSV in any of its
// dialects, and XLSX workbooks.
//
// A file is never trusted and never half understood. What it could mean in two ways (which comes
// first, the day or the month; is 1.480 a thousand or one and a half) is decided over the whole column
// and said in a note. A row that cannot be read is refused with its line and the reason; the other
// rows go in. Nothing in a file, hostile or cut off, crashes the program or holds it up.
package intake

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Options tell what a file cannot.
type Options struct {
	Currency money.Currency // the shop's; amounts in another are not converted
	Language string         // the shop's, BCP 47; it orders day and month where a column leaves both open
	Today    day.Day        // a sale later than tomorrow is refused; 0 = not checked
	Layout   *Layout        // what the columns are, as mended by hand; nil to guess by their headings
}

// Batch is what a file of past sales held.
type Batch struct {
	Rows    []Row
	Refused []Refusal
	Notes   []say.Sentence // what was decided while reading, and what was passed over
	Layout  Layout         // what each column was taken for
}

// Row is one sale, ready to be put into the shop file.
type Row struct {
	Line        int            // line of a CSV file where the row begins, row of a worksheet
	Record      costing.Record // at stage History, with its Sale
	Fingerprint string         // also in Sale.Source; the same row of the same file always has the same
}

// Refusal is one row that did not go in.
type Refusal struct {
	Line   int
	Field  string       // the heading's word in the intake header, such as "price"; "" for the whole row
	Reason string       // what is wrong, without the field's name
	Why    say.Sentence // the same, for a screen in another language
}

// String is the refusal as one sentence: line 12: price: "abc" is not an amount of money.
func (r Refusal) String() string {
	if r.Field == "" {
		return fmt.Sprintf("line %d: %s", r.Line, r.Reason)
	}
	return fmt.Sprintf("line %d: %s: %s", r.Line, r.Field, r.Reason)
}

// What can be wrong with a file as a whole. The error returned says more, and wraps one of these.
var (
	ErrEmpty     = errors.New("the file is empty")
	ErrTooLarge  = errors.New("the file is too large")
	ErrNotTable  = errors.New("the file is neither CSV nor an XLSX workbook")
	ErrDamaged   = errors.New("the workbook is damaged or cut off")
	ErrNoHeader  = errors.New("no header was found")
	ErrNoColumns = errors.New("the header lacks a needed column")
	ErrNoRows    = errors.New("there are no rows below the header")
	ErrOwn       = errors.New("it is a workbook that this program wrote of a shop's records, and no list to take in; to bring records from one shop file to another, use open files")
)

// ReadFile reads past sales from a CSV or XLSX file. What the file holds decides which it is, not its
// name. The error is for the file as a whole; rows that could not be read are in Batch.Refused. With
// [ErrNoHeader] and [ErrNoColumns] the batch has the layout that comes nearest, to be mended by hand.
func ReadFile(path string, o Options) (Batch, error) {
	f, err := open(path)
	if err != nil {
		return Batch{}, err
	}
	defer f.Close()
	return Read(f, filepath.Base(path), o)
}

// Read is ReadFile on an open file; name is used in errors only.
func Read(r io.Reader, name string, o Options) (Batch, error) {
	if o.Currency.Code() == "" {
		return Batch{}, fmt.Errorf("take in %s: no currency is given to read its amounts in", oneLine(name))
	}
	want := salesHeader
	want.layout = o.Layout
	t, err := readTable(r, want)
	if err != nil {
		b := Batch{}
		if errors.Is(err, ErrNoHeader) || errors.Is(err, ErrNoColumns) {
			b.Layout = t.layout()
		}
		return b, fmt.Errorf("take in %s: %w", oneLine(name), err)
	}
	return t.sales(o), nil
}

func open(path string) (*os.File, error) {
	// Looked at before it is opened: already the opening of a pipe waits, for ever, for somebody to write.
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("take in a file: %w", err)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("take in a file: %s is not a file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("take in a file: %w", err)
	}
	return f, nil
}
