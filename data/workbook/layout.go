package workbook

import (
	"math"
	"math/bits"
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
	s := &sheet{name: t.name, still: 1, heads: t.headRow(), widths: b.widths(t), table: t}
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
	if t.count == 0 {
		s.rows = append(s.rows, row{cells: []drawn{{cell{value: b.Say(t.empty)}, look{kind: words, part: note}}}})
	}
	if t.footed() {
		cells := t.totalCells(b.Say(total))
		foots := row{cells: make([]drawn, len(cells))}
		for j, c := range cells {
			k := t.columns[j].kind
			if _, ok := c.value.(string); ok && c.formula == "" {
				k = words
			}
			foots.cells[j] = drawn{c, lookIn(j, k, foot)}
		}
		s.below = append(s.below, foots)
	}
	s.below = append(s.below, t.after...)
	if t.count > 0 {
		first, _ := excelize.CoordinatesToCellName(1, t.headRow())
		last, _ := excelize.CoordinatesToCellName(len(t.columns), t.lastRow())
		s.filter = first + ":" + last
		s.named = b.headsDiffer(t)
	}
	return s
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
		wide := max(narrowest, t.wide[j])
		title := b.Say(c.head)
		wide = max(wide, float64(utf8.RuneCountInString(title))/2.5) // three lines of head at the most
		for _, w := range strings.Fields(title) {
			wide = max(wide, float64(utf8.RuneCountInString(w))*1.1+3.5) // the filter's arrow beside it
		}
		if c.foot != nothing {
			wide = max(wide, b.extent(t.totalValue(c.key), c.kind, c.widest)*1.08) // bold
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
		if limit == 0 {
			limit = usual
		}
		return min(limit, float64(utf8.RuneCountInString(v))+2)
	case day.Day:
		return 10 + 2
	case money.Amount:
		return float64(b.signs+moneyDigits(v, b.Currency.Digits(), k != estimate)) + beside
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

// moneyDigits is how many signs an amount takes: digits, marks of thousands, point and minus.
func moneyDigits(a money.Amount, after int, cents bool) int {
	size := uint64(max(a, -a))
	digits := 1
	if size > 0 {
		digits = max(1, bits.Len64(size)*30103/100000+1-after) // log10 2
	}
	out := digits + (digits-1)/3
	if a < 0 {
		out++
	}
	if cents && after > 0 {
		out += after + 1
	}
	return out
}

// figures a number takes with its marks of thousands and so many digits after the point.
func figures(v float64, digits int) float64 {
	if digits == 3 && v == math.Trunc(v) {
		digits = 0
	}
	var room [40]byte
	s := strconv.AppendFloat(room[:0], v, 'f', digits, 64)
	if digits == 3 { // shown only as far as it has them
		s = []byte(strings.TrimRight(string(s), "0"))
	}
	return float64(len(s)) + math.Floor(math.Log10(max(1, math.Abs(v)))/3)
}

// lines a text takes in a column so wide, broken at blanks. Widths are counted in digits, and a text's
// letters are a little narrower than digits.
func lines(s string, width float64) int {
	width *= 1.12
	if float64(len(s)) <= width {
		return 1
	}
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
