package valuation

import (
	"strconv"
	"strings"
)

// quantity is a number as a person writes it: "about 90 hp".
type quantity struct {
	value float64
	unit  string // lower case, without blanks and full stops about it
	about bool
}

var aboutWords = []string{"about", "approximately", "approx.", "approx", "around", "roughly", "circa", "ca.", "ca", "c.", "aprox.", "aprox", "unos", "~", "≈"}

// readQuantity takes a number apart from the words about it. It takes digits with a decimal point or
// comma and thousands marks, and refuses everything that is no such number: exponents, hexadecimals,
// names of infinity.
func readQuantity(text string) (quantity, bool) {
	var q quantity
	t := strings.ToLower(strings.TrimSpace(text))
	for _, word := range aboutWords {
		if rest, found := strings.CutPrefix(t, word); found {
			q.about = true
			t = strings.TrimSpace(rest)
			break
		}
	}
	if rest, found := strings.CutSuffix(t, "?"); found {
		q.about = true
		t = strings.TrimSpace(rest)
	}
	sign := 1.0
	if rest, found := strings.CutPrefix(t, "-"); found {
		sign, t = -1, rest
	} else if rest, found := strings.CutPrefix(t, "+"); found {
		t = rest
	}
	end := strings.IndexFunc(t, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' })
	if end < 0 {
		end = len(t)
	}
	number := t[:end]
	q.unit = strings.Trim(t[end:], " .\t\u00a0\u202f")
	if stop, found := strings.CutSuffix(number, "."); found && q.unit == "" {
		number = stop
	}
	plain, ok := plainNumber(number)
	if !ok {
		return q, false
	}
	v, err := strconv.ParseFloat(plain, 64)
	q.value = sign * v
	return q, err == nil
}

// plainNumber turns "1,250", "9,9" and "1.250,5" into what ParseFloat reads. A single comma before
// exactly three digits is a thousands mark, a single point never is.
func plainNumber(s string) (string, bool) {
	if s == "" || len(s) > 20 {
		return "", false
	}
	last := strings.LastIndexAny(s, ".,")
	if last < 0 {
		return s, true
	}
	mark := s[last]
	front, back := s[:last], s[last+1:]
	if front == "" || back == "" {
		return "", false
	}
	thousands := strings.IndexByte(front, mark) >= 0 || mark == ',' && len(back) == 3 && len(front) <= 3 && front[0] != '0' && !strings.Contains(front, ".")
	if thousands {
		front, back = s, ""
	}
	groups := strings.FieldsFunc(front, func(r rune) bool { return r == '.' || r == ',' })
	if strings.Contains(front, ".") && strings.Contains(front, ",") || len(groups)-1 != strings.Count(front, ".")+strings.Count(front, ",") {
		return "", false
	}
	for i, g := range groups {
		if i > 0 && len(g) != 3 || len(groups) > 1 && i == 0 && len(g) > 3 {
			return "", false
		}
	}
	plain := strings.Join(groups, "")
	if back != "" {
		plain += "." + back
	}
	return plain, true
}
