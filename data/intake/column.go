package intake

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// reader reads the rows of a table, after each column has been looked at as a whole.
type reader struct {
	table     table
	calendars map[string]*calendar
	amounts   map[string]*reckoning
	columns   map[string]column
	motor     []column // columns of facts about the motor, in the order they are set
}

// newReader looks over the columns. The named fields are dates and amounts; latest is the last day a
// date may have, 0 for no limit.
func newReader(t table, o Options, dates, amounts []string, latest day.Day) *reader {
	r := &reader{table: t, calendars: map[string]*calendar{}, amounts: map[string]*reckoning{}, columns: map[string]column{}}
	for _, c := range t.header.columns {
		r.columns[c.field] = c
	}
	var calendars []*calendar
	for _, field := range dates {
		c, ok := r.columns[field]
		if !ok {
			continue
		}
		k := &calendar{field: field, count4: t.date4, latest: latest}
		k.learn(t.lines, c.index)
		r.calendars[field] = k
		calendars = append(calendars, k)
	}
	settle(calendars, o)
	for _, field := range amounts {
		if c, ok := r.columns[field]; ok {
			k := &reckoning{field: field, money: o.Currency}
			k.learn(t.lines, c)
			r.amounts[field] = k
		}
	}
	for _, f := range valuation.Fields() { // in their order, so that about-power comes after power
		if c, ok := r.columns[f.Name]; ok {
			r.motor = append(r.motor, c)
		}
	}
	return r
}

// notes is everything there is to say about how the file was read.
func (r *reader) notes() []say.Sentence {
	out := r.table.notes
	for _, field := range sortedKeys(r.calendars) {
		if s := r.calendars[field].note(); !s.Empty() {
			out = append(out, s)
		}
	}
	for _, field := range sortedKeys(r.amounts) {
		out = append(out, r.amounts[field].notes()...)
	}
	return out
}

// day reads a date of a row; 0 when the column or the cell is not there.
func (r *reader) day(l line, field string) (day.Day, error) {
	c, ok := r.columns[field]
	if !ok {
		return 0, nil
	}
	d, why := r.calendars[field].read(l.at(c.index))
	return d, refuse(field, why)
}

// amount reads an amount of a row; known is false when the column or the cell is not there.
func (r *reader) amount(l line, field string) (a money.Amount, known bool, err error) {
	c, ok := r.columns[field]
	if !ok {
		return 0, false, nil
	}
	a, known, why := r.amounts[field].read(l.at(c.index))
	return a, known, refuse(field, why)
}

// words reads free text of a row.
func (r *reader) words(l line, field string) (string, error) {
	c, ok := r.columns[field]
	if !ok {
		return "", nil
	}
	v := l.at(c.index)
	if v.kind == fault || v.kind == unworked {
		return "", refuse(field, faulty(v))
	}
	t := strings.ReplaceAll(strings.ReplaceAll(r.spoken(v), "\r\n", "\n"), "\r", "\n")
	return strings.Clone(strings.Map(func(x rune) rune { // a clone, or one note would keep the whole file in memory
		if x != '\n' && x != '\t' && unicode.IsControl(x) {
			return -1
		}
		return x
	}, t)), nil
}

// fact puts one column of a row into the motor.
func (r *reader) fact(m *valuation.Motor, l line, c column) error {
	v := l.at(c.index)
	switch v.kind {
	case fault, unworked:
		return refuse(c.field, faulty(v))
	case dated:
		w, why := readDate(v, r.table.date4)
		if c.field != "year" || !why.Empty() {
			return refuse(c.field, madeDate(v.text))
		}
		return m.Set(c.field, strconv.Itoa(w.day.Year()))
	}
	t := r.spoken(v)
	if notKnown(t) {
		t = ""
	}
	if c.yes != "" {
		t = c.answer(t)
	}
	if v.kind == text && c.field == "hours" && r.commaFraction() && marksOf(t).unclear {
		t = strings.Replace(t, ".", "", 1) // 1.200 h where the prices say 1.480,50
	}
	hasUnit := strings.ContainsFunc(t, unicode.IsLetter)
	switch {
	case t == "" || hasUnit:
	case c.field == "power" && (c.unit == "kw" || c.unit == "kilowatt" || c.unit == "kilowatts"):
		return m.SetIn(c.field, t, true)
	case c.field == "power" && (c.unit == "ps" || c.unit == "cv"),
		c.field == "shaft" && (c.unit == "cm" || c.unit == "mm"),
		c.field == "compression" && (c.unit == "bar" || c.unit == "kpa"):
		t += " " + c.unit
	}
	return m.Set(c.field, t)
}

