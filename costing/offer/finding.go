package offer

import (
	"fmt"
	"slices"

	"skegworth/valuation/money"
)

// Finding is what is worth paying once something is known.
type Finding struct {
	Doubt, Case string  // what is known; "" for nothing, or for all of it
	Chance      float64 // that it turns out so, as it is thought now
	Top         money.Amount
	TooThin     bool // not even for nothing; Top is then 0
	Exit        Exit // that bears the top price
	Binds       Limit
}

// Findings are the top prices by what is found, to be taken along to a motor.
type Findings struct {
	Unknown Finding   // as it stands, with nothing more known
	Sound   Finding   // every doubt at its first case
	Each    []Finding // each case of each doubt, the other doubts as they are thought now
}

// ByFinding works out the most to pay if this or that is found: the same comparison with a doubt settled. A
// case that has no chance as it is thought now is worked out all the same, for a driveway has surprises.
//
// Found gives what the motor sells for with that in it and left so, for it is then told to the buyer; nil where
// that changes nothing.
func ByFinding(q Question, found func(doubt, key string) Resale) (Findings, error) {
	var out Findings
	settled := func(f Finding, doubts []Doubt) (Finding, error) {
		each := q
		each.Doubts = doubts
		if found != nil && f.Case != "" {
			each.Ways = leftSo(q.Ways, found(f.Doubt, f.Case))
		}
		a, err := Compare(each)
		if err != nil {
			return f, fmt.Errorf("top price by finding: %w", err)
		}
		best := a.BestWay()
		f.Top, f.TooThin, f.Exit, f.Binds = best.Top, best.TooThin, best.Exit, best.Binds
		return f, nil
	}
	var err error
	if out.Unknown, err = settled(Finding{Chance: 1}, q.Doubts); err != nil {
		return out, err
	}
	sound := Finding{Chance: 1}
	firsts := slices.Clone(q.Doubts)
	for d, doubt := range q.Doubts {
		chances := doubt.chances()
		sound.Chance *= chances[0]
		firsts[d].Cases = []Case{sure(doubt.Cases[0])}
		for c, this := range doubt.Cases {
			known := slices.Clone(q.Doubts)
			known[d].Cases = []Case{sure(this)}
			f, err := settled(Finding{Doubt: doubt.Key, Case: this.Key, Chance: chances[c]}, known)
			if err != nil {
				return out, err
			}
			out.Each = append(out.Each, f)
		}
	}
	out.Sound, err = settled(sound, firsts)
	return out, err
}

// leftSo are the ways out with what the motor sells for where nothing is put right.
func leftSo(ways []Way, r Resale) []Way {
	if r == nil {
		return ways
	}
	out := slices.Clone(ways)
	for i := range out {
		switch w := &out[i]; {
		case w.Exit == AsItStands:
			w.Resale = r
		case w.Unmended != nil:
			w.Unmended = r
		}
	}
	return out
}

// sure is a case that is known to be so.
func sure(c Case) Case {
	c.Chance = 1
	return c
}
