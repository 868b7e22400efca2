package intake

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/xuri/excelize/v2"
)

// cellKinds walks the XML of one sheet beside the library's reader and tells of each cell what it is.
//
// The library streams values but not what they were; asked cell by cell, it loads the sheet whole and
// fills every gap, so that one cell in the last column of every row takes all memory. The walk here
// only counts and looks at attributes.
type cellKinds struct {
	book    *book
	decoder *xml.Decoder
	number  int // row that the walk has come to
	cells   rowKinds
	ready   bool // number and cells wait to be asked for
	ended   bool
}

// rowKinds is what the cells of one row are.
type rowKinds struct {
	kinds []kind // by column from 0, nothing where no value is stored
	any   bool   // at least one cell has a value
	wide  bool   // a cell with a value stands beyond MaxColumns
}

// at is the kind of a column from 0.
func (r rowKinds) at(column int) kind {
	if column < len(r.kinds) {
		return r.kinds[column]
	}
	return nothing
}

func (r *rowKinds) put(column int, k kind) {
	r.any = true
	if column >= MaxColumns {
		r.wide = true
		return
	}
	for len(r.kinds) <= column {
		r.kinds = append(r.kinds, nothing)
	}
	r.kinds[column] = k
}

func newCellKinds(b *book, sheet []byte) *cellKinds {
	d := xml.NewDecoder(bytes.NewReader(sheet))
	d.CharsetReader = b.file.CharsetReader
	return &cellKinds{book: b, decoder: d, ended: sheet == nil}
}

// row is what the cells of a row are. Rows are asked for in order.
func (k *cellKinds) row(number int) (rowKinds, error) {
	for {
		if k.ready {
			if k.number > number {
				return rowKinds{}, nil
			}
			k.ready = false
			if k.number == number {
				return k.cells, nil
			}
			continue
		}
		if k.ended {
			return rowKinds{}, nil
		}
		if err := k.read(); err != nil {
			return rowKinds{}, err
		}
	}
}

// end walks to the end, so that a sheet cut off within is noticed.
func (k *cellKinds) end() error {
	for !k.ended {
		if err := k.read(); err != nil {
			return err
		}
	}
	return nil
}

// read takes in the next row.
func (k *cellKinds) read() error {
	inRow := false
	column := 0
	for {
		token, err := k.decoder.RawToken()
		if errors.Is(err, io.EOF) && k.number == 0 {
			k.ended = true
			return nil
		}
		if err != nil {
			return damaged(fmt.Sprintf("after row %d: %v", k.number, err))
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch {
			case e.Name.Local == "row":
				n, err := strconv.Atoi(attribute(e, "r"))
				if err != nil || n == 0 {
					n = k.number + 1
				}
				if n <= k.number {
					return damaged(fmt.Sprintf("row %d follows row %d", n, k.number))
				}
				if n > excelize.TotalRows {
					return damaged(fmt.Sprintf("it goes on beyond row %d, the last there is", excelize.TotalRows))
				}
				k.number, k.cells, inRow, column = n, rowKinds{kinds: k.cells.kinds[:0]}, true, 0
			case e.Name.Local == "c" && inRow:
				column++
				if name := attribute(e, "r"); name != "" {
					if c, _, err := excelize.CellNameToCoordinates(name); err == nil {
						column = c
					}
				}
				if k.book.cells++; k.book.cells > maxCells {
					return fmt.Errorf("%w: more than %d cells", ErrTooLarge, maxCells)
				}
				given, err := k.cell(e)
				if err != nil {
					return err
				}
				if given != nothing {
					k.cells.put(column-1, given)
				}
			}
		case xml.EndElement:
			if e.Name.Local == "row" && inRow {
				k.ready = true
				return nil
			}
			if e.Name.Local == "sheetData" {
				k.ended = true
				return nil
			}
		}
	}
}

// cell walks to the end of one cell and tells what it is.
func (k *cellKinds) cell(start xml.StartElement) (kind, error) {
	given := nothing
	for depth := 1; depth > 0; {
		token, err := k.decoder.RawToken()
		if err != nil {
			return nothing, damaged(fmt.Sprintf("in row %d: %v", k.number, err))
		}
		switch e := token.(type) {
		case xml.StartElement:
			depth++
			switch {
			case e.Name.Local == "v", e.Name.Local == "is":
				given = k.book.kindOf(attribute(start, "t"), attribute(start, "s"))
			case e.Name.Local == "f" && given == nothing:
				given = unworked
			}
		case xml.EndElement:
			depth--
		}
	}
	return given, nil
}

// kindOf reads the attributes of a cell: its type, and its style, which says whether it shows a date.
func (b *book) kindOf(t, style string) kind {
	switch t {
	case "", "n":
		if s, err := strconv.Atoi(style); err == nil && s >= 0 && s < len(b.formats) && b.formats[s] {
			return dated
		}
		return number
	case "b":
		return truth
	case "e":
		return fault
	}
	return text
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}
