package workbook

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"skegworth/costing"
)

// sheet is one sheet laid out: everything about it that the file keeps.
type sheet struct {
	name   string
	widths []float64 // of the columns, in characters
	still  int       // how many columns stay in sight beside the heads
	heads  int       // the row of heads that stays in sight and is repeated on every page; 0 for none
	filter string    // the range that filter arrows are set on, "" for none
	named  bool      // the range is a table that formulas can call by its name
	rows   []row
	table  *table // whose rows follow, or nil
	below  []row  // under the table's rows

	upright bool  // printed on upright paper
	breaks  []int // rows that begin a new page
	extra   func(f *excelize.File, sheet string) error
}

// row is one row, from the first column.
type row struct {
	cells  []drawn
	height float64 // in points, 0 for the usual
	across bool    // the first cell runs across the whole sheet
	link   string  // the sheet that the first cell leads to
}

// drawn is a cell with its look.
type drawn struct {
	cell
	look look
}

// write puts the sheet into the file, and gives the number it has there. The order matters to the library:
// what stands before the rows in the file (page, filter, frozen heads, widths) must be set before them, and
// is lost without an error after Flush.
func (b *book) write(s *sheet) (id int, err error) {
	if err := b.setUp(s); err != nil {
		return 0, err
	}
	w, err := b.file.NewStreamWriter(s.name)
	if err != nil {
		return 0, err
	}
	for i := len(s.widths); i > 0; i-- { // the library puts each before the last, and the format wants them in order
		if err := w.SetColWidth(i, i, min(s.widths[i-1], excelize.MaxColumnWidth)); err != nil {
			return 0, err
		}
	}
	if s.heads > 0 {
		corner, err := excelize.CoordinatesToCellName(s.still+1, s.heads+1)
		if err != nil {
			return 0, err
		}
		if err := w.SetPanes(&excelize.Panes{Freeze: true, XSplit: s.still, YSplit: s.heads, TopLeftCell: corner, ActivePane: "bottomRight",
			Selection: []excelize.Selection{{SQRef: corner, ActiveCell: corner, Pane: "bottomRight"}}}); err != nil {
			return 0, err
		}
	}
	for _, at := range s.breaks {
		if err := w.InsertPageBreak("A" + strconv.Itoa(at)); err != nil {
			return 0, err
		}
	}
	number := 0
	put := func(rows []row) error {
		for _, r := range rows {
			number++
			if err := b.writeRow(w, s, number, r); err != nil {
				return fmt.Errorf("row %d: %w", number, err)
			}
		}
		return nil
	}
	if err := put(s.rows); err != nil {
		return 0, err
	}
	if s.table != nil {
		if err := b.stream(w, s, &number); err != nil {
			return 0, err
		}
	}
	if err := put(s.below); err != nil {
		return 0, err
	}
	if s.named {
		plain := true
		if err := w.AddTable(&excelize.Table{Range: s.filter, Name: s.name + "Table", StyleName: "TableStyleLight1", ShowRowStripes: &plain}); err != nil {
			return 0, err
		}
	}
	return w.SheetID, w.Flush()
}

// stream writes the rows of the sheet's table one by one.
func (b *book) stream(w *excelize.StreamWriter, s *sheet, number *int) error {
	t := s.table
	figure, wordy := make([]int, len(t.columns)), make([]int, len(t.columns))
	for j, c := range t.columns {
		var err error
		if figure[j], err = b.style(lookIn(j, c.kind, body)); err != nil {
			return err
		}
		if wordy[j], err = b.style(lookIn(j, words, body)); err != nil {
			return err
		}
	}
	cells := make([]cell, len(t.columns))
	drawn := make([]excelize.Cell, len(t.columns))
	out := make([]any, len(t.columns))
	for j := range out {
		out[j] = &drawn[j]
	}
	for i := range t.count {
		t.cells(i, cells)
		deepest := 1
		for j := range cells {
			c := &cells[j]
			id := figure[j]
			if k := kindOf(c.value, t.columns[j].kind); k != t.columns[j].kind {
				var err error
				if id, err = b.style(lookIn(j, k, body)); err != nil {
					return err
				}
			}
			if said, isText := c.value.(string); isText && c.formula == "" {
				id = wordy[j]
				if said != "" {
					deepest = max(deepest, lines(said, s.widths[j]-1))
				}
			}
			drawn[j] = excelize.Cell{StyleID: id, Value: b.plain(c.value), Formula: c.formula}
		}
		height := 0.0
		if deepest > 1 {
			height = tall(deepest)
		}
		*number++
		if err := w.SetRow("A"+strconv.Itoa(*number), out, excelize.RowOpts{Height: height}); err != nil {
			return fmt.Errorf("row %d: %w", *number, err)
		}
	}
	return nil
}

