package intake

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// fold reduces a heading or a month to its letters and digits in lower case without accents, so that
// "Date_Sold", "date sold" and "DATE-SOLD" are one, and "Año" is "ano".
func fold(s string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(s) {
		if r == 'ß' {
			b.WriteString("ss")
			continue
		}
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

// words splits a heading at everything that is neither letter nor digit and folds each piece.
func words(s string) []string {
	fields := strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.Is(unicode.Mn, r) })
	out := fields[:0]
	for _, f := range fields {
		if f = fold(f); f != "" {
			out = append(out, f)
		}
	}
	return out
}
