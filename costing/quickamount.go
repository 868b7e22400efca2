package costing

import (
	"strings"
	"unicode"

	"skegworth/valuation/money"
)

// takeAmount finds the amount, and with it the text before and the supplier after; "" when it went well.
func (q *quickLine) takeAmount() string {
	found, why := q.findAmount()
	if why != "" {
		return why
	}
	q.rank = found.rank
	if q.rank == 2 && !found.cents { // "oil 1.5" may be so many of it
		q.rank = 1
	}
	l := &q.line
	each := found.each || (q.counted && l.Unit == "" && !found.all)
	before, after := q.words[:found.from], q.words[found.to:]
	before, after = q.takeTimes(before, after, &each, found.all)
	if len(before) == 0 && !q.kinded { // "14.50 impeller"
		before, after = after, nil
	}
	l.Text, l.Supplier = strings.Join(before, " "), strings.Join(after, " ")
	if each {
		l.Each = found.amount
		l.Total = money.Round(float64(found.amount) * l.Quantity)
	} else {
		l.Each = money.Round(float64(found.amount) / l.Quantity)
		l.Total = found.amount
	}
	return ""
}

// takeTimes reads a quantity written behind what it counts ("impeller x2 14.50", "impeller 14.50 x 2")
// and "each" behind the amount.
func (q *quickLine) takeTimes(before, after []string, each *bool, all bool) (b, a []string) {
	if len(after) > 0 {
		switch strings.ToLower(after[0]) {
		case "each", "ea", "apiece":
			*each, after = true, after[1:]
		}
	}
	if q.counted {
		return before, after
	}
	counted := func(words []string) (float64, int) {
		if len(words) > 1 && isTimes(words[0]) {
			if v, ok := parseQuantity(words[1]); ok {
				return v, 2
			}
		}
		if len(words) > 0 && len(words[0]) > 1 && isTimes(words[0][:1]) {
			if v, ok := parseQuantity(words[0][1:]); ok {
				return v, 1
			}
		}
		return 0, 0
	}
	if v, n := counted(after); n > 0 {
		q.line.Quantity, q.counted, *each = v, true, !all
		return before, after[n:]
	}
	for n := 1; n <= 2 && n < len(before); n++ {
		if v, used := counted(before[len(before)-n:]); used == n {
			q.line.Quantity, q.counted, *each = v, true, *each || !all
			return before[:len(before)-n], after
		}
	}
	return before, after
}

// amountAt is an amount found among the words from and before to.
type amountAt struct {
	from, to  int
	amount    money.Amount
	each, all bool // said to be for one, or for all of it
	cents     bool // written with all its decimals
	rank      int
}

// findAmount picks the amount among the words that could be one; see ParseQuickLine for the order.
func (q *quickLine) findAmount() (amountAt, string) {
	best := amountAt{rank: -1}
	negative := false
	for i := range q.words {
		a, ok, isNegative := q.amountFrom(i)
		negative = negative || isNegative
		if ok && a.rank >= best.rank {
			best = a
		}
	}
	switch {
	case best.rank >= 0:
		return best, ""
	case negative:
		return best, "has an amount below nothing; to take something back, return its own line"
	}
	return best, "has no amount in it"
}

// amountFrom reads the amount that starts at word i, if one does.
func (q *quickLine) amountFrom(i int) (a amountAt, ok, negative bool) {
	a = amountAt{from: i, to: i + 1}
	word := q.words[i]
	switch {
	case word[0] == '@':
		a.each, word = true, word[1:]
	case word[0] == '=':
		a.all, word = true, word[1:]
	}
	marked := a.each || a.all
	sign := func(s string) bool { return strings.EqualFold(s, q.currency.Code()) || s == q.currency.Symbol() }
	signed := false
	if (word == "" && marked) || sign(word) { // "@ 6", "$ 6"
		signed = sign(word)
		if a.to == len(q.words) {
			return a, false, false
		}
		word = q.words[a.to]
		a.to++
	}
	plain, hadSign := unsigned(word, q.currency)
	signed = signed || hadSign
	if strings.HasPrefix(plain, "-") || strings.HasPrefix(plain, "\u2212") {
		_, err := q.currency.Parse(plain)
		return a, false, err == nil
	}
	if !isNumber(plain) {
		return a, false, false
	}
	amount, err := q.currency.Parse(plain)
	if err != nil {
		return a, false, false
	}
	if !signed && a.to < len(q.words) && sign(q.words[a.to]) { // "6 USD"
		signed = true
		a.to++
	}
	a.amount = amount
	decimal := strings.LastIndexAny(plain, ".,")
	whole := decimal >= 0 && len(plain)-decimal-1 == q.currency.Digits()
	a.cents = whole
	switch {
	case marked:
		a.rank = 4
	case signed:
		a.rank = 3
	case q.beforeUnit(a.to):
		if !whole {
			return a, false, false
		}
		a.rank = 0 // "impeller 14.50 in stock": perhaps after all
	case decimal >= 0:
		a.rank = 2
	default:
		a.rank = 1
	}
	return a, true, false
}

// beforeUnit tells whether the words from i on begin with a unit of measure, as in "1.5 in".
func (q *quickLine) beforeUnit(i int) bool {
	if i >= len(q.words) {
		return false
	}
	u, err := UnitNamed(q.words[i])
	if err != nil && i+1 < len(q.words) {
		u, err = UnitNamed(q.words[i] + " " + q.words[i+1])
	}
	return err == nil && u.Dimension != Count
}

// unsigned takes the currency's sign or code off a number written together with it.
func unsigned(word string, c money.Currency) (plain string, had bool) {
	for _, sign := range []string{c.Symbol(), c.Code(), strings.ToLower(c.Code())} {
		if rest, ok := strings.CutPrefix(word, sign); ok && rest != "" {
			return rest, true
		}
		if rest, ok := strings.CutSuffix(word, sign); ok && rest != "" {
			return rest, true
		}
	}
	return word, false
}

// isNumber tells whether a word is nothing but digits and the marks between them.
func isNumber(word string) bool {
	for i, r := range word {
		if !unicode.IsDigit(r) && (i == 0 && r != '.' || !strings.ContainsRune(".,'\u2019", r)) {
			return false
		}
	}
	return word != ""
}
