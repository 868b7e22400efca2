package costing

import (
	"errors"
	"fmt"
	"math"

	"skegworth/valuation"
)

// PremixOil is how much oil goes into fuel at a ratio, in the fuel's own unit: at 50:1 ratio is 50 and
// 6 gallons of fuel take 0.12 gallons of oil. The ratio is of fuel to oil, as it is printed on the can.
func PremixOil(fuel, ratio float64) (float64, error) {
	if !(fuel >= 0) || math.IsInf(fuel, 0) {
		return 0, errors.New("mix fuel and oil: fuel must be 0 or more")
	}
	if !(ratio > 0) || math.IsInf(ratio, 0) {
		return 0, errors.New("mix fuel and oil: ratio must be more than 0, such as 50 for 50:1")
	}
	return fuel / ratio, nil
}

// Common practice, no source: what motors burn at full throttle, and how thick the break-in mix is.
const (
	FuelPoundsPerGallon = 6.1  // petrol, pounds per US gallon
	FourStrokeBurn      = 0.50 // pounds per horsepower and hour
	TwoStrokeBurn       = 0.61 // the same as power/10 US gallons an hour, for carburetted two-strokes
	BreakInOil          = 2.0  // times the oil of the running mix; one and a half times is the least
)

// Mean shares of full power over a first run, by how it is run. Common practice is to vary the throttle and
// keep off full power at first; the shares are starting values, no source.
const (
	EasyRun  = 0.25
	MixedRun = 0.5
	FullRun  = 1.0
)

// BreakIn is a first run on a rebuilt motor.
type BreakIn struct {
	Stroke valuation.Stroke
	Power  float64 // rated power, horsepower
	Load   float64 // mean share of full power over the run, 0 to 1
	Hours  float64
	Ratio  float64 // of the running mix of a two-stroke, 50 for 50:1; 0 for none
	Rich   float64 // times the oil of the running mix; 0 for BreakInOil
}

// Fuel that the run burns, in US gallons: specific consumption x power x load x hours / fuel density.
// The consumption is common practice for full throttle, so at part load it is on the low side.
func (b BreakIn) Fuel() (float64, error) {
	burn := FourStrokeBurn
	switch b.Stroke {
	case valuation.TwoStroke:
		burn = TwoStrokeBurn
	case valuation.FourStroke:
	default:
		return 0, errors.New("estimate break-in fuel: stroke must be two or four")
	}
	for _, f := range []struct {
		name  string
		value float64
		most  float64
	}{{"power", b.Power, 1000}, {"load", b.Load, 1}, {"hours", b.Hours, 1000}} {
		if !(f.value >= 0 && f.value <= f.most) {
			return 0, fmt.Errorf("estimate break-in fuel: %s must be from 0 to %v", f.name, f.most)
		}
	}
	return burn * b.Power * b.Load * b.Hours / FuelPoundsPerGallon, nil
}

// Oil that is mixed into that fuel, in US gallons, at Rich times the running mix; 0 for a four-stroke and
// where no ratio is given, for these are not run on a mix.
func (b BreakIn) Oil() (float64, error) {
	fuel, err := b.Fuel()
	if err != nil || b.Stroke == valuation.FourStroke || b.Ratio == 0 {
		return 0, err
	}
	rich := b.Rich
	if rich == 0 {
		rich = BreakInOil
	}
	if !(rich >= 1 && rich <= 4) {
		return 0, errors.New("estimate break-in oil: it must be from one to four times that of the running mix")
	}
	return PremixOil(fuel, b.Ratio/rich)
}
