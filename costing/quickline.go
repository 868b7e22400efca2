package costing

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"skegworth/valuation/money"
)

// ErrQuickLine is what ParseQuickLine wraps; its words say how to write one.
var ErrQuickLine = errors.New("write it as  2 x impeller 14.50 harbour supply")

// maxQuickLine is more than anybody types in one breath.
const maxQuickLine = 300

// ParseQuickLine reads a cost line written in one breath, in the order how many, what, how much, from
// whom; only what and how much are needed:
//
//	2 x impeller 14.50 harbour supply     two at 14.50 each
//	impeller 14.50                        one
//	1.5 qt gear oil 9                     9 for all of it
//	1.5 qt gear oil @ 6                   6 for each quart
//	outside welding 120 Bay Weld          a leading word names the kind of cost
//	fee 35
//
// Without such a word it is a new part. The amount is the number after @ or =, else the one with a
// currency sign, else the last one written with a decimal part, else the last one; a number in front of
// a unit of measure is none. Thousands are not set apart by blanks. The line has no motor, no id and no
// day: those are the caller's.
func ParseQuickLine(text string, c money.Currency) (Line, error) {
	line, _, err := parseQuickLine(text, c)
	return line, err
}

// parseQuickLine also tells how plainly the amount is one of money: above 1 by a decimal part, a sign or a
// mark, 1 when it is a whole number alone.
func parseQuickLine(text string, c money.Currency) (Line, int, error) {
	shown := strings.Join(strings.Fields(strings.ToValidUTF8(text, "")), " ")
	fail := func(why string) (Line, int, error) {
		if utf8.RuneCountInString(shown) > 40 {
			shown = string([]rune(shown)[:40]) + "..."
		}
		return Line{}, 0, fmt.Errorf("%q %s: %w", shown, why, ErrQuickLine)
	}
	switch {
	case shown == "":
		return Line{}, 0, fmt.Errorf("nothing is written: %w", ErrQuickLine)
	case utf8.RuneCountInString(shown) > maxQuickLine:
		return fail("is too long")
	}
	q := quickLine{words: strings.Fields(shown), currency: c, line: Line{Kind: PartNew, Quantity: 1}}
	named := q.takeKind()
	q.takeQuantity()
	named = q.takeKind() || named
	if why := q.takeAmount(); why != "" {
		return fail(why)
	}
	if q.line.Text == "" && !named {
		return fail("does not say what was bought")
	}
	if q.line.Total > money.Amount(money.MaxTyped)*c.PerUnit() {
		return fail("comes to too much")
	}
	return q.line, q.rank, nil
}

// quickLine is a line half read: words are what is left of it.
type quickLine struct {
	words    []string
	currency money.Currency
	line     Line
	counted  bool // a quantity was read
	rank     int  // how plainly the amount is one
	kinded   bool
}

// kindWords lead a quick line. A word that also begins the name of a part ("core plug") is not among
// them by itself.
var kindWords = map[string]Kind{
	"purchase": Purchase, "bought": Purchase, "tax": PurchaseTax, "trip": Trip, "freight": FreightIn,
	"new": PartNew, "part": PartNew, "aftermarket": PartOther, "used": PartUsed, "donor": PartDonor,
	"core charge": CoreCharge, "kit": Kit, "outside": Outside, "overhead": Overhead,
	"listing": Listing, "fee": MarketFee, "market fee": MarketFee, "marketplace fee": MarketFee,
	"delivery": Delivery, "comeback": Comeback, "refund": Refund,
}

func (q *quickLine) takeKind() bool {
	if q.kinded {
		return false
	}
	for n := min(2, len(q.words)); n > 0; n-- {
		if k, ok := kindWords[strings.ToLower(strings.Join(q.words[:n], " "))]; ok {
			q.line.Kind, q.words, q.kinded = k, q.words[n:], true
			return true
		}
	}
	return false
}

// takeQuantity reads "2 x", "2x", "1.5 qt" or "1.5qt" at the start. A bare number there stays part of
// the name ("3 blade propeller"), for the amount then is what was paid in any case.
func (q *quickLine) takeQuantity() {
	if len(q.words) == 0 {
		return
	}
	number, rest := leadingNumber(q.words[0])
	quantity, ok := parseQuantity(number)
	if !ok {
		return
	}
	used := 1
	if rest == "" {
		if len(q.words) < 2 {
			return
		}
		rest = q.words[1]
		used = 2
	}
	if isTimes(rest) {
		q.line.Quantity, q.counted, q.words = quantity, true, q.words[used:]
		return
	}
	if used < len(q.words) { // "fl oz", "imp gal"
		if u, ok := goodsUnit(rest + " " + q.words[used]); ok {
			q.line.Quantity, q.line.Unit, q.counted, q.words = quantity, u.Symbol, true, q.words[used+1:]
			return
		}
	}
	if u, ok := goodsUnit(rest); ok {
		q.line.Quantity, q.line.Unit, q.counted, q.words = quantity, u.Symbol, true, q.words[used:]
	}
}

// goodsUnit is a unit that things are bought in.
func goodsUnit(name string) (Unit, bool) {
	u, err := UnitNamed(name)
	if err != nil || name == "" || u.Dimension == Power || u.Dimension == Pressure {
		return Unit{}, false
	}
	return u, true
}

func isTimes(word string) bool {
	return word == "x" || word == "X" || word == "\u00d7" || word == "*"
}

// leadingNumber parts "2x" and "1.5qt" into the number and what follows it.
func leadingNumber(word string) (number, rest string) {
	end := strings.IndexFunc(word, func(r rune) bool { return !(r >= '0' && r <= '9') && r != '.' && r != ',' && r != '/' })
	if end < 0 {
		return word, ""
	}
	return word[:end], word[end:]
}

// parseQuantity reads 2, 1.5, 1,5 and 1/2. A quantity is more than 0 and less than a million.
func parseQuantity(text string) (float64, bool) {
	over := 1.0
	if above, below, isFraction := strings.Cut(text, "/"); isFraction {
		v, err := strconv.ParseFloat(below, 64)
		if err != nil || !(v > 0) {
			return 0, false
		}
		text, over = above, v
	}
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil {
		return 0, false
	}
	v /= over
	return v, v >= 1e-6 && v < 1e6
}
