package costing

import (
	"fmt"
	"strconv"
	"strings"

	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// Laid is how a motor is kept from frost and rust while it stands.
type Laid string

const (
	Drained    Laid = "drained"    // water out
	Winterised Laid = "winterised" // fogged, stabilised, drained
)

// Laids in the order a form offers them.
var Laids = []Laid{Drained, Winterised}

var laidNames = map[Laid]string{Drained: "drained", Winterised: "winterised", "": "neither"}

// Name as a label: "winterised".
func (l Laid) Name() say.Sentence {
	if l == "" {
		return say.New("laid.neither", "neither")
	}
	return label("laid.", string(l), laidNames[l])
}

// Keeping is how a motor stands in the shop.
type Keeping struct {
	Weight float64 // kilograms; 0 not known
	Laid   Laid
	LaidOn day.Day
}

// mostWeight is heavier than any outboard, kilograms.
const mostWeight = 1500

// ParseWeight reads a weight as it is written, 62 kg or 137 lb, in kilograms; "" is not known. A number
// alone is in the unit given.
func ParseWeight(text, unit string) (float64, error) {
	t := strings.TrimSpace(text)
	if t == "" {
		return 0, nil
	}
	number, rest := leadingNumber(t)
	if rest = strings.TrimSpace(rest); rest == "" {
		rest = unit
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(number, ",", "."), 64)
	if err == nil {
		v, err = Convert(v, rest, "kg")
	}
	if err != nil || !(v > 0 && v <= mostWeight) {
		return 0, fmt.Errorf("weight: %q is not one; write it as 62 kg or 137 lb, up to %d kg", text, mostWeight)
	}
	return v, nil
}

// WeightIn writes a weight kept in kilograms in a unit, to the whole one: "137 lb"; "" when not known.
func WeightIn(kilograms float64, unit string) string {
	if kilograms <= 0 {
		return ""
	}
	v, err := Convert(kilograms, "kg", unit)
	if err != nil {
		return ""
	}
	return strconv.FormatFloat(v, 'f', 0, 64) + " " + unit
}
