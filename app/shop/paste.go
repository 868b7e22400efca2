package shop

import (
	"errors"
	"strings"

	"skegworth/data/intake"
	"skegworth/valuation/say"
)

// pasted stands for the name of a file in errors.
const pasted = "the pasted rows"

// The orders in which columns are taken where no headings were pasted: that of the intake header, and
// that of the list of sales on screen, whose band and outcome are passed over.
var (
	intakeOrder = []string{"sold", "price", "power", "year", "stroke", "make", "model", "fuel", "shaft", "start", "lift",
		"steering", "water", "hours", "looks", "state", "oil", "listed", "asked", "channel", "note"}
	screenOrder = []string{"sold", "make", "power", "year", "price", "", "", "", "stroke", "state", "model", "channel"}
)

// PasteSales takes in past sales as copied from a spreadsheet: rows of cells parted by tabs, with or
// without a row of headings. They are read just as a file is. Without headings the columns are told by
// what stands in them, or taken in the order of the intake header or of the list on screen: whichever
// makes sense of the most rows; a note says which. Dry only tells what would happen.
func (s *Shop) PasteSales(text string, dry bool) (Taken, error) {
	return s.PasteSalesAs(text, nil, dry)
}

// PasteSalesAs is PasteSales with the columns as mended by hand; nil guesses them. A layout whose headings
// stand on line 0 is of rows without any.
func (s *Shop) PasteSalesAs(text string, layout *intake.Layout, dry bool) (Taken, error) {
	if layout != nil && layout.Line == 0 {
		names := make([]string, len(layout.Columns))
		for i, c := range layout.Columns {
			names[i] = c.Field
		}
		batch, err := s.underHeadings(names, text)
		if err != nil {
			return Taken{Layout: *layout}, err
		}
		return s.take(batch, dry)
	}
	o := s.IntakeOptions()
	o.Layout = layout
	batch, err := intake.Read(strings.NewReader(text), pasted, o)
	if layout == nil && (errors.Is(err, intake.ErrNoHeader) || errors.Is(err, intake.ErrNoRows)) {
		batch, err = s.withoutHeadings(text, err)
	}
	if err != nil {
		return Taken{Layout: batch.Layout}, err
	}
	return s.take(batch, dry)
}

// underHeadings reads rows under headings put in front of them, in the words of the intake header. Powers
// are in the shop's own unit.
func (s *Shop) underHeadings(names []string, text string) (intake.Batch, error) {
	line := strings.Join(names, "\t") + "\n"
	if s.Settings().PowerUnit == "kW" {
		line = strings.ReplaceAll(line, "power", "power kW")
	}
	b, err := intake.Read(strings.NewReader(line+text), pasted, s.IntakeOptions())
	for i := range b.Rows {
		b.Rows[i].Line--
	}
	for i := range b.Refused {
		b.Refused[i].Line--
	}
	b.Layout.Line = 0
	for i := range b.Layout.Columns {
		b.Layout.Columns[i].Heading = ""
	}
	return b, err
}

// withoutHeadings reads rows that have none; why is how reading them as they are failed.
func (s *Shop) withoutHeadings(text string, why error) (intake.Batch, error) {
	rows := cellsOf(text)
	width := 0
	for _, r := range rows {
		width = max(width, len(r))
	}
	if width < 5 { // a sale needs five cells
		return intake.Batch{}, why
	}
	var best intake.Batch
	var order []string
	for _, names := range [][]string{screenOrder, s.columnsByContent(rows, width), intakeOrder} {
		if names == nil {
			continue
		}
		head := make([]string, width)
		copy(head, names)
		b, err := s.underHeadings(head, text)
		if err == nil && (order == nil || len(b.Rows) > len(best.Rows)) {
			best, order = b, head
		}
	}
	if order == nil {
		return intake.Batch{Layout: untold(rows, width)}, why
	}
	best.Notes = append([]say.Sentence{say.New("paste.order", "No headings were pasted; the columns were taken as {{.Columns}}.", "Columns", listed(order))}, best.Notes...)
	return best, nil
}

// untold is the layout of rows of which nothing is known.
func untold(rows [][]string, width int) intake.Layout {
	l := intake.Layout{Columns: make([]intake.Column, width)}
	for _, r := range rows[:min(len(rows), 3)] {
		for i := range l.Columns {
			cell := ""
			if i < len(r) {
				cell = r[i]
			}
			l.Columns[i].Examples = append(l.Columns[i].Examples, cell)
		}
	}
	return l
}

// listed names columns in order; those passed over stand as a dash.
func listed(order []string) string {
	var out []string
	for _, name := range order {
		if name == "" {
			name = "–"
		}
		out = append(out, name)
	}
	for len(out) > 0 && out[len(out)-1] == "–" {
		out = out[:len(out)-1]
	}
	return strings.Join(out, ", ")
}

func cellsOf(text string) [][]string {
	var out [][]string
	for line := range strings.Lines(text) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		cells := strings.Split(strings.TrimRight(line, "\r\n"), "\t")
		for i := range cells {
			cells[i] = strings.Trim(cells[i], " \u00a0\"")
		}
		out = append(out, cells)
	}
	return out
}
