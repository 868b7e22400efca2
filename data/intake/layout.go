package intake

import (
	"errors"
	"slices"
	"strings"

	"skegworth/valuation"
	"skegworth/valuation/say"
)

// Layout is where the headings of a list stand and what each of its columns is taken for: as guessed from
// the headings, or as mended by hand.
type Layout struct {
	Sheet   string // of a workbook; "" for text
	Line    int    // of the headings
	Columns []Column
}

// Column is one column of a list.
type Column struct {
	Heading  string   // as written, "" where none is
	Field    string   // its word in the intake header, "" for a column that is left out
	Examples []string // what stands in the first rows below
}

// examples is how many rows below the headings are shown of a column.
const examples = 3

// Mendable tells whether there are columns enough to hold what a sale needs.
func (l Layout) Mendable() bool { return len(l.Columns) >= len(salesHeader.needed) }

// With is the layout with one column taken for another fact, "" for none. A column that was taken for it
// before is left out: there is one for each fact.
func (l Layout) With(column int, field string) Layout {
	l.Columns = slices.Clone(l.Columns)
	for i := range l.Columns {
		if field != "" && l.Columns[i].Field == field {
			l.Columns[i].Field = ""
		}
	}
	l.Columns[column].Field = field
	return l
}

// Missing are the needed facts that no column is taken for.
func (l Layout) Missing() []string {
	var out []string
	for _, field := range salesHeader.needed {
		if !slices.ContainsFunc(l.Columns, func(c Column) bool { return c.Field == field }) {
			out = append(out, field)
		}
	}
	return out
}

// SaleFields are the facts that a column of a list of sales can be taken for, the needed ones first.
func SaleFields() []string {
	out := slices.Clone(salesHeader.needed)
	for _, f := range valuation.Fields() {
		if !slices.Contains(out, f.Name) {
			out = append(out, f.Name)
		}
	}
	return append(out, listed, asked, channel, note)
}

// FieldLabel is what a person calls a fact of a sale.
func FieldLabel(field string) say.Sentence {
	switch field {
	case sold:
		return say.New("intake.field.sold", "day of the sale")
	case price:
		return say.New("intake.field.price", "price")
	case listed:
		return say.New("intake.field.listed", "day first offered")
	case asked:
		return say.New("intake.field.asked", "asking price")
	case channel:
		return say.New("intake.field.channel", "sold through")
	case note:
		return say.New("intake.field.note", "note")
	}
	return valuation.FieldLabel(field)
}

// layout is what a table was read as.
func (t table) layout() Layout {
	l := Layout{Sheet: t.sheet, Line: t.header.line}
	for i := range t.header.width {
		c := Column{Heading: brief(t.header.row.at(i).text)}
		for _, x := range t.lines[:min(len(t.lines), examples)] {
			c.Examples = append(c.Examples, brief(x.at(i).text))
		}
		l.Columns = append(l.Columns, c)
	}
	for _, c := range t.header.columns {
		l.Columns[c.index].Field = c.field
	}
	return l
}

// brief is a text as a screen can show it: cells may be thirty thousand letters long.
func brief(s string) string {
	const most = 200
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "…"
}

// errMoved is of a layout that was made for another file.
var errMoved = errors.New("the headings are not where they were")

// as reads a row of headings as a layout says, whatever they would be taken for by themselves. Units named
// in a heading, and questions it asks, hold as before.
func (l Layout) as(row line, want wanted) header {
	h := header{line: row.number, width: max(len(row.cells), len(l.Columns)), row: row}
	for i, given := range l.Columns {
		if given.Field == "" {
			continue
		}
		heading := row.at(i).text
		c, known := identify(heading, want)
		if !known || c.field != given.Field {
			c = column{heading: heading, unit: unitIn(heading)}
		}
		c.index, c.field = i, given.Field
		h.columns = append(h.columns, c)
	}
	for _, cell := range row.cells {
		if cell.text != "" {
			h.headings = append(h.headings, cell.text)
		}
	}
	return h
}

// unitIn is the unit that a heading ends with, "" for none.
func unitIn(heading string) string {
	if own, is := ownUnit[fold(heading)]; is {
		return own
	}
	all := words(heading)
	if len(all) > 1 && isUnit(all[len(all)-1]) {
		return all[len(all)-1]
	}
	return ""
}
