// Package money counts in whole minor units of the shop's one currency: cents, pence, or whole yen.
// Digits after the point and symbols are ISO 4217's and CLDR's, through golang.org/x/text.
package money

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"

	"golang.org/x/text/currency"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"
)

// Amount is a sum of money in whole minor units. Sums of amounts are exact.
type Amount int64

// Currency is a shop's currency and the way its amounts are written.
type Currency struct {
	code   string
	digits int
	print  *message.Printer
	symbol string
}

// New names a currency by its ISO 4217 code; tag chooses the thousands and decimal marks.
func New(code string, tag language.Tag) (Currency, error) {
	unit, err := currency.ParseISO(strings.ToUpper(strings.TrimSpace(code)))
	if err != nil {
		return Currency{}, fmt.Errorf("choose the currency: %q is not an ISO 4217 code", code)
	}
	digits, _ := currency.Standard.Rounding(unit)
	p := message.NewPrinter(tag)
	return Currency{
		code:   unit.String(),
		digits: digits,
		print:  p,
		symbol: p.Sprint(currency.NarrowSymbol(unit)),
	}, nil
}

// Must is New for codes known to be good; it panics on any other.
func Must(code string) Currency {
	c, err := New(code, language.AmericanEnglish)
	if err != nil {
		panic(err)
	}
	return c
}

// Code is the ISO 4217 code.
func (c Currency) Code() string { return c.code }

// Symbol is the short sign, such as $ or €.
func (c Currency) Symbol() string { return c.symbol }

// Digits is how many digits follow the decimal mark: 2 for USD, 0 for JPY, 3 for KWD.
func (c Currency) Digits() int { return c.digits }

// PerUnit is how many minor units make one unit: 100 for USD, 1 for JPY.
func (c Currency) PerUnit() Amount {
	n := Amount(1)
	for range c.digits {
		n *= 10
	}
	return n
}

// Float is the amount in units of the currency, for charts and spreadsheets.
func (c Currency) Float(a Amount) float64 { return float64(a) / float64(c.PerUnit()) }

// FromFloat is the amount nearest to v units, halves away from zero; not a number is 0, and what does
// not fit is held at the largest amount.
func (c Currency) FromFloat(v float64) Amount { return Round(v * float64(c.PerUnit())) }

// Format writes the amount to the last minor unit: 1,480.50.
func (c Currency) Format(a Amount) string {
	return c.print.Sprint(number.Decimal(c.Float(a), number.Scale(c.digits)))
}

// Whole writes the amount rounded to whole units, for estimates, where cents would pretend: 1,480.
func (c Currency) Whole(a Amount) string {
	return c.print.Sprint(number.Decimal(math.Round(c.Float(a)), number.Scale(0)))
}

// Short writes whole amounts without the minor digits and all others with them.
func (c Currency) Short(a Amount) string {
	if a%c.PerUnit() == 0 {
		return c.Whole(a)
	}
	return c.Format(a)
}

// Plain writes the amount with a point and no thousands marks, for JSON and CSV: 1480.50.
func (c Currency) Plain(a Amount) string {
	return strconv.FormatFloat(c.Float(a), 'f', c.digits, 64)
}

// Floor is the amount cut down to whole units of the currency, toward less.
func (c Currency) Floor(a Amount) Amount {
	p := c.PerUnit()
	f := a / p * p
	if f > a {
		f -= p
	}
	return f
}

// ErrNotMoney is what Parse wraps when the text is no amount.
var ErrNotMoney = errors.New("not an amount of money")

// MaxTyped is the largest amount that may be typed, in units of the currency: a motor's price has no
// business beyond it, and the limit keeps every sum of amounts within 64 bits.
const MaxTyped = 1_000_000_000

// Parse reads an amount as people write them: with or without a currency sign or code, thousands
// marks of either convention (1,480.50 or 1.480,50 or 1 480,50 or 1'480.50), a minus or brackets for
// less than nothing. A single mark followed by exactly three digits is a thousands mark ("1,480" and
// "1.480" are one thousand four hundred and eighty) unless the currency itself has three digits.
func (c Currency) Parse(s string) (Amount, error) {
	v, err := ParseDecimal(s, c.digits)
	if err != nil {
		return 0, err
	}
	return v, nil
}

// Share splits total by the weights so that the parts add back to total exactly: largest remainder,
// ties to the earlier part. Weights must be finite and not negative; when all are zero the parts are
// even. No weights give no parts, and then total must be 0.
func Share(total Amount, weights []float64) ([]Amount, error) {
	if len(weights) == 0 {
		if total != 0 {
			return nil, errors.New("share an amount: nothing to share it over")
		}
		return nil, nil
	}
	sum := new(big.Rat)
	exact := make([]*big.Rat, len(weights))
	for i, w := range weights {
		if w < 0 || math.IsNaN(w) || math.IsInf(w, 0) {
			return nil, fmt.Errorf("share an amount: weight %d is %v", i+1, w)
		}
		exact[i] = new(big.Rat).SetFloat64(w)
		sum.Add(sum, exact[i])
	}
	if sum.Sign() == 0 {
		for i := range exact {
			exact[i] = big.NewRat(1, 1)
		}
		sum.SetInt64(int64(len(exact)))
	}
	negative := total < 0
	left := total
	if negative {
		left = -left
	}
	parts := make([]Amount, len(exact))
	remainder := make([]*big.Rat, len(exact))
	whole := big.NewRat(int64(left), 1)
	for i, w := range exact {
		q := new(big.Rat).Quo(new(big.Rat).Mul(whole, w), sum)
		floor := new(big.Int).Quo(q.Num(), q.Denom())
		parts[i] = Amount(floor.Int64())
		remainder[i] = q.Sub(q, new(big.Rat).SetInt(floor))
		left -= parts[i]
	}
	for ; left > 0; left-- {
		best := 0
		for i := range remainder {
			if remainder[i].Cmp(remainder[best]) > 0 {
				best = i
			}
		}
		parts[best]++
		remainder[best] = big.NewRat(-1, 1)
	}
	if negative {
		for i := range parts {
			parts[i] = -parts[i]
		}
	}
	return parts, nil
}

// Round is the whole number of minor units nearest to v, halves away from zero; not a number is 0, and
// what does not fit is held at the largest amount.
func Round(v float64) Amount {
	switch {
	case math.IsNaN(v):
		return 0
	case v >= math.MaxInt64:
		return math.MaxInt64
	case v <= math.MinInt64:
		return math.MinInt64
	}
	return Amount(math.Round(v))
}

// Times is the amount times a factor, rounded to the nearest minor unit, halves away from zero.
func (a Amount) Times(factor float64) Amount { return Round(float64(a) * factor) }
