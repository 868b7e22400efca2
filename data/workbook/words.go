package workbook

import (
	"fmt"
	"slices"
	"strings"

	"skegworth/costing/review"
	"skegworth/valuation/say"
)

// apart are words that tell things apart in the reader's language, or in English where the language's do
// not: formulas find lines by them, without regard to case, so no two may be alike nor hold a sign that
// stands for any letter.
func apart[K comparable](b *book, names map[K]say.Sentence) map[K]string {
	said, english := make(map[K]string), make(map[K]string)
	seen := make(map[string]bool)
	clear := true
	for r, name := range names {
		said[r], english[r] = b.Say(name), name.String()
		key := strings.ToLower(strings.TrimSpace(said[r]))
		clear = clear && plainWord(said[r]) && !seen[key]
		seen[key] = true
	}
	if !clear {
		return english
	}
	return said
}

// plainWord tells whether a formula that looks for the word finds it and nothing else: it has a letter, so
// that it is not taken for a figure or a day, no sign that stands for others, and does not start a
// comparison.
func plainWord(s string) bool {
	letters := 0
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= 0xC0 && r < 0x250 && r != 0xD7 && r != 0xF7:
			letters++
		case r >= 0x3041 && r < 0xA000 || r >= 0x370 && r < 0x530:
			letters++
		case r >= '0' && r <= '9', strings.ContainsRune(" .,:;/()&'+-", r):
		default:
			return false
		}
	}
	switch strings.ToLower(s) {
	case "true", "false":
		return false
	}
	return letters > 1 && s == strings.TrimSpace(s) && s[0] != '+' && s[0] != '-' && s[0] != '\'' && len(s) < 200
}

// wordRanges are where the words stand that columns of the lines may hold.
type wordRanges struct {
	groups  wordRange
	figures [stands]wordRange
}

// sayWords settles the words that formulas look for.
func (b *book) sayWords() {
	b.fates, b.goes, b.groups = apart(b, fateNames), apart(b, goesNames), apart(b, groupNames)
	names := make(map[review.Figure]say.Sentence)
	for _, f := range review.Figures {
		names[f] = f.Name()
	}
	b.figures = apart(b, names)
}

// vocabulary is the sheet of the words that the columns of the lines hold, by column.
func (b *book) vocabulary() *table {
	t := &table{
		name:  "Words",
		about: say.New("workbook.about.words", "the words by which lines are added up"),
		title: say.New("workbook.words.title", "The words by which lines are added up"),
		notes: []say.Sentence{say.New("workbook.words.note", "The sheet Lines takes these words and no others in its last four columns.")},
		columns: []column{
			{key: "column", head: say.New("workbook.col.column", "Column of the sheet Lines"), widest: 34},
			{key: "word", head: say.New("workbook.col.word", "Word"), widest: 60},
		},
	}
	heads := []say.Sentence{say.New("workbook.col.group", "On the motor's sheet"), say.New("workbook.col.in", "Comes in as"),
		say.New("workbook.col.out", "Goes out or stands as"), say.New("workbook.col.counts", "Counts as")}
	var rows [][]any
	add := func(head say.Sentence, list []string) wordRange {
		from := len(rows)
		for _, w := range list {
			rows = append(rows, []any{b.Say(head), w})
		}
		return wordRange(fmt.Sprintf("%s!$B$%d:$B$%d", t.name, t.firstRow()+from, t.firstRow()+len(rows)-1))
	}
	var groups []string
	for _, w := range b.groups {
		groups = append(groups, w)
	}
	slices.Sort(groups)
	b.words.groups = add(heads[0], groups)
	for s := range stands {
		var list []string
		for _, f := range review.Figures {
			if len(f.Terms()) == 0 && columnOf(f) == s {
				list = append(list, b.figures[f])
			}
		}
		b.words.figures[s] = add(heads[1+s], list)
	}
	t.rows(rows)
	return t
}
