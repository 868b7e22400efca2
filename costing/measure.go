package costing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"skegworth/valuation"
)

// Dimension is what a unit measures. Only units of one dimension convert into each other.
type Dimension string

const (
	Count    Dimension = "count"
	Volume   Dimension = "volume"
	Mass     Dimension = "mass"
	Length   Dimension = "length"
	Power    Dimension = "power"
	Pressure Dimension = "pressure"
)

// Unit is one unit of measure.
type Unit struct {
	Symbol    string // as it is written: "fl oz"
	Dimension Dimension
	Size      float64  // in the dimension's base: one, litre, kilogram, metre, kilowatt, kilopascal
	Names     []string // other ways it is typed, lower case
}

// Sizes of units, from NIST Special Publication 811 (2008), appendix B.8, and NIST Handbook 44,
// appendix C, which gives the exact definitions.
const (
	LitresPerUSGallon       = 3.785411784 // 231 cubic inches, exactly
	LitresPerImperialGallon = 4.54609     // exactly
	KilogramsPerPound       = 0.45359237  // exactly
	MetresPerInch           = 0.0254      // exactly
	MetresPerMile           = 1609.344    // exactly
	KilopascalsPerPSI       = 6.894757
	KilowattsPerMetricHP    = 0.73549875 // 75 kgf m/s, exactly
)

// Units that goods, parts and readings are measured in; the first of a dimension is its base.
var Units = []Unit{
	{"each", Count, 1, []string{"ea", "pc", "pcs", "piece", "pieces", "off"}},

	{"L", Volume, 1, []string{"litre", "litres", "liter", "liters", "ltr"}},
	{"mL", Volume, 0.001, []string{"cc", "millilitre", "millilitres", "milliliter", "milliliters"}},
	{"fl oz", Volume, LitresPerUSGallon / 128, []string{"floz", "us fl oz", "fluid ounce", "fluid ounces"}},
	{"pt", Volume, LitresPerUSGallon / 8, []string{"pint", "pints", "us pt"}},
	{"qt", Volume, LitresPerUSGallon / 4, []string{"quart", "quarts", "qts", "us qt"}},
	{"gal", Volume, LitresPerUSGallon, []string{"gallon", "gallons", "gals", "us gal"}},
	{"imp gal", Volume, LitresPerImperialGallon, []string{"imperial gallon", "imperial gallons", "uk gal"}},

	{"kg", Mass, 1, []string{"kilo", "kilos", "kilogram", "kilograms"}},
	{"g", Mass, 0.001, []string{"gram", "grams", "gr"}},
	{"oz", Mass, KilogramsPerPound / 16, []string{"ounce", "ounces"}},
	{"lb", Mass, KilogramsPerPound, []string{"lbs", "pound", "pounds"}},

	{"m", Length, 1, []string{"metre", "metres", "meter", "meters"}},
	{"cm", Length, 0.01, []string{"centimetre", "centimetres", "centimeter", "centimeters"}},
	{"mm", Length, 0.001, []string{"millimetre", "millimetres", "millimeter", "millimeters"}},
	{"in", Length, MetresPerInch, []string{"inch", "inches", "\""}},
	{"ft", Length, 12 * MetresPerInch, []string{"foot", "feet", "'"}},
	{"km", Length, 1000, []string{"kilometre", "kilometres", "kilometer", "kilometers"}},
	{"mi", Length, MetresPerMile, []string{"mile", "miles"}},

	{"kW", Power, 1, []string{"kilowatt", "kilowatts"}},
	{"hp", Power, valuation.KWPerHP, []string{"bhp", "horsepower"}},
	{"PS", Power, KilowattsPerMetricHP, []string{"cv", "metric hp"}},

	{"kPa", Pressure, 1, nil},
	{"psi", Pressure, KilopascalsPerPSI, []string{"lb/in2"}},
	{"bar", Pressure, 100, nil},
}

// unitNamed finds units by any of their names, lower case.
var unitNamed = func() map[string]*Unit {
	m := make(map[string]*Unit)
	for i := range Units {
		u := &Units[i]
		for _, name := range append([]string{strings.ToLower(u.Symbol)}, u.Names...) {
			m[name] = u
		}
	}
	return m
}()

// UnitNamed finds a unit by its symbol or another name, in any case; "" is each.
func UnitNamed(name string) (Unit, error) {
	key := strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(name, ".", ""))), " ")
	if key == "" {
		key = "each"
	}
	u, ok := unitNamed[key]
	if !ok {
		return Unit{}, fmt.Errorf("%q is not a unit that is known", name)
	}
	return *u, nil
}

// Convert is a quantity in one unit told in another. It is an error when either unit is not known or
// the two measure different things.
func Convert(quantity float64, from, to string) (float64, error) {
	a, err := UnitNamed(from)
	if err != nil {
		return 0, fmt.Errorf("convert %s: %w", from, err)
	}
	b, err := UnitNamed(to)
	if err != nil {
		return 0, fmt.Errorf("convert %s to %s: %w", from, to, err)
	}
	if a.Dimension != b.Dimension {
		return 0, fmt.Errorf("convert %s to %s: one is a %s, the other a %s", a.Symbol, b.Symbol, a.Dimension, b.Dimension)
	}
	if a.Symbol == b.Symbol {
		return quantity, nil
	}
	return quantity * (a.Size / b.Size), nil // in this order 3 gal is 12 qt to the last bit
}

// Compatible lists the symbols of the units that a unit converts into, itself among them; none when the
// unit is not known.
func Compatible(unit string) []string {
	u, err := UnitNamed(unit)
	if err != nil {
		return nil
	}
	var all []string
	for _, other := range Units {
		if other.Dimension == u.Dimension {
			all = append(all, other.Symbol)
		}
	}
	return all
}

// Measure writes a quantity with its unit, to at most three digits after the point: "1.5 qt", "4".
func Measure(quantity float64, unit string) string {
	text := strconv.FormatFloat(math.Round(quantity*1000)/1000, 'f', -1, 64)
	if unit == "" || unit == "each" {
		return text
	}
	return text + " " + unit
}
