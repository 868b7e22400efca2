package widgets

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"skegworth/app/look"
	"skegworth/valuation/say"
)

// Say gives the sentence in the user's language. What has no translation is said in English. Holes may
// be filled with sentences, which are translated first.
func Say(s say.Sentence) string { return look.Say(s) }

// SayAll gives each sentence in the user's language, leaving out those that say nothing.
func SayAll(all []say.Sentence) []string {
	var out []string
	for _, s := range all {
		if !s.Empty() {
			out = append(out, Say(s))
		}
	}
	return out
}

// ErrorText is an error as a sentence for the user. An error that carries a [say.Sentence], by a method
// Sentence, is said in the user's language; any other as it is, with a capital letter.
func ErrorText(err error) string {
	if err == nil {
		return ""
	}
	var spoken interface{ Sentence() say.Sentence }
	if errors.As(err, &spoken) {
		return Capital(Say(spoken.Sentence()))
	}
	return Capital(strings.TrimSpace(err.Error()))
}

// WholeSentence begins words with a capital letter and ends them with a full stop: the arithmetic gives
// its warnings as a line of a list, the window shows each by itself.
func WholeSentence(s string) string {
	if s == "" {
		return ""
	}
	if last, _ := utf8.DecodeLastRuneInString(s); unicode.IsLetter(last) || unicode.IsDigit(last) || last == '%' || last == ')' {
		s += "."
	}
	return Capital(s)
}

// Capital makes the first letter a capital one.
func Capital(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}
