package workbook

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// lay turns a table into a sheet: title, notes, heads, rows, totals, wide enough for all of them.
func (b *book) lay(t *table) *sheet {
	s := &sheet{name: t.name, still: 1, heads: t.headRow(), widths: b.widths(t)}
	if t.columns[0].kind == date {
		s.still = 2 // the day and what it is of
	}
	all := 0.0
	for _, w := range s.widths {
		all += w
	}
	s.rows = append(s.rows, b.across(b.Say(t.title), title, all))
	for _, n := range t.notes {
		s.rows = append(s.rows, b.across(b.Say(n), note, all))
	}
	heads := make([]drawn, len(t.columns))
	deepest := 1
	for j, c := range t.columns {
		heads[j] = drawn{cell{value: b.Say(c.head)}, lookIn(j, c.kind, head)}
		deepest = max(deepest, lines(b.Say(c.head), s.widths[j]-1))
	}
	s.rows = append(s.rows, row{cells: heads, height: tall(deepest)})
	if len(t.rows) == 0 {
		s.rows = append(s.rows, row{cells: []drawn{{cell{value: b.Say(t.empty)}, look{kind: words, part: note}}}})
	}
	for i := range t.rows {
		s.rows = append(s.rows, b.drawRow(t, t.cells(i), body, s.widths))
	}
	if t.footed() {
		s.rows = append(s.rows, b.drawRow(t, t.totalCells(b.Say(total)), foot, s.widths))
	}
	s.rows = append(s.rows, t.after...)
	last, err := excelize.CoordinatesToCellName(len(t.columns), t.lastRow())
	if err == nil && len(t.rows) > 0 {
		first, _ := excelize.CoordinatesToCellName(1, t.headRow())
		s.filter = first + ":" + last
	}
	return s
}

// footed tells whether the table has a total row.
func (t *table) footed() bool {
	for _, c := range t.columns {
		if c.foot != nothing {
			return true
		}
	}
	return false
}

func (b *book) drawRow(t *table, cells []cell, p part, widths []float64) row {
	r := row{cells: make([]drawn, len(cells))}
	deepest := 1
	for j, c := range cells {
		k := t.columns[j].kind
		if s, ok := c.value.(string); ok && c.formula == "" {
			k = words
			deepest = max(deepest, lines(s, widths[j]-1))
		}
		r.cells[j] = drawn{c, lookIn(j, k, p)}
	}
	if deepest > 1 {
		r.height = tall(deepest)
	}
	return r
}

// lookIn is the look of a cell in the column with the given place: texts stand clear of what is left of
// them.
func lookIn(j int, k kind, p part) look {
	return look{kind: k, part: p, inset: j > 0 && (k == words || k == date)}
}

// across is one text over the whole width of a sheet.
func (b *book) across(s string, p part, width float64) row {
	size := 1.0
	switch p {
	case title:
		return row{cells: []drawn{{cell{value: s}, look{kind: words, part: p}}}, height: 22}
	case answer:
		size = 1.3
	}
	return row{cells: []drawn{{cell{value: s}, look{kind: words, part: p}}}, across: true, height: tall(lines(s, width/size)) * size}
}

// Widths of columns, in characters.
const (
	narrowest = 7
	usual     = 30 // widest, unless the column says otherwise
)

// widths makes every column as wide as its longest figure and longest word of its head, and its texts wrap
// at the limit.
func (b *book) widths(t *table) []float64 {
	out := make([]float64, len(t.columns))
	for j, c := range t.columns {
		limit := c.widest
		if limit == 0 {
			limit = usual
		}
		wide := float64(narrowest)
		title := b.Say(c.head)
		wide = max(wide, float64(utf8.RuneCountInString(title))/2.5) // three lines of head at the most
		for _, w := range strings.Fields(title) {
			wide = max(wide, float64(utf8.RuneCountInString(w))*1.1+2)
		}
		for i := range t.rows {
			wide = max(wide, b.extent(t.rows[i][j], c.kind, limit))
		}
		if c.foot != nothing {
			wide = max(wide, b.extent(t.totalValue(c.key), c.kind, limit)*1.08) // bold
		}
		if c.kind != words && c.kind != date {
			wide++ // figures and their heads stand apart
		}
		out[j] = wide
	}
	return out
}

// extent is how wide a value is as it is written. Text stops at the limit and wraps; a figure never may.
func (b *book) extent(v any, k kind, limit float64) float64 {
	const beside = 2 // a little air
	switch v := v.(type) {
	case string:
		return min(limit, float64(utf8.RuneCountInString(v))+2)
	case day.Day:
		return 10 + 2
	case money.Amount:
		if k == estimate {
			return float64(utf8.RuneCountInString(b.Currency.Whole(v)+b.Currency.Symbol())) + beside
		}
		return float64(utf8.RuneCountInString(b.Currency.Format(v)+b.Currency.Symbol())) + beside
	case costing.Hours:
		return figures(v.Float(), 2) + beside
	case int:
		return figures(float64(v), 0) + beside
	case float64:
		if k == share {
			return figures(100*v, 1) + 1 + beside
		}
		return figures(v, 3) + beside
	}
	return 0
}

// figures a number takes with its marks of thousands and so many digits after the point.
func figures(v float64, digits int) float64 {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if digits == 3 { // shown only as far as it has them
		s = strings.TrimRight(s, "0")
	}
	return float64(len(s)) + math.Floor(math.Log10(max(1, math.Abs(v)))/3)
}

// lines a text takes in a column so wide, broken at blanks. Widths are counted in digits, and a text's
// letters are a little narrower than digits.
func lines(s string, width float64) int {
	width *= 1.12
	n, used := 1, 0.0
	for _, w := range strings.Fields(s) {
		long := float64(utf8.RuneCountInString(w))
		switch {
		case used == 0:
			used = long
		case used+1+long <= width:
			used += 1 + long
		default:
			n++
			used = long
		}
		if used > width && width > 0 { // a word longer than the line
			more := math.Ceil(used/width) - 1
			n += int(more)
			used -= more * width
		}
	}
	return n
}

// tall is the height of so many lines of text, in points.
func tall(lines int) float64 { return min(400, 13.2*float64(lines)+2) }
