package shop

import (
	"fmt"
	"slices"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/paper"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Findings are the most to pay for a prospect by what is found on it.
type Findings struct {
	Nothing FindingRow   // as it stands, with nothing more known
	Sound   FindingRow   // all found sound
	Each    []FindingRow // each thing that may be found by itself, the rest as it is thought now
}

// Rows are all of them, in the order of a table.
func (f Findings) Rows() []FindingRow {
	out := []FindingRow{f.Nothing, f.Sound}
	for _, row := range f.Each {
		if row.Case != offer.Sound { // one sound part by itself tells little beside all sound
			out = append(out, row)
		}
	}
	return out
}

// FindingRow is the most to pay once something is known.
type FindingRow struct {
	Doubt   costing.DoubtKey // "" for nothing, or for all of it
	Case    costing.CaseKey
	Words   say.Sentence // what is found
	Shows   say.Sentence // how it usually shows: common practice, from memory
	Top     money.Amount // in whole units, as it is said
	TooThin bool         // leave it
	Exit    offer.Exit   // the way out that bears the price
	Chance  float64      // that it is so, as it is thought now
}

// TopByFinding works out the most to pay for a prospect by what is found on it. The needed facts must be there.
// What is found is put right by its own job cards, whatever was planned.
func (s *Shop) TopByFinding(id string) (Findings, error) {
	r, err := s.Record(id)
	if err != nil {
		return Findings{}, err
	}
	if blank := missing(r.Motor); len(blank) > 0 {
		return Findings{}, fmt.Errorf("%s: it is needed for a top price", blank[0])
	}
	a, err := s.appraise(r)
	if err != nil {
		return Findings{}, err
	}
	found := s.foundIn(r.Motor, a)
	f, err := offer.ByFinding(a.ask, found)
	if err != nil {
		return Findings{}, err
	}
	if err := s.withoutPlan(r, a, found, &f); err != nil {
		return Findings{}, err
	}
	row := func(x offer.Finding, words, shows say.Sentence) FindingRow {
		return FindingRow{Doubt: costing.DoubtKey(x.Doubt), Case: costing.CaseKey(x.Case), Words: words, Shows: shows,
			Top: max(0, s.currency.Floor(x.Top)), TooThin: x.TooThin, Exit: x.Exit, Chance: x.Chance}
	}
	out := Findings{
		Nothing: row(f.Unknown, say.New("finding.nothing", "nothing more than is known now"), say.New("finding.nothing.shows", "the seller allows no check")),
		Sound:   row(f.Sound, say.New("finding.sound", "all of it sound"), say.New("finding.sound.shows", "turns freely, compression even, a spark on each, gear oil clean, shifts crisply")),
	}
	for _, x := range f.Each {
		words := say.New("finding.case", "{{.Doubt}}: {{.Case}}", "Doubt", DoubtName(costing.DoubtKey(x.Doubt)), "Case", CaseName(costing.CaseKey(x.Case)))
		out.Each = append(out.Each, row(x, words, shows(x.Doubt, x.Case)))
	}
	return out, nil
}

// foundIn is what a motor sells for as it stands with something grave found in it, which its buyer is then told:
// it does not run, or its lower unit counts as not complete. What is light changes nothing.
func (s *Shop) foundIn(m valuation.Motor, a *appraised) func(doubt, key string) offer.Resale {
	on := a.ask.Ways[0].Days.SoldOn
	return func(_, key string) offer.Resale {
		if !offer.Deep(key) {
			return nil
		}
		told := m
		if key == offer.Gears {
			told.LowerUnit = valuation.No
		} else if better(m.State, valuation.Dead) {
			told.State, told.ShownRunning = valuation.Dead, ""
		}
		if key == offer.Finished {
			told.Turns = valuation.No
		}
		band, err := s.Worth(told, on)
		if err != nil {
			return nil // it was worth something as it is described: then so it stays
		}
		return band
	}
}

// withoutPlan lowers what is worth paying for a finding to what its own job cards leave, where work was planned
// by hand: the plan was made for what the motor is thought to have, not for what may be found.
func (s *Shop) withoutPlan(r costing.Record, a *appraised, found func(doubt, key string) offer.Resale, f *offer.Findings) error {
	if !slices.ContainsFunc(a.ways, func(w WayRow) bool { return w.Planned }) {
		return nil
	}
	r.Jobs, r.Plan.Parts, r.Plan.Hours = nil, costing.ThreePoint{}, costing.ThreePoint{}
	cards, err := s.appraise(r)
	s.appraisals[r.ID] = a // the answer that is kept is that of the motor as it is planned
	if err != nil {
		return err
	}
	by, err := offer.ByFinding(cards.ask, found)
	if err != nil {
		return err
	}
	for i, x := range by.Each {
		if x.Case != offer.Sound && (x.TooThin || x.Top < f.Each[i].Top) {
			f.Each[i] = x
		}
	}
	return nil
}

// shows is how a finding usually shows in a driveway: common practice, from memory, no source.
func shows(doubt, this string) say.Sentence {
	switch this {
	case offer.Ignition:
		return say.New("finding.ignition.shows", "compression even, but no spark, or a weak one, on a cylinder; or it will not take fuel")
	case offer.Gasket:
		return say.New("finding.gasket.shows", "two neighbours low, water in a cylinder, or a plug washed clean")
	case offer.TopEnd:
		return say.New("finding.top-end.shows", "one cylinder low, scoring through the plug hole")
	case offer.Finished:
		return say.New("finding.finished.shows", "seized, or no compression on a cylinder, or a hole in the block")
	case offer.Seals:
		return say.New("finding.seals.shows", "gear oil milky, a seep at the propeller shaft")
	case offer.Gears:
		return say.New("finding.gears.shows", "glitter or flakes in the gear oil, jumps out of gear, the shaft wobbles")
	}
	if doubt == offer.LowerUnit {
		return say.New("finding.lower-sound.shows", "gear oil clean, shifts crisply, no wobble")
	}
	return say.New("finding.powerhead-sound.shows", "turns freely, compression even, a spark on each cylinder")
}

// checksPage is the sheet to take along to a motor.
func (s *Shop) checksPage(r costing.Record) (paper.Page, error) {
	v, err := s.Appraise(r.ID)
	if err != nil {
		return nil, err
	}
	settings := s.Settings()
	p := paper.CheckSheet{Record: r, PowerUnit: settings.PowerUnit, Pressure: settings.Pressure, Distance: settings.Distance,
		Answer: v.Answer, Limit: v.Limit, Worth: v.Worth, First: v.First, Warnings: v.Warnings}
	p.Trials, _ = offer.TrialsFor(r.Motor)
	if !v.Ready {
		return p, nil
	}
	f, err := s.TopByFinding(r.ID)
	if err != nil {
		return nil, err
	}
	for _, row := range f.Rows() {
		p.Findings = append(p.Findings, paper.Finding{Words: row.Words, Shows: row.Shows, Way: row.Exit.Name(), Top: row.Top, Thin: row.TooThin})
	}
	return p, nil
}
