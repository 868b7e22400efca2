package offer

import (
	"skegworth/costing"
	"skegworth/valuation"
)

// trial is what a check before paying takes and tells. How well it tells is common practice, from memory.
type trial struct {
	minutes int
	doubt   string
	likely  [][]float64 // by case: pass, doubt, fail
	runs    bool        // only on a motor that runs
	needs   []string    // job cards that a fail usually leads to
}

var trials = map[costing.Trial]trial{
	costing.Plate: {minutes: 5},
	costing.TurnsByHand: {minutes: 5, doubt: Powerhead, needs: []string{CardTopEnd, CardSwap},
		likely: [][]float64{{.98, .02, 0}, {.98, .02, 0}, {.95, .04, .01}, {.80, .12, .08}, {.35, .25, .40}}},
	costing.Spark: {minutes: 10, doubt: Powerhead, needs: []string{CardIgnition},
		likely: [][]float64{{.95, .04, .01}, {.40, .15, .45}, {.93, .05, .02}, {.93, .05, .02}, {.85, .08, .07}}},
	costing.Compression: {minutes: 20, doubt: Powerhead, needs: []string{CardGasket2, CardHead4, CardTopEnd, CardSwap},
		likely: [][]float64{{.92, .07, .01}, {.92, .07, .01}, {.20, .30, .50}, {.10, .30, .60}, {.05, .15, .80}}},
	costing.Borescope: {minutes: 15, doubt: Powerhead, needs: []string{CardTopEnd, CardSwap},
		likely: [][]float64{{.93, .06, .01}, {.93, .06, .01}, {.60, .25, .15}, {.10, .25, .65}, {.05, .10, .85}}},
	costing.GearOil: {minutes: 10, doubt: LowerUnit, needs: []string{CardReseal, CardGears},
		likely: [][]float64{{.93, .06, .01}, {.20, .35, .45}, {.10, .20, .70}}},
	costing.ShiftTilt: {minutes: 5, doubt: LowerUnit, needs: []string{"trim and tilt", CardGears},
		likely: [][]float64{{.95, .04, .01}, {.93, .05, .02}, {.35, .25, .40}}},
	costing.PropShaft: {minutes: 5, doubt: LowerUnit, needs: []string{CardReseal, CardGears},
		likely: [][]float64{{.95, .04, .01}, {.60, .25, .15}, {.40, .25, .35}}},
	costing.Telltale:    {minutes: 15, runs: true, needs: []string{CardPump}},
	costing.OilInjected: {minutes: 10, runs: true},
	costing.Dipstick: {minutes: 2, doubt: Powerhead, needs: []string{CardHead4, CardSwap},
		likely: [][]float64{{.95, .04, .01}, {.95, .04, .01}, {.50, .25, .25}, {.70, .20, .10}, {.50, .25, .25}}},
	costing.TimingBelt: {minutes: 10},
	costing.FaultCodes: {minutes: 10, doubt: Powerhead, needs: []string{CardIgnition},
		likely: [][]float64{{.90, .08, .02}, {.35, .20, .45}, {.70, .20, .10}, {.70, .20, .10}, {.60, .20, .20}}},
}

// TrialsFor are the checks that fit a motor's stroke and state, those that a seller allows before paying
// first. A stroke or a state that is not known takes any.
func TrialsFor(m valuation.Motor) (before, bench []costing.Trial) {
	dead := m.State == valuation.Dead || m.State == valuation.PartsOnly
	for _, t := range costing.Trials {
		switch facts := trials[t]; {
		case !t.Fits(m.Stroke) || facts.runs && dead:
		case t == costing.OilInjected && (m.Oil == valuation.NoInjection || m.Oil == valuation.InjectionRemoved):
		case t.BenchOnly():
			bench = append(bench, t)
		default:
			before = append(before, t)
		}
	}
	return before, bench
}

// Minutes that a check takes in a driveway; 0 for one of the bench.
func Minutes(t costing.Trial) int { return trials[t].minutes }

// Tells is which doubt a check tells of, with how likely each case makes it pass, be in doubt and fail;
// false for a check that tells of none.
func Tells(t costing.Trial) (doubt string, likely [][]float64, ok bool) {
	f := trials[t]
	return f.doubt, f.likely, f.likely != nil
}

// Needs are the job cards that a fail usually leads to, of those that fit a stroke.
func Needs(t costing.Trial, s valuation.Stroke) []string {
	var out []string
	for _, n := range trials[t].needs {
		if s == valuation.TwoStroke && n == CardHead4 || s == valuation.FourStroke && n == CardGasket2 {
			continue
		}
		out = append(out, n)
	}
	return out
}

// Result is the place of a verdict among the results of a check.
func Result(v costing.Verdict) (int, bool) {
	for i, each := range costing.Verdicts {
		if each == v {
			return i, true
		}
	}
	return 0, false
}

// Judge is the verdict on a check: the one that was tapped, or what its readings say by themselves. Uneven
// cylinders are a fail, as is one without compression; even ones a pass.
func Judge(c costing.Check) costing.Verdict {
	if c.Verdict != "" || c.Trial != costing.Compression {
		return c.Verdict
	}
	share, _, ok := costing.Spread(c.Readings)
	switch {
	case !ok:
		return ""
	case share <= costing.EvenSpread:
		return costing.Pass
	case share <= 2*costing.EvenSpread:
		return costing.Doubt
	}
	return costing.Fail
}