// kindOf is how a value is written in a column: as the column is, but time is never written as money.
func kindOf(v any, k kind) kind {
	if _, isTime := v.(costing.Hours); isTime && k != hours {
		return hours
	}
	return k
}

func (b *book) writeRow(w *excelize.StreamWriter, s *sheet, number int, r row) error {
	cells := make([]any, len(r.cells))
	for i, c := range r.cells {
		id, err := b.style(c.look)
		if err != nil {
			return err
		}
		cells[i] = excelize.Cell{StyleID: id, Value: b.plain(c.value), Formula: c.formula}
	}
	from := fmt.Sprintf("A%d", number)
	if r.across && len(s.widths) > 1 {
		last, err := excelize.CoordinatesToCellName(len(s.widths), number)
		if err != nil {
			return err
		}
		if err := w.MergeCell(from, last); err != nil {
			return err
		}
	}
	return w.SetRow(from, cells, excelize.RowOpts{Height: r.height})
}

// setUp sets all about the sheet but its rows: how it is printed (as wide as the paper and as long as it
// takes, heads on every page, the shop's name and the page number at the foot), what may be typed into it,
// what stands out in it, and where it leads.
func (b *book) setUp(s *sheet) error {
	f := b.file
	if s.filter != "" && !s.named { // first: the library's filter forgets the sheet's other properties
		if err := f.AutoFilter(s.name, s.filter, nil); err != nil {
			return err
		}
	}
	yes := true
	if err := f.SetSheetProps(s.name, &excelize.SheetPropsOptions{FitToPage: &yes}); err != nil {
		return err
	}
	way, wide, long, paper := "landscape", s.across(), 0, paperA4
	if s.upright {
		way = "portrait"
	}
	if b.Settings.Volume == "gal" { // where quarts are poured, Letter is printed on
		paper = paperLetter
	}
	if err := f.SetPageLayout(s.name, &excelize.PageLayoutOptions{Orientation: &way, Size: &paper, FitToWidth: &wide, FitToHeight: &long}); err != nil {
		return err
	}
	side, top, edge := 0.4, 0.5, 0.25
	if err := f.SetPageMargins(s.name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &top, Header: &edge, Footer: &edge}); err != nil {
		return err
	}
	if err := f.SetHeaderFooter(s.name, &excelize.HeaderFooterOptions{OddFooter: b.footer()}); err != nil {
		return err
	}
	if s.heads > 0 {
		if err := f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", Scope: s.name,
			RefersTo: s.repeated()}); err != nil {
			return err
		}
	}
	for i, r := range s.rows {
		if r.link != "" {
			if err := f.SetCellHyperLink(s.name, fmt.Sprintf("A%d", i+1), quoted(r.link)+"!A1", "Location"); err != nil {
				return err
			}
		}
	}
	if s.table != nil {
		if err := b.guide(s.table); err != nil {
			return err
		}
	}
	if s.extra != nil {
		return s.extra(f, s.name)
	}
	return nil
}

// across is how many pages the sheet is printed wide, so that it can still be read.
func (s *sheet) across() int {
	all := 0.0
	for _, w := range s.widths {
		all += w
	}
	const page = 190 // characters on a page laid across, in small print
	return 1 + int(all/page)
}

// repeated is what stands on every printed page: the heads, and where a sheet is several pages wide also
// the columns that tell the rows apart.
func (s *sheet) repeated() string {
	rows := fmt.Sprintf("%s!$%d:$%d", quoted(s.name), s.heads, s.heads)
	if s.across() == 1 {
		return rows
	}
	last, err := excelize.ColumnNumberToName(s.still)
	if err != nil {
		return rows
	}
	return fmt.Sprintf("%s!$A:$%s,%s", quoted(s.name), last, rows)
}

// Paper sizes by their numbers in the format (ECMA-376 part 1, 18.3.1.63).
const (
	paperLetter = 1
	paperA4     = 9
)

// footer is the foot of every printed page. In its code & starts an instruction, so that of a shop's
// name is doubled; the format allows 255 characters.
func (b *book) footer() string {
	name := []rune(harmless(b.Settings.ShopName))
	if len(name) > 80 {
		name = name[:80]
	}
	return "&L" + strings.ReplaceAll(string(name), "&", "&&") + "&C&A&R&P / &N"
}
