package shop

import (
	"fmt"
	"slices"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/shopfile"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// DoubtName is a doubt as a label: "the powerhead".
func DoubtName(d costing.DoubtKey) say.Sentence {
	if d == offer.LowerUnit {
		return say.New("doubt.lower-unit", "the lower unit")
	}
	return say.New("doubt.powerhead", "the powerhead")
}

// CaseName is what a doubt may turn out to be as a label: "head gasket".
func CaseName(c costing.CaseKey) say.Sentence {
	switch c {
	case offer.Ignition:
		return say.New("case.ignition", "ignition or fuel")
	case offer.Gasket:
		return say.New("case.gasket", "head gasket")
	case offer.TopEnd:
		return say.New("case.top-end", "top end")
	case offer.Finished:
		return say.New("case.finished", "finished")
	case offer.Seals:
		return say.New("case.seals", "seals")
	case offer.Gears:
		return say.New("case.gears", "gears")
	}
	return say.New("case.sound", "sound")
}

// Tap sets the chance, 0 to 1 in tenths, of one thing that may be wrong with a motor. The first tap of a
// doubt takes over the chances that stood there, in whole tenths, so that the others do not vanish.
func (s *Shop) Tap(id string, doubt costing.DoubtKey, this costing.CaseKey, chance float64) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	tenths := int(chance*10 + 0.5)
	if tenths < 0 || tenths > 10 || !slices.Contains(offer.CasesOf(string(doubt)), string(this)) {
		return fmt.Errorf("chance: %s of %s cannot be %v", this, doubt, chance)
	}
	rows := s.doubtsOf(asked{Record: r, Found: s.found()})
	i := slices.IndexFunc(rows, func(d DoubtRow) bool { return d.Doubt == doubt })
	var put []costing.Guess
	for _, c := range rows[i].Cases {
		g := costing.Guess{MotorID: id, Doubt: doubt, Case: c.Case, Tenths: c.Tenths}
		for _, old := range r.Guesses {
			if old.Doubt == doubt && old.Case == c.Case {
				g = old
				if !rows[i].Tapped {
					g.Tenths = c.Tenths
				}
			}
		}
		if c.Case == this {
			g.Tenths = tenths
		}
		put = append(put, g)
	}
	what := say.New("undo.chance", "chances of {{.Doubt}} of {{.Motor}}", "Doubt", DoubtName(doubt).String(), "Motor", title(r))
	return s.writeBench(what, "chance:"+id+string(doubt), id, func(tx *shopfile.Tx) error {
		for i := range put {
			if err := tx.PutGuess(&put[i]); err != nil {
				return err
			}
		}
		return nil
	})
}

// Untap lets the chances of a doubt go by the shop's own motors and the checks again.
func (s *Shop) Untap(id string, doubt costing.DoubtKey) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	what := say.New("undo.chance", "chances of {{.Doubt}} of {{.Motor}}", "Doubt", DoubtName(doubt).String(), "Motor", title(r))
	return s.writeBench(what, "", id, func(tx *shopfile.Tx) error {
		for _, g := range r.Guesses {
			if g.Doubt == doubt {
				if err := tx.DeleteGuess(g.ID); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// Rests says what the chances of a doubt rest on.
func (d DoubtRow) Rests() say.Sentence {
	switch {
	case d.Tapped:
		return say.New("chances.tapped", "Tapped for this motor.")
	case d.Own == 0:
		return say.New("chances.start", "Common practice, from memory, and the checks made; none of your own motors yet.")
	}
	return say.New("chances.own", "Learned from {{.Own}} of your own motors and the checks made, over common practice.", "Own", d.Own)
}

// CheckWorth is what a check not made yet would be worth before paying.
type CheckWorth struct {
	Trial   costing.Trial
	Worth   money.Amount
	Cost    money.Amount // own time at the shop's rate
	Minutes int
}

// checkWorths ranks the checks that a seller allows and that were not made, by what they gain over their
// cost.
func (s *Shop) checkWorths(a *appraised, r costing.Record, price money.Amount) []CheckWorth {
	made := map[costing.Trial]bool{}
	for _, c := range madeChecks(r) {
		made[c.Trial] = true
	}
	before, _ := offer.TrialsFor(r.Motor)
	var out []CheckWorth
	for _, t := range before {
		doubt, likely, ok := offer.Tells(t)
		d := slices.IndexFunc(a.doubts, func(x DoubtRow) bool { return string(x.Doubt) == doubt })
		if !ok || made[t] || d < 0 {
			continue
		}
		minutes := offer.Minutes(t)
		out = append(out, CheckWorth{Trial: t, Minutes: minutes, Cost: costing.Hours(minutes).At(a.asked.Settings.OwnRate),
			Worth: a.answer.Knowing(price, offer.Signal{Doubt: d, Likely: likely})})
	}
	slices.SortStableFunc(out, func(x, y CheckWorth) int {
		switch gain := (y.Worth - y.Cost) - (x.Worth - x.Cost); {
		case gain > 0:
			return 1
		case gain < 0:
			return -1
		}
		return 0
	})
	return out
}

// First says which check is worth making first.
func (s *Shop) first(worths []CheckWorth) say.Sentence {
	if len(worths) == 0 {
		return say.Sentence{}
	}
	if w := worths[0]; w.Worth > w.Cost {
		return say.New("check.first", "Ask to make this check first: {{.Check}}. Knowing is worth about {{.Worth}} to you, and takes {{.Minutes}} minutes.",
			"Check", w.Trial.Name(), "Worth", s.currency.Whole(w.Worth), "Minutes", w.Minutes)
	}
	return say.New("check.none", "No further check is worth its time at this price: none would change enough what you do.")
}
