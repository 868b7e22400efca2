package costing_test

import (
	"math"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
)

// Common practice, no source: a two-stroke burns power/10 US gallons an hour at full throttle, a four-stroke
// (0.50 lb/hp/h x power) / 6.1 lb/gal; the oil of a first run is one and a half to two times the usual.
func TestFirstRuns(t *testing.T) {
	for name, c := range map[string]struct {
		run       costing.BreakIn
		fuel, oil float64 // US gallons
	}{
		"two-stroke, an hour flat out":   {costing.BreakIn{Stroke: valuation.TwoStroke, Power: 40, Load: costing.FullRun, Hours: 1, Ratio: 50}, 4, 0.16},
		"two-stroke, mixed":              {costing.BreakIn{Stroke: valuation.TwoStroke, Power: 40, Load: costing.MixedRun, Hours: 10, Ratio: 50}, 20, 0.8},
		"two-stroke, easy":               {costing.BreakIn{Stroke: valuation.TwoStroke, Power: 40, Load: costing.EasyRun, Hours: 10, Ratio: 50}, 10, 0.4},
		"two-stroke, half as much again": {costing.BreakIn{Stroke: valuation.TwoStroke, Power: 40, Load: costing.FullRun, Hours: 1, Ratio: 50, Rich: 1.5}, 4, 0.12},
		"two-stroke, the running mix":    {costing.BreakIn{Stroke: valuation.TwoStroke, Power: 40, Load: costing.FullRun, Hours: 1, Ratio: 50, Rich: 1}, 4, 0.08},
		"four-stroke":                    {costing.BreakIn{Stroke: valuation.FourStroke, Power: 61, Load: costing.MixedRun, Hours: 2, Ratio: 50}, 5, 0},
	} {
		fuel, err := c.run.Fuel()
		if err != nil || math.Abs(fuel-c.fuel) > 1e-9 {
			t.Errorf("%s burns %v, want %v; %v", name, fuel, c.fuel, err)
		}
		if oil, err := c.run.Oil(); err != nil || math.Abs(oil-c.oil) > 1e-9 {
			t.Errorf("%s takes %v of oil, want %v; %v", name, oil, c.oil, err)
		}
	}
	for _, rich := range []float64{-1, 0.5, 5, math.NaN()} {
		run := costing.BreakIn{Stroke: valuation.TwoStroke, Power: 40, Load: 1, Hours: 1, Ratio: 50, Rich: rich}
		if oil, err := run.Oil(); err == nil {
			t.Errorf("%v times the oil is %v", rich, oil)
		}
	}
}
