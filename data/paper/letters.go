package paper

import (
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"
)

// family is Liberation Sans (SIL Open Font License): Latin, Greek, Cyrillic and Hebrew letters, figures of one
// width, and the signs of most currencies. It is in the binary, so a page looks alike everywhere.
const family = "liberation"

// noLetter stands where the font has no letter. The foot of the page says so.
const noLetter = '□'

// instead are signs that the font lacks and that can be said otherwise.
var instead = map[rune]string{
	'₹': "INR ", '₺': "TRY ", '₽': "RUB ", '฿': "THB ", '₸': "KZT ", '₼': "AZN ", '₾': "GEL ",
	'\u2010': "-", '\u2011': "-", '\u00ad': "", '✓': "√", '✔': "√", '☐': "□", '☑': "√", '⁄': "/", '\u2028': "\n", '\u2029': "\n",
}

var letters = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(liberationsansregular.TTF)
	if err != nil {
		panic("paper: its own font cannot be read: " + err.Error()) // it is part of the binary
	}
	return f
})

// longest text that a page takes, in letters.
const longest = 20_000

// plain is text that the font can write: control characters are blanks, marks that only steer are dropped,
// and a letter that the font lacks is said otherwise or stands as [noLetter].
func (s *sheet) plain(text string) string {
	if utf8.RuneCountInString(text) > longest {
		text = string([]rune(text)[:longest]) + " …"
	}
	text = strings.Map(unsteered(), strings.ToValidUTF8(text, string(unicode.ReplacementChar)))
	text = norm.NFC.String(text) // after that, so that a letter and its mark with nothing left between are one
	var out strings.Builder
	var glyphs sfnt.Buffer
	for _, r := range strings.ReplaceAll(text, "\r\n", "\n") {
		if other, ok := instead[r]; ok {
			out.WriteString(other)
			continue
		}
		switch {
		case r == '\n':
			out.WriteByte('\n')
		case r == '\r':
			out.WriteByte('\n')
		case unicode.IsControl(r):
			out.WriteByte(' ')
		case s.has(&glyphs, r):
			out.WriteRune(r)
		case unicode.IsSpace(r):
			out.WriteByte(' ')
		case unicode.Is(unicode.M, r): // a mark on a letter; the letter stays
		default:
			s.lacked = true
			out.WriteRune(noLetter)
		}
	}
	return out.String()
}

// mostMarks are kept on one letter. Where more than thirty follow each other, joining letters and marks
// would part them by an unseen one.
const mostMarks = 8

// unsteered drops the marks that only steer, and those on a letter beyond the most that any language has.
func unsteered() func(rune) rune {
	marks := 0
	return func(r rune) rune {
		if _, said := instead[r]; !said && unicode.In(r, unicode.Cf, unicode.Variation_Selector) {
			return -1
		}
		if !unicode.Is(unicode.M, r) {
			marks = 0
			return r
		}
		if marks++; marks > mostMarks || r == '\u034f' { // itself a mark that only steers
			return -1
		}
		return r
	}
}

func (s *sheet) has(b *sfnt.Buffer, r rune) bool {
	if r > 0xFFFF {
		return false // beyond the plane that the PDF library writes
	}
	g, err := letters().GlyphIndex(b, r)
	return err == nil && g != 0
}

// visual is one line in the order in which it is seen: the page runs from left to right, and a stretch of
// Hebrew words in it is turned round. Letters of other scripts and figures end a stretch.
func visual(line string) string {
	hebrew := func(r rune) bool { return unicode.Is(unicode.Hebrew, r) }
	if strings.IndexFunc(line, hebrew) < 0 {
		return line
	}
	runes := []rune(line)
	for i := 0; i < len(runes); i++ {
		if !hebrew(runes[i]) {
			continue
		}
		end := i + 1 // after the last Hebrew letter of the stretch
		for j := end; j < len(runes); j++ {
			if hebrew(runes[j]) {
				end = j + 1
			} else if unicode.IsLetter(runes[j]) || unicode.IsDigit(runes[j]) {
				break
			}
		}
		slices.Reverse(runes[i:end])
		for j := i; j < end; j++ {
			if other, ok := mirrored[runes[j]]; ok {
				runes[j] = other
			}
		}
		i = end - 1
	}
	return string(runes)
}

// mirrored are signs that turn round with the text.
var mirrored = map[rune]rune{'(': ')', ')': '(', '[': ']', ']': '[', '<': '>', '>': '<', '«': '»', '»': '«'}

// capital begins a text with a large letter.
func capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return text
	}
	return string(unicode.ToUpper(r)) + text[n:]
}

// clipped is a text cut to so many letters, with a sign that it was.
func clipped(text string, most int) string {
	text = strings.Join(strings.Fields(text), " ")
	if runes := []rune(text); len(runes) > most {
		return strings.TrimSpace(string(runes[:most])) + " …"
	}
	return text
}
