package money

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
)

// ParseDecimal reads a decimal number as people write money, into whole units of 10^-digits. See
// [Currency.Parse] for what is taken. Digits beyond the last are refused rather than rounded: 12.345
// in a currency of cents is more likely a slip than a wish.
func ParseDecimal(s string, digits int) (Amount, error) {
	fail := func(why string) (Amount, error) {
		return 0, fmt.Errorf("%w: %q %s", ErrNotMoney, strings.TrimSpace(s), why)
	}
	negative := false
	closed := false // a word, sign or minus has followed digits: no digit may come after it
	t := dashedEnd(strings.TrimSpace(s))
	if strings.HasPrefix(t, "(") && strings.HasSuffix(t, ")") {
		negative = true
		t = t[1 : len(t)-1]
	}
	var kept []rune
	for _, r := range t {
		switch {
		case r >= '0' && r <= '9' && closed: // "3 for 600", "1480-1600": two figures, not one
			return fail("has something between its digits")
		case r >= '0' && r <= '9', r == '.', r == ',':
			kept = append(kept, r)
		case r == '-' || r == '\u2212':
			if negative {
				return fail("has two signs")
			}
			negative = true
			closed = digitIn(kept)
		case r == '\'' || r == '\u2019' || unicode.IsSpace(r) || r == '\u00a0' || r == '\u202f':
			if len(kept) > 0 { // a thousands mark between digits, or blank before a sign
				kept = append(kept, '\'')
			}
		case unicode.Is(unicode.Sc, r) || unicode.IsLetter(r) || r == '+':
			closed = digitIn(kept)
			if len(kept) > 0 && kept[len(kept)-1] != '\'' {
				kept = append(kept, '\'')
			}
		default:
			return fail("has a sign that does not belong in an amount")
		}
	}
	text := strings.Trim(string(kept), "'")
	if words := strings.FieldsFunc(t, func(r rune) bool { return !unicode.IsLetter(r) }); len(words) > 1 || (len(words) == 1 && len(words[0]) > 3) {
		return fail("has words in it")
	} else if closed && len(words) == 1 && (strings.EqualFold(words[0], "k") || strings.EqualFold(words[0], "m")) {
		return fail("is short for thousands or millions; write all its digits") // 1.5k is not 1.50
	}
	if text == "" || !strings.ContainsAny(text, "0123456789") {
		return fail("has no digits")
	}
	whole, part, err := splitMarks(text, digits)
	if err != "" {
		return fail(err)
	}
	if len(part) > digits {
		if strings.Trim(part[digits:], "0") != "" {
			return fail(fmt.Sprintf("has more than %d digits after the point", digits))
		}
		part = part[:digits]
	}
	part += strings.Repeat("0", digits-len(part))
	whole = strings.TrimLeft(whole, "0")
	if len(whole) > 10 {
		return fail("is too large")
	}
	var v int64
	for _, r := range whole + part {
		v = v*10 + int64(r-'0')
	}
	if float64(v) > MaxTyped*math.Pow10(digits) {
		return fail("is too large")
	}
	if negative {
		v = -v
	}
	return Amount(v), nil
}

// dashedEnd takes off the dash that stands for no cents: "1480,-" and "1'480.\u2013".
func dashedEnd(t string) string {
	cut := strings.TrimRight(t, "-\u2013\u2014")
	if len(cut) < len(t) && len(cut) > 1 && strings.ContainsRune(".,", rune(cut[len(cut)-1])) {
		return cut[:len(cut)-1]
	}
	return t
}

func digitIn(kept []rune) bool {
	return slices.ContainsFunc(kept, func(r rune) bool { return r >= '0' && r <= '9' })
}

// splitMarks finds which mark is the decimal one and checks that the rest group thousands.
func splitMarks(text string, digits int) (whole, part, why string) {
	last := strings.LastIndexAny(text, ".,")
	decimal := -1
	if last >= 0 {
		mark := text[last]
		after := len(text) - last - 1
		other := strings.ContainsAny(text[:last], map[byte]string{'.': ",'", ',': ".'"}[mark])
		repeated := strings.IndexByte(text[:last], mark) >= 0
		switch {
		case repeated: // 1.480.500
		case after == 3 && digits != 3 && !other && len(text[:last]) <= 3 && strings.TrimLeft(text[:last], "0") != "":
			// 1,480: a thousands mark
		default:
			decimal = last
		}
	}
	whole = text
	if decimal >= 0 {
		whole, part = text[:decimal], text[decimal+1:]
		if strings.ContainsAny(part, ".,'") {
			return "", "", "has marks where none belong"
		}
	}
	groups := strings.FieldsFunc(whole, func(r rune) bool { return r == '.' || r == ',' || r == '\'' })
	if marks := len(whole) - len(strings.Join(groups, "")); marks > 0 {
		if marks != len(groups)-1 || len(groups[0]) > 3 {
			return "", "", "has marks where none belong"
		}
		for _, g := range groups[1:] {
			if len(g) != 3 && len(g) != 2 { // 12,34,567 is how lakhs are written
				return "", "", "has marks where none belong"
			}
		}
		if len(groups) > 1 && len(groups[len(groups)-1]) != 3 {
			return "", "", "has marks where none belong"
		}
		seen := byte(0)
		for i := range len(whole) {
			if m := whole[i]; m == '.' || m == ',' || m == '\'' {
				if seen != 0 && m != seen {
					return "", "", "has marks where none belong"
				}
				seen = m
			}
		}
	}
	return strings.Join(groups, ""), part, ""
}
