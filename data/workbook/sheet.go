package workbook

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"
)

// sheet is one sheet laid out: everything about it that the file keeps.
type sheet struct {
	name   string
	widths []float64 // of the columns, in characters
	still  int       // how many columns stay in sight beside the heads
	heads  int       // the row of heads that stays in sight and is repeated on every page; 0 for none
	filter string    // the range that filter arrows are set on, "" for none
	rows   []row
}

// row is one row, from the first column.
type row struct {
	cells  []drawn
	height float64 // in points, 0 for the usual
	across bool    // the first cell runs across the whole sheet
}

// drawn is a cell with its look.
type drawn struct {
	cell
	look look
}

// write puts the sheet into the file. The order matters to the library: what stands before the rows in
// the file (page, filter, frozen heads, widths) must be set before them, and is lost without an error
// after Flush.
func (b *book) write(s *sheet) error {
	if _, err := b.file.NewSheet(s.name); err != nil {
		return err
	}
	if err := b.setUp(s); err != nil {
		return err
	}
	w, err := b.file.NewStreamWriter(s.name)
	if err != nil {
		return err
	}
	for i := len(s.widths); i > 0; i-- { // the library puts each before the last, and the format wants them in order
		if err := w.SetColWidth(i, i, s.widths[i-1]); err != nil {
			return err
		}
	}
	if s.heads > 0 {
		corner, err := excelize.CoordinatesToCellName(s.still+1, s.heads+1)
		if err != nil {
			return err
		}
		if err := w.SetPanes(&excelize.Panes{Freeze: true, XSplit: s.still, YSplit: s.heads, TopLeftCell: corner, ActivePane: "bottomRight",
			Selection: []excelize.Selection{{SQRef: corner, ActiveCell: corner, Pane: "bottomRight"}}}); err != nil {
			return err
		}
	}
	for i, r := range s.rows {
		if err := b.writeRow(w, s, i+1, r); err != nil {
			return fmt.Errorf("row %d: %w", i+1, err)
		}
	}
	return w.Flush()
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

// setUp sets how the sheet is printed: across the page, as wide as the paper and as long as it takes,
// heads on every page, the shop's name and the page number at the foot.
func (b *book) setUp(s *sheet) error {
	f := b.file
	if s.filter != "" { // first: the library's filter forgets the sheet's other properties
		if err := f.AutoFilter(s.name, s.filter, nil); err != nil {
			return err
		}
	}
	yes := true
	if err := f.SetSheetProps(s.name, &excelize.SheetPropsOptions{FitToPage: &yes}); err != nil {
		return err
	}
	landscape, wide, long, paper := "landscape", 1, 0, paperA4
	if b.Settings.Volume == "gal" { // where quarts are poured, Letter is printed on
		paper = paperLetter
	}
	if err := f.SetPageLayout(s.name, &excelize.PageLayoutOptions{Orientation: &landscape, Size: &paper, FitToWidth: &wide, FitToHeight: &long}); err != nil {
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
			RefersTo: fmt.Sprintf("%s!$%d:$%d", quoted(s.name), s.heads, s.heads)}); err != nil {
			return err
		}
	}
	return nil
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
