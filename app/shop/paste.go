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
	batch, err := intake.Read(strings.NewReader(text), pasted, s.IntakeOptions())
	if errors.Is(err, intake.ErrNoHeader) || errors.Is(err, intake.ErrNoRows) {
		batch, err = s.withoutHeadings(text, err)
	}
	if err != nil {
		return Taken{}, err
	}
	return s.take(batch, dry)
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
	unit := "power"
	if s.Settings().PowerUnit == "kW" {
		unit = "power kW"
	}
	var best intake.Batch
	var order []string
	for _, names := range [][]string{screenOrder, s.columnsByContent(rows, width), intakeOrder} {
		if names == nil {
			continue
		}
		head := make([]string, width)
		copy(head, names)
		line := strings.ReplaceAll(strings.Join(head, "\t")+"\n", "power", unit)
		b, err := intake.Read(strings.NewReader(line+text), pasted, s.IntakeOptions())
		if err == nil && (order == nil || len(b.Rows) > len(best.Rows)) {
			best, order = b, head
		}
	}
	if order == nil {
		return intake.Batch{}, why
	}
	for i := range best.Rows {
		best.Rows[i].Line-- // the headings were put in front
	}
	for i := range best.Refused {
		best.Refused[i].Line--
	}
	best.Notes = append([]say.Sentence{say.New("paste.order", "No headings were pasted; the columns were taken as {{.Columns}}.", "Columns", listed(order))}, best.Notes...)
	return best, nil
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
