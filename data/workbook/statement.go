package workbook

import (
	"fmt"
	"strings"

	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// statement is a sheet of labelled figures while its lines are written: label, figure, and where the figure
// is from.
type statement struct {
	b     *book
	name  string
	wide  []float64
	lines []line
	at    map[string]int
}

// line of a statement. The formula may call other lines by {key}, those below it too.
type line struct {
	key    string
	label  say.Sentence
	figure cell
	kind   kind
	part   part
	from   say.Sentence
	across string // text over the whole width instead
	link   string
	turn   bool // begins a new page
}

func (b *book) statement(name string, wide ...float64) *statement {
	return &statement{b: b, name: name, wide: wide}
}

func (s *statement) say(p part, text string) {
	if text != "" {
		s.lines = append(s.lines, line{part: p, across: text})
	}
}

func (s *statement) section(head say.Sentence) {
	s.lines = append(s.lines, line{part: body, across: " "}, line{part: section, label: head})
}

// page begins a new page with the section that follows.
func (s *statement) page() { s.lines = append(s.lines, line{part: body, across: " ", turn: true}) }

func (s *statement) add(key string, label say.Sentence, value any, formula string, k kind, p part, from say.Sentence) {
	s.lines = append(s.lines, line{key: key, label: label, figure: cell{value, formula}, kind: k, part: p, from: from})
}

// money is a line of money that is worked out from other cells.
func (s *statement) money(key string, label say.Sentence, a money.Amount, formula string, from say.Sentence) {
	s.add(key, label, a, formula, amount, body, from)
}

// places are the rows of the lines by their keys.
func (s *statement) places() map[string]int {
	if s.at == nil {
		s.at = make(map[string]int)
		for i, l := range s.lines {
			if l.key != "" {
				s.at[l.key] = i + 1
			}
		}
	}
	return s.at
}

// ref is a reference to a line's figure from another sheet.
func (s *statement) ref(key string) string {
	at := s.places()[key]
	if at == 0 {
		panic("workbook: " + s.name + " has no line " + key)
	}
	return fmt.Sprintf("%s!$B$%d", quoted(s.name), at)
}

// sheet lays the statement out, with the holes of its formulas filled.
func (s *statement) sheet() *sheet {
	at := s.places()
	fill := func(formula string) string {
		for {
			open := strings.IndexByte(formula, '{')
			if open < 0 {
				return formula
			}
			end := open + strings.IndexByte(formula[open:], '}')
			key := formula[open+1 : end]
			if at[key] == 0 {
				panic("workbook: " + s.name + " has no line " + key)
			}
			formula = fmt.Sprintf("%sB%d%s", formula[:open], at[key], formula[end+1:])
		}
	}
	out := &sheet{name: s.name, widths: s.wide, upright: true}
	all := 0.0
	for _, w := range s.wide {
		all += w
	}
	for i, l := range s.lines {
		if l.turn {
			out.breaks = append(out.breaks, i+1)
		}
		if l.across != "" {
			out.rows = append(out.rows, s.b.across(l.across, l.part, all))
			continue
		}
		l.figure.formula = fill(l.figure.formula)
		k := l.kind
		if _, isText := l.figure.value.(string); isText && l.figure.formula == "" {
			k = words
		}
		p := l.part
		beside := note
		if p == section {
			beside = section
		}
		first := look{kind: words, part: p}
		if l.link != "" {
			first.link = true
		}
		said, from := s.b.Say(l.label), s.b.Say(l.from)
		out.rows = append(out.rows, row{
			cells: []drawn{
				{cell{value: said}, first},
				{l.figure, look{kind: k, part: p}},
				{cell{value: from}, look{kind: words, part: beside, inset: true}},
			},
			height: tall(max(lines(said, s.wide[0]), lines(from, s.wide[2]))),
			link:   l.link,
		})
	}
	return out
}

// from names the sheet a figure is from.
func from(t *table) say.Sentence {
	return say.New("workbook.from", "sheet {{.Sheet}}", "Sheet", t.name)
}