// commaFraction tells whether the amounts of the file write their fraction with a comma.
func (r *reader) commaFraction() bool {
	for _, k := range r.amounts {
		if k.decimal == ',' && !k.both {
			return true
		}
	}
	return false
}

// spoken is a cell as a person would write it.
func (r *reader) spoken(v cell) string {
	switch v.kind {
	case number:
		return plain(v.text)
	case truth:
		if v.text == "0" || strings.EqualFold(v.text, "false") {
			return "no"
		}
		return "yes"
	case dated:
		if w, why := readDate(v, r.table.date4); why.Empty() {
			return w.day.String()
		}
	}
	return v.text
}

// answer turns yes and no into the word they stand for under this heading.
func (c column) answer(t string) string {
	var m valuation.Motor
	if m.Set("turns", t) != nil {
		return t
	}
	switch m.Turns {
	case valuation.Yes:
		return c.yes
	case valuation.No:
		return c.no
	}
	return ""
}

// plain writes a number of a workbook with the fifteen digits it has, and without an exponent.
func plain(raw string) string {
	f, err := strconv.ParseFloat(raw, 64)
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		return raw
	}
	if f, err = strconv.ParseFloat(strconv.FormatFloat(f, 'g', 15, 64), 64); err != nil || math.Abs(f) >= 1e15 {
		return raw
	}
	return strconv.FormatFloat(f, 'f', -1, 64)
}

func refuse(field string, why say.Sentence) error {
	if why.Empty() {
		return nil
	}
	return &valuation.FieldError{Field: field, Why: why}
}

// refusal makes a listed refusal of an error.
func refusal(l line, err error) Refusal {
	var f *valuation.FieldError
	if errors.As(err, &f) {
		if f.Field == wholeRow {
			return Refusal{Line: l.number, Reason: f.Why.String(), Why: f.Why}
		}
		return Refusal{Line: l.number, Field: f.Field, Reason: f.Why.String(), Why: f.Why}
	}
	return Refusal{Line: l.number, Reason: err.Error(), Why: say.New("intake.other", "{{.What}}", "What", err.Error())}
}

// wholeRow stands for a field where the whole row is at fault.
const wholeRow = "row"

// fit refuses a row that cannot be read, or that has more cells than the header names: a price with a
// comma, left without quotes, would move every figure after it into the next column.
func (r *reader) fit(l line) error {
	if !l.broken.Empty() {
		return refuse(wholeRow, l.broken)
	}
	for i := r.table.header.width; i < len(l.cells) && !r.table.grid; i++ {
		if l.cells[i].text != "" {
			return refuse(wholeRow, say.New("intake.more", "the row has {{.Cells}} cells and the header {{.Width}}; a cell with the separator in it must stand in quotation marks",
				"Cells", i+1, "Width", r.table.header.width))
		}
	}
	return nil
}

// faulty is said of a cell that holds an error, or a formula without a value.
func faulty(v cell) say.Sentence {
	if v.kind == unworked {
		return say.New("intake.unworked", "the formula has no value stored with it; open the workbook in a spreadsheet, save it, and take it in again")
	}
	return say.New("intake.fault", "the spreadsheet shows the error {{.Given}} here", "Given", short(v.text))
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
