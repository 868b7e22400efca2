package workbook

import (
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"skegworth/valuation/say"
)

// column is one column of a table.
type column struct {
	key  string // what formulas call it
	head say.Sentence
	kind kind
	// formula, where the column is derived, with other columns of the same row as {key}.
	formula string
	foot    footing
	widest  float64 // limit of the column's width, in characters; 0 for the usual
}

// footing is what stands under a column.
type footing int

const (
	nothing footing = iota
	added           // the sum of the column
	derived         // the column's own formula, over the total row
)

// table is a sheet with a title, a line of explanation, heads, rows and a total row.
type table struct {
	name    string // of the sheet
	title   say.Sentence
	notes   []say.Sentence // under the title
	columns []column
	rows    [][]any        // a value for each column, in order
	empty   say.Sentence   // what is said where there are no rows
	totals  map[string]any // values of derived totals, by key
	after   []row          // rows under the total
}

// The rows of a table's sheet: title, notes, heads, then the rows themselves.
func (t *table) headRow() int  { return 2 + len(t.notes) }
func (t *table) firstRow() int { return t.headRow() + 1 }
func (t *table) lastRow() int  { return t.headRow() + max(1, len(t.rows)) }
func (t *table) footRow() int  { return t.lastRow() + 1 }

// at is the place of the column, from 0.
func (t *table) at(key string) int {
	i := slices.IndexFunc(t.columns, func(c column) bool { return c.key == key })
	if i < 0 {
		panic("workbook: no column " + key + " in " + t.name)
	}
	return i
}

// letter of the column, such as G.
func (t *table) letter(key string) string {
	name, err := excelize.ColumnNumberToName(t.at(key) + 1)
	if err != nil {
		panic("workbook: " + err.Error()) // wider than any table here
	}
	return name
}

// total is a reference to the column's total from another sheet.
func (t *table) total(key string) string {
	return fmt.Sprintf("%s!$%s$%d", quoted(t.name), t.letter(key), t.footRow())
}

// column is a reference to all the rows of the column from another sheet.
func (t *table) column(key string) string {
	l := t.letter(key)
	return fmt.Sprintf("%s!$%s$%d:$%s$%d", quoted(t.name), l, t.firstRow(), l, t.lastRow())
}

// sumIf is a formula for the sum of one column where another holds a word.
func (t *table) sumIf(sum, where, word string) string {
	return fmt.Sprintf("SUMIF(%s,%s,%s)", t.column(where), text(word), t.column(sum))
}

// in puts the cells of one row into a formula's holes.
func (t *table) in(formula string, row int) string {
	for {
		open := strings.IndexByte(formula, '{')
		if open < 0 {
			return formula
		}
		length := strings.IndexByte(formula[open:], '}')
		key := formula[open+1 : open+length]
		formula = fmt.Sprintf("%s%s%d%s", formula[:open], t.letter(key), row, formula[open+length+1:])
	}
}

// cells of the row with the given number, counted from 0.
func (t *table) cells(i int) []cell {
	out := make([]cell, len(t.columns))
	for j, c := range t.columns {
		out[j].value = t.rows[i][j]
		if c.formula != "" && out[j].value != nil {
			out[j].formula = t.in(c.formula, t.firstRow()+i)
		}
	}
	return out
}

// totalValue is what the column's total comes to.
func (t *table) totalValue(key string) any {
	for j, c := range t.columns {
		if c.key != key {
			continue
		}
		if c.foot == derived {
			return t.totals[key]
		}
		values := make([]any, len(t.rows))
		for i := range t.rows {
			values[i] = t.rows[i][j]
		}
		return add(c.kind, values)
	}
	return nil
}

// totalCells is the total row.
func (t *table) totalCells(label string) []cell {
	out := make([]cell, len(t.columns))
	out[0].value = label
	for j, c := range t.columns {
		switch c.foot {
		case added:
			l := t.letter(c.key)
			out[j] = cell{t.totalValue(c.key), fmt.Sprintf("SUM(%s%d:%s%d)", l, t.firstRow(), l, t.lastRow())}
		case derived:
			out[j] = cell{t.totals[c.key], t.in(c.formula, t.footRow())}
		}
	}
	return out
}

// quoted is a sheet's name as formulas write it.
func quoted(sheet string) string { return "'" + strings.ReplaceAll(sheet, "'", "''") + "'" }

// text is a word as formulas write it.
func text(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }
