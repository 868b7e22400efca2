package workbook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"skegworth/costing"
	"skegworth/valuation/money"
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

	only mark      // what may be typed into it
	list wordRange // the words it may hold
}

// footing is what stands under a column.
type footing int

const (
	nothing footing = iota
	added           // the sum of the column
	derived         // the column's own formula, over the total row
)

// table is a sheet with a title, a line of explanation, heads, rows and a total row. Its rows are made one
// by one when they are asked for, so that a large shop needs no more memory than a small one.
type table struct {
	name    string // of the sheet
	about   say.Sentence
	title   say.Sentence
	notes   []say.Sentence // under the title
	columns []column
	count   int
	row     func(i int, out []any) []any // a value for each column, in order, mostly put into out; a cell where it has a formula of its own
	empty   say.Sentence                 // what is said where there are no rows
	totals  map[string]any               // values of derived totals, by key
	after   []row                        // rows under the total
	marks   []marked                     // words that stand out

	last     []any     // the row made last
	sums     []any     // of the columns, once measured
	wide     []float64 // of the columns, once measured
	formulas [][]piece // of the columns, cut at their holes
}

// marked is a word of a column that is made to stand out, beside saying what it says.
type marked struct {
	column, word string
	bad          bool
}

// piece of a formula: text, and then the cell of a column of the same row.
type piece struct{ text, letter string }

// The rows of a table's sheet: title, notes, heads, then the rows themselves.
func (t *table) headRow() int  { return 2 + len(t.notes) }
func (t *table) firstRow() int { return t.headRow() + 1 }
func (t *table) lastRow() int  { return t.headRow() + max(1, t.count) }
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
func (t *table) column(key string) string { return t.stretch(key, 0, max(1, t.count)) }

// stretch is a reference to rows of the column from another sheet, from one up to before another.
func (t *table) stretch(key string, from, to int) string {
	l := t.letter(key)
	return quoted(t.name) + "!$" + l + "$" + strconv.Itoa(t.firstRow()+from) + ":$" + l + "$" + strconv.Itoa(t.firstRow()+to-1)
}

// cellAt is a reference to a cell from another sheet.
func (t *table) cellAt(key string, i int) string {
	return quoted(t.name) + "!$" + t.letter(key) + "$" + strconv.Itoa(t.firstRow()+i)
}

// sumIf is a formula for the sum of one column where another holds a word.
func (t *table) sumIf(sum, where, word string) string {
	return fmt.Sprintf("SUMIF(%s,%s,%s)", t.column(where), text(word), t.column(sum))
}

// cut divides the columns' formulas at their holes.
func (t *table) cut() {
	t.formulas = make([][]piece, len(t.columns))
	for j, c := range t.columns {
		t.formulas[j] = t.cutFormula(c.formula)
	}
}

func (t *table) cutFormula(formula string) (out []piece) {
	for formula != "" {
		open := strings.IndexByte(formula, '{')
		if open < 0 {
			return append(out, piece{text: formula})
		}
		length := strings.IndexByte(formula[open:], '}')
		out = append(out, piece{formula[:open], t.letter(formula[open+1 : open+length])})
		formula = formula[open+length+1:]
	}
	return out
}

// in puts the cells of a row of the sheet into a formula's holes.
func in(formula []piece, row int) string {
	var b strings.Builder
	number := strconv.Itoa(row)
	for _, p := range formula {
		b.WriteString(p.text)
		if p.letter != "" {
			b.WriteString(p.letter)
			b.WriteString(number)
		}
	}
	return b.String()
}

// cells of the row with the given number, counted from 0, put into out.
func (t *table) cells(i int, out []cell) {
	t.last = t.row(i, t.last[:0])
	for j, v := range t.last {
		own, ok := v.(cell)
		if !ok {
			own.value = v
			if v != nil && len(t.formulas[j]) > 0 {
				own.formula = in(t.formulas[j], t.firstRow()+i)
			}
		}
		out[j] = own
	}
}

// measure goes through the rows once: what the columns come to, and how wide they are.
func (b *book) measure(t *table) *table {
	t.cut()
	t.wide = make([]float64, len(t.columns))
	adds := make([]sum, len(t.columns))
	for i := range t.count {
		t.last = t.row(i, t.last[:0])
		for j, v := range t.last {
			if own, ok := v.(cell); ok {
				v = own.value
			}
			adds[j].add(v)
			t.wide[j] = max(t.wide[j], b.extent(v, t.columns[j].kind, t.columns[j].widest))
		}
	}
	t.sums = make([]any, len(t.columns))
	for j, c := range t.columns {
		t.sums[j] = adds[j].of(c.kind)
	}
	return t
}

// sum adds the values of a column; what is blank or text does not count.
type sum struct {
	money    money.Amount
	time     costing.Hours
	count    int
	quantity float64
}

func (s *sum) add(v any) {
	switch v := v.(type) {
	case money.Amount:
		s.money += v
	case costing.Hours:
		s.time += v
	case int:
		s.count += v
	case float64:
		s.quantity += v
	}
}

func (s *sum) of(k kind) any {
	switch k {
	case amount, exact:
		return s.money
	case hours:
		return s.time
	case whole:
		return s.count
	}
	return s.quantity
}

// totalValue is what the column's total comes to.
func (t *table) totalValue(key string) any {
	if t.columns[t.at(key)].foot == derived {
		return t.totals[key]
	}
	return t.sums[t.at(key)]
}

// valueIf is what sumIf comes to.
func (t *table) valueIf(add, where, word string) (a money.Amount) {
	from, what := t.at(where), t.at(add)
	for i := range t.count {
		t.last = t.row(i, t.last[:0])
		row := t.last
		if plainOf(row[from]) == word {
			a += amounts(plainOf(row[what]))
		}
	}
	return a
}

// plainOf is a value without its formula.
func plainOf(v any) any {
	if own, ok := v.(cell); ok {
		return own.value
	}
	return v
}

// footed tells whether the table has a total row.
func (t *table) footed() bool {
	return slices.ContainsFunc(t.columns, func(c column) bool { return c.foot != nothing })
}

// totalCells is the total row.
func (t *table) totalCells(label string) []cell {
	out := make([]cell, len(t.columns))
	out[0].value = label
	for j, c := range t.columns {
		switch c.foot {
		case added:
			l := t.letter(c.key)
			out[j] = cell{t.sums[j], fmt.Sprintf("SUM(%s%d:%s%d)", l, t.firstRow(), l, t.lastRow())}
		case derived:
			out[j] = cell{t.totals[c.key], in(t.formulas[j], t.footRow())}
		}
	}
	return out
}

// headsDiffer tells whether the heads can name the columns of a spreadsheet's table: all there, no two
// alike, none too long.
func (b *book) headsDiffer(t *table) bool {
	seen := make(map[string]bool)
	for _, c := range t.columns {
		head := harmless(b.Say(c.head))
		key := strings.ToLower(strings.TrimSpace(head))
		if key == "" || seen[key] || utf8.RuneCountInString(head) > 255 || strings.ContainsAny(head, "\n_") {
			return false
		}
		seen[key] = true
	}
	return true
}

// rows gives a table rows that are there already.
func (t *table) rows(all [][]any) {
	t.count, t.row = len(all), func(i int, out []any) []any { return append(out, all[i]...) }
}

// quoted is a sheet's name as formulas write it.
func quoted(sheet string) string { return "'" + strings.ReplaceAll(sheet, "'", "''") + "'" }

// text is a word as formulas write it.
func text(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }
