package intake

import (
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/currency"

	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// reckoning reads one column of amounts, once the whole column has been looked at. A single mark before
// exactly three digits, as in 1.480, is a thousands mark or a decimal one: the column's other amounts
// tell which.
type reckoning struct {
	field   string
	money   money.Currency
	decimal byte            // the decimal mark, 0 while nothing has settled it
	both    bool            // the column holds amounts of either convention
	threes  bool            // the column writes three digits after its decimal mark
	by      string          // the amount that settled it
	line    int             // its line
	unclear string          // the first amount that could be read in two ways
	foreign map[string]bool // signs and codes of other currencies
}

// learn looks at every amount of the column.
func (r *reckoning) learn(lines []line, c column) {
	r.heed(strings.ToUpper(c.unit))
	r.heed(sign(c.heading))
	for _, l := range lines {
		v := l.at(c.index)
		if v.kind != text || v.text == "" {
			continue
		}
		if _, err := r.money.Parse(v.text); err != nil {
			continue
		}
		for _, code := range strings.FieldsFunc(v.text, func(x rune) bool { return !unicode.IsLetter(x) }) {
			r.heed(code)
		}
		r.heed(sign(v.text))
		m := marksOf(core(v.text))
		switch {
		case m.unclear:
			if r.unclear == "" {
				r.unclear = v.text
			}
		case m.decimal == 0:
		case r.decimal == 0:
			r.decimal, r.by, r.line, r.threes = m.decimal, v.text, l.number, m.threes
		case m.decimal == r.decimal:
			r.threes = r.threes || m.threes
		default:
			r.both = true
		}
	}
}

// heed remembers a sign or an ISO code that is not the shop's own.
func (r *reckoning) heed(sign string) {
	if sign == "" || sign == r.money.Code() || strings.Contains(r.money.Symbol(), sign) {
		return
	}
	if _, err := currency.ParseISO(sign); err != nil || sign != strings.ToUpper(sign) {
		if x := []rune(sign); len(x) != 1 || !unicode.Is(unicode.Sc, x[0]) {
			return
		}
	}
	if r.foreign == nil {
		r.foreign = map[string]bool{}
	}
	r.foreign[sign] = true
}

// sign is the first currency sign in a text.
func sign(s string) string {
	for _, x := range s {
		if unicode.Is(unicode.Sc, x) {
			return string(x)
		}
	}
	return ""
}

// read is the amount in a cell; known is false for a blank one.
func (r *reckoning) read(v cell) (a money.Amount, known bool, why say.Sentence) {
	switch {
	case notKnown(v.text):
		return 0, false, say.Sentence{}
	case v.kind == dated:
		return 0, false, madeDate(v.text)
	case v.kind == fault, v.kind == unworked:
		return 0, false, faulty(v)
	case v.kind == number:
		f, err := strconv.ParseFloat(v.text, 64)
		if err != nil || !(f >= -money.MaxTyped && f <= money.MaxTyped) {
			return 0, false, notMoney(v.text)
		}
		return r.money.FromFloat(f), true, say.Sentence{}
	case v.kind != text:
		return 0, false, notMoney(v.text)
	}
	t := v.text
	if start, end := coreAt(t); start < end && marksOf(t[start:end]).unclear {
		mark := t[start:end][strings.IndexAny(t[start:end], ".,")]
		thousands := r.decimal == 0 && r.money.Digits() != 3 || r.decimal != 0 && mark != r.decimal
		switch {
		case r.both && r.money.Digits() == 3, !thousands && !r.threes && r.money.Digits() != 3 && !r.both:
			return 0, false, say.New("intake.money.unclear", "{{.Given}} could be thousands or a fraction; the other amounts write their fraction with {{.Mark}}",
				"Given", strconv.Quote(short(t)), "Mark", r.marks())
		case r.both || thousands:
			t = t[:start] + strings.Replace(t[start:end], string(mark), "", 1) + t[end:]
		default: // one more digit makes the mark a decimal one to whoever reads it
			t = t[:end] + "0" + t[end:]
		}
	}
	a, err := r.money.Parse(t)
	if err != nil {
		return 0, false, notMoney(v.text)
	}
	return a, true, say.Sentence{}
}

// notes says how unclear amounts were read, and that other currencies were not converted.
func (r *reckoning) notes() []say.Sentence {
	var out []say.Sentence
	if r.unclear != "" {
		a, _, why := r.read(cell{text: r.unclear})
		pairs := []any{"Column", r.field, "Given", short(r.unclear), "Amount", r.money.Format(a), "By", short(r.by), "Line", r.line, "Mark", r.marks()}
		switch {
		case !why.Empty():
			out = append(out, say.New("intake.money.refused", "Amounts in {{.Column}} write their fraction with {{.Mark}}, as {{.By}} on line {{.Line}} shows; {{.Given}} and its like fit neither way and were refused.", pairs...))
		case r.both:
			out = append(out, say.New("intake.money.both", "Amounts in {{.Column}} are written in both ways, with a point and with a comma before the fraction; {{.Given}} was read as {{.Amount}}.", pairs...))
		case r.decimal != 0:
			out = append(out, say.New("intake.money.settled", "{{.Given}} in {{.Column}} was read as {{.Amount}}, as {{.By}} on line {{.Line}} shows.", pairs...))
		default:
			out = append(out, say.New("intake.money.open", "{{.Given}} in {{.Column}} was read as {{.Amount}}; nothing else in the column tells thousands from fractions.", pairs...))
		}
	}
	if others := sortedKeys(r.foreign); len(others) > 0 {
		out = append(out, say.New("intake.money.foreign", "Amounts in {{.Column}} carry {{.Sign}}, and the shop counts in {{.Code}}; they were taken as they stand, not converted.",
			"Column", r.field, "Sign", strings.Join(others, ", "), "Code", r.money.Code()))
	}
	return out
}

// marks is what the marks in an amount tell.
type marks struct {
	decimal byte // certainly the decimal mark, 0 when there is none or it is not certain
	threes  bool // with three digits after it
	unclear bool // one mark before exactly three digits
}

// marksOf looks at an amount from its first digit to its last.
func marksOf(s string) marks {
	last := strings.LastIndexAny(s, ".,")
	if last < 0 {
		return marks{}
	}
	mark, front := s[last], s[:last]
	after := len(s) - last - 1
	switch {
	case strings.IndexByte(front, mark) >= 0: // 1.480.500: thousands, so the fraction takes the other
		return marks{decimal: '.' + ',' - mark}
	case strings.ContainsAny(front, ".,"): // 1,480.50
		return marks{decimal: mark, threes: after == 3}
	case after == 3 && len(front) <= 3 && strings.Trim(front, "0") != "" && strings.Trim(front, "0123456789") == "":
		return marks{unclear: true}
	}
	return marks{decimal: mark, threes: after == 3}
}

// core is an amount from its first digit, or a mark before it, to its last digit.
func core(s string) string {
	start, end := coreAt(s)
	return s[start:end]
}

func coreAt(s string) (start, end int) {
	start = strings.IndexAny(s, "0123456789")
	if start < 0 {
		return 0, 0
	}
	end = strings.LastIndexAny(s, "0123456789") + 1
	if start > 0 && (s[start-1] == '.' || s[start-1] == ',') {
		start--
	}
	return start, end
}

// marks names what stands before the fraction in the other amounts.
func (r *reckoning) marks() string {
	switch {
	case r.both:
		return "a point here and a comma there"
	case r.decimal == ',':
		return "a comma"
	}
	return "a point"
}

func notMoney(given string) say.Sentence {
	return say.New("intake.money", "{{.Given}} is not an amount of money", "Given", strconv.Quote(short(given)))
}

// madeDate is said of a cell that a spreadsheet has turned into a date on its own.
func madeDate(given string) say.Sentence {
	return say.New("intake.madedate", "the spreadsheet has made a date of it; format the cell as text or number and type it again", "Given", given)
}
