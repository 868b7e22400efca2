package intake

import (
	"archive/zip"
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"skegworth/valuation/say"
)

// readWorkbook reads the first sheet that has the header. Cells are read as stored, formulas by the
// value the spreadsheet last worked out.
func readWorkbook(data []byte, want wanted) (t table, err error) {
	defer func() { // a library that meets a damaged file may give up in ways it does not say
		if r := recover(); r != nil {
			t, err = table{}, damaged(fmt.Sprint(r))
		}
	}()
	if err := checkParts(data); err != nil {
		return table{}, err
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue:      true,
		UnzipSizeLimit:    maxUnzipped,
		UnzipXMLSizeLimit: maxUnzipped, // keeps every part in memory, and so nothing in the temporary folder
	})
	if err != nil {
		return table{}, damaged(err.Error())
	}
	defer f.Close()
	b := book{file: f, formats: dateStyles(f), paths: sheetPaths(f), date4: counts1904(f)}
	names := f.GetSheetList()
	if own(names) {
		return table{}, ErrOwn
	}
	var nearest table
	most, filled := -1, false
	for _, name := range names[:min(len(names), maxSheets)] {
		if want.layout != nil && name != want.layout.Sheet {
			continue
		}
		t, score, err := b.sheet(name, want)
		if err != nil {
			return table{}, err
		}
		if t.found {
			if len(names) > 1 {
				t.notes = append(t.notes, say.New("intake.sheet", "The rows come from the sheet {{.Sheet}}.", "Sheet", short(name)))
			}
			return t, nil
		}
		some := len(t.lines) > 0 || t.header.width > 0
		if score > most || score == most && some && !filled {
			nearest, most = t, score
		}
		filled = filled || some
	}
	if !filled {
		return table{}, fmt.Errorf("%w: the workbook has no cells", ErrEmpty)
	}
	return nearest, lacking(nearest.header, most, want)
}

// ownSheets stand together in every workbook that the program writes, and in hardly any other. Its sales
// would be taken in a second time, since sales written down in the shop have no fingerprint.
var ownSheets = []string{"Cover", "Lines", "Money", "Checks", "Words"}

func own(sheets []string) bool {
	return !slices.ContainsFunc(ownSheets, func(name string) bool { return !slices.Contains(sheets, name) })
}

// book is an open workbook.
type book struct {
	file    *excelize.File
	formats []bool            // by style number: shows a date
	paths   map[string][]byte // by sheet name: the sheet's XML
	date4   bool
	cells   int // looked at so far
}

// sheetRows walks the rows of one sheet that have anything in them.
type sheetRows struct {
	book   *book
	rows   *excelize.Rows
	kinds  *cellKinds
	number int
}

// sheet reads one sheet: its first rows, and the rest when the header is among them.
func (b *book) sheet(name string, want wanted) (table, int, error) {
	rows, err := b.file.Rows(name)
	if err != nil {
		return table{}, 0, nil // a chart, or a sheet whose part is missing
	}
	defer rows.Close()
	walk := sheetRows{book: b, rows: rows, kinds: newCellKinds(b, b.paths[name])}
	t, score, err := fill(walk.next, want)
	t.sheet, t.grid, t.date4 = name, true, b.date4
	return t, score, err
}

// next is the next row with a value in it; false at the end.
func (s *sheetRows) next() (line, bool, error) {
	for s.rows.Next() {
		s.number++
		marked, err := s.kinds.row(s.number)
		if err != nil {
			return line{}, false, err
		}
		if marked.any { // the rows of a gap cost nothing
			l, err := s.line(marked)
			return l, err == nil, err
		}
	}
	if err := s.rows.Error(); err != nil {
		return line{}, false, damaged(err.Error())
	}
	return line{}, false, s.kinds.end()
}

// line takes the cells of the row that the reader stands at.
func (s *sheetRows) line(marked rowKinds) (line, error) {
	l := line{number: s.number}
	if marked.wide {
		l.broken = say.New("intake.wide", "the row has more than {{.Most}} cells", "Most", MaxColumns)
		return l, nil
	}
	values, err := s.rows.Columns(excelize.Options{RawCellValue: true})
	if err != nil {
		return l, damaged(fmt.Sprintf("row %d: %v", s.number, err))
	}
	l.cells = make([]cell, len(values))
	for i, v := range values {
		if len(v) > MaxCell {
			return line{number: s.number, broken: say.New("intake.long", "a cell is longer than {{.Most}} letters", "Most", MaxCell)}, nil
		}
		l.cells[i] = cell{text: clean(v), kind: marked.at(i)}
		if l.cells[i].kind == unworked {
			l.cells[i].text = "=" // not blank: there is something that cannot be read
		}
	}
	return l, nil
}

// damaged is the error of a workbook that cannot be read, with what the library says of it.
func damaged(why string) error { return fmt.Errorf("%w: %s", ErrDamaged, oneLine(why)) }

// checkParts looks at the workbook's table of contents before anything is unpacked.
func checkParts(data []byte) error {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return damaged(err.Error())
	}
	if len(z.File) > maxParts {
		return fmt.Errorf("%w: the workbook has more than %d parts", ErrTooLarge, maxParts)
	}
	var all uint64
	known := false
	for _, part := range z.File {
		name := strings.ToLower(strings.ReplaceAll(part.Name, "\\", "/"))
		limit := uint64(maxUnzipped)
		switch {
		case strings.HasSuffix(name, "workbook.bin"):
			return fmt.Errorf("%w: it is a binary workbook (.xlsb); save it as .xlsx or CSV", ErrNotTable)
		case strings.HasPrefix(path.Base(name), "workbook") && strings.HasSuffix(name, ".xml"):
			limit, known = maxDirectory, true
		case strings.HasSuffix(name, ".rels"), name == "[content_types].xml":
			limit = maxDirectory
		case strings.HasSuffix(name, "sharedstrings.xml"):
			limit = maxTexts
		case strings.HasSuffix(name, "styles.xml"), strings.Contains(name, "/theme/"), strings.HasSuffix(name, "calcchain.xml"):
			limit = maxStyles
		}
		if all += part.UncompressedSize64; part.UncompressedSize64 > limit || all > maxUnzipped {
			return fmt.Errorf("%w: %s would unpack beyond the limit", ErrTooLarge, short(path.Base(part.Name)))
		}
	}
	if !known {
		return fmt.Errorf("%w: it is a packed folder without a workbook in it", ErrNotTable)
	}
	return nil
}
