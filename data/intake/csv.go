package intake

import (
	"fmt"
	"strings"

	"skegworth/valuation/say"
)

// readText reads a CSV file in whatever dialect it is written.
func readText(data []byte, want wanted) (table, error) {
	s, notes, err := decode(data)
	if err != nil {
		return table{}, err
	}
	if strings.IndexByte(s, '\n') < 0 { // lines that end as on the first Macintosh
		s = strings.ReplaceAll(s, "\r", "\n")
	}
	if strings.Trim(s, " \t\r\n\x00\ufeff") == "" {
		return table{}, ErrEmpty
	}
	guess := want
	guess.layout = nil
	separator, skip := sniffSeparator(s, guess)
	number := 1
	if skip > 0 {
		number = 2
	}
	r := newSplitter(s[skip:], separator, number)
	t, score, err := fill(func() (line, bool, error) {
		l, more := r.next()
		return l, more, nil
	}, want)
	switch {
	case err != nil:
		return table{}, err
	case !t.found:
		return t, lacking(t.header, score, want)
	}
	if separator != ',' {
		notes = append(notes, say.New("intake.separator", "The cells are parted by {{.Mark}}.", "Mark", separatorName(separator)))
	}
	t.notes = append(notes, t.notes...)
	return t, nil
}

func separatorName(separator byte) string {
	switch separator {
	case ';':
		return "semicolons"
	case '\t':
		return "tabs"
	}
	return fmt.Sprintf("%q", separator)
}
