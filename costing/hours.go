package costing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"skegworth/valuation/money"
)

// Hours is time worked, in whole minutes.
type Hours int64

// Hour is sixty minutes.
const Hour Hours = 60

// Float is the time in hours.
func (h Hours) Float() float64 { return float64(h) / 60 }

// String writes hours to one digit: "17.5".
func (h Hours) String() string { return strconv.FormatFloat(h.Float(), 'f', 1, 64) }

// Said writes hours within a sentence, without a nought behind the point: "17.5", "17", "0".
func (h Hours) Said() string { return strings.TrimSuffix(h.String(), ".0") }

// Words writes the time as it is said: "45 min", "1.5 h", "3 h".
func (h Hours) Words() string {
	if h > -Hour && h < Hour {
		return strconv.FormatInt(int64(h), 10) + " min"
	}
	return strconv.FormatFloat(math.Round(h.Float()*100)/100, 'f', -1, 64) + " h"
}

// At is the pay for the time at a rate per hour, to the nearest minor unit.
func (h Hours) At(rate money.Amount) money.Amount {
	return money.Round(float64(rate) * float64(h) / 60)
}

// maxHours is the longest stretch of time taken as typed: beyond it a number was meant as something else.
const maxHours = 1000

// ParseHours reads time worked as people write it: 1.5, 1,5, 1:30, 1h30, 90 min, 2 h. It is to the whole
// minute, and more than nothing.
func ParseHours(text string) (Hours, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	fail := func() (Hours, error) {
		return 0, fmt.Errorf("hours: %q is not a time; write 1.5, 1:30 or 90 min", text)
	}
	number := func(s string) (float64, bool) {
		v, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(s), ",", "."), 64)
		return v, err == nil && v >= 0 && v <= maxHours*60
	}
	minutes := 0.0
	if whole, part, clock := strings.Cut(strings.Replace(t, "h", ":", 1), ":"); clock && strings.TrimSpace(part) != "" {
		h, okH := number(whole)
		m, okM := number(strings.TrimSuffix(strings.TrimSuffix(part, "min"), "m"))
		if !okH || !okM || m >= 60 || h != math.Trunc(h) {
			return fail()
		}
		minutes = h*60 + m
	} else if m, isMinutes := strings.CutSuffix(t, "min"); isMinutes {
		v, ok := number(m)
		if !ok {
			return fail()
		}
		minutes = v
	} else {
		v, ok := number(strings.TrimSuffix(t, "h"))
		if !ok {
			return fail()
		}
		minutes = v * 60
	}
	got := Hours(math.Round(minutes))
	if got <= 0 || got > maxHours*Hour {
		return fail()
	}
	return got, nil
}
