package shop

import (
	"cmp"
	"errors"
	"strings"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/paper"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// Running in and maintenance here are common practice, from memory, with no source; the maker's manual stands
// above them, and the page says so.
const (
	runInHours  = 10.0 // of a rebuilt powerhead
	firstPhotos = 4
)

// commonRatios are the running mixes that stand on most cans.
var commonRatios = []string{"50:1", "100:1"}

// handOverPage is what goes to the new owner.
func (s *Shop) handOverPage(r costing.Record, asked Paper) (paper.Page, error) {
	settings := s.Settings()
	p := paper.HandOver{Record: r, PowerUnit: settings.PowerUnit, Pressure: settings.Pressure, Waters: settings.BarredWaters, Due: s.dueOf(r)}
	var err error
	if p.RunIn, err = s.firstHours(r); err != nil {
		return nil, err
	}
	if p.MixFor, p.Mixes, err = s.mixesOf(r, asked.Ratio); err != nil {
		return nil, err
	}
	p.Pictures, err = s.picturesOf(r.ID, asked.Photos)
	return p, err
}

// rebuilt tells whether the powerhead is to be run in.
func rebuilt(r costing.Record) bool { return r.Motor.State == valuation.Rebuilt }

// firstHours says how to run it in, or that there is nothing to run in.
func (s *Shop) firstHours(r costing.Record) ([]say.Sentence, error) {
	m := r.Motor
	manual := say.New("handover.manual", "All of this is common practice; where the maker's manual says otherwise, it is right.")
	if !rebuilt(r) {
		out := []say.Sentence{say.New("handover.none", "It was not rebuilt by the shop as far as this sheet knows, so there is nothing to run in.")}
		switch m.Stroke {
		case valuation.TwoStroke:
			if m.Oil == valuation.InjectionWorks {
				out = append(out, say.New("handover.injected", "Its oil injection works: keep the oil tank filled, and look that the level drops as it runs."))
			} else {
				out = append(out, say.New("handover.mixed", "Its oil is mixed into the fuel: by the maker's manual, every time."))
			}
		case valuation.FourStroke:
			out = append(out, say.New("handover.four-level", "Check the engine oil before each run."))
		}
		return append(out, manual), nil
	}
	out := []say.Sentence{say.New("handover.vary", "First hour: let it warm up, then no more than half throttle, never long at one speed. Up to {{.Hours}} hours: short bursts above that, no long full throttle, no long idling.", "Hours", costing.Measure(runInHours, ""))}
	switch m.Stroke {
	case valuation.TwoStroke:
		if m.Oil == valuation.InjectionWorks {
			out = append(out, say.New("handover.two-injected", "For those {{.Hours}} hours also mix oil into the tank, at the running mix the manual gives, beside the oil that is injected.", "Hours", costing.Measure(runInHours, "")))
		} else {
			out = append(out, say.New("handover.two", "For those {{.Hours}} hours mix double the oil of the running mix into the fuel; then the running mix, with oil for outboards.", "Hours", costing.Measure(runInHours, "")))
		}
	case valuation.FourStroke:
		out = append(out, say.New("handover.four", "No oil goes into its fuel. Check the engine oil before each run, and change oil and filter after the first {{.Hours}} to 20 hours.", "Hours", costing.Measure(runInHours, "")))
	default:
		out = append(out, say.New("handover.stroke", "Whether it is a two-stroke or a four-stroke is not written down: look in the manual whether oil is mixed into its fuel before it runs."))
	}
	out = append(out, say.New("handover.after", "After them: look at the plugs, check for leaks, and tighten the head again if the manual asks for it."))
	if m.Power > 0 && m.Stroke != "" {
		run, err := s.FirstRun(r.ID, runInHours, costing.MixedRun)
		if err != nil {
			return nil, err
		}
		out = append(out, say.New("handover.fuel", "Run so, it burns about {{.Fuel}} of fuel in {{.Hours}} hours: an estimate.", "Fuel", costing.Measure(run.Fuel, run.Unit), "Hours", costing.Measure(runInHours, "")))
	}
	return append(out, manual), nil
}

// mixesOf are how a two-stroke's fuel is mixed, for a tank of usual size.
func (s *Shop) mixesOf(r costing.Record, ratio string) (string, []paper.Mix, error) {
	if r.Motor.Stroke != valuation.TwoStroke {
		return "", nil, nil
	}
	fuel, unit := 6.0, "gal" // a portable tank
	if s.Settings().Volume == "L" {
		fuel, unit = 25, "L"
	}
	ratios := commonRatios
	if strings.TrimSpace(ratio) != "" {
		ratios = []string{ratio}
	}
	var out []paper.Mix
	for _, text := range ratios {
		m, err := s.Premix(fuel, unit, text)
		if err != nil {
			return "", nil, err
		}
		run, err := oilText(m.Oil, unit)
		if err != nil {
			return "", nil, err
		}
		row := paper.Mix{Running: costing.Measure(m.Ratio, "") + ":1", RunOil: run}
		if rebuilt(r) {
			if row.FirstIn, err = oilText(m.BreakIn, unit); err != nil {
				return "", nil, err
			}
			row.First = costing.Measure(m.Ratio/costing.BreakInOil, "") + ":1"
		}
		out = append(out, row)
	}
	return costing.Measure(fuel, unit), out, nil
}

// dueOf is the maintenance to come, with when the shop last did it by the job cards it went by.
func (s *Shop) dueOf(r costing.Record) []paper.Due {
	m := r.Motor
	last := func(starters ...string) day.Day {
		var on day.Day
		for _, j := range r.Jobs {
			if !j.Done() {
				continue
			}
			for _, starter := range starters {
				if j.Name == starter || s.starterOf(j.CardID) == starter {
					on = max(on, j.DoneOn)
				}
			}
		}
		return on
	}
	service, pump := last(offer.CardService), last(offer.CardPump)
	gears := last(offer.CardService, offer.CardReseal, offer.CardGears)
	yearly := say.New("handover.due.year", "each season, or every 100 hours")
	pumped := say.New("handover.due.pump", "every second season")
	if m.Water == valuation.Salt || m.Water == valuation.Mixed {
		pumped = say.New("handover.due.pump-salt", "each season: it ran in salt water")
	}
	out := []paper.Due{
		{What: say.New("handover.due.service", "service: plugs, filters, grease"), Last: service, When: yearly},
		{What: say.New("handover.due.gear-oil", "gear oil, looked at for water and glitter"), Last: gears, When: yearly},
		{What: say.New("handover.due.impeller", "water pump impeller"), Last: pump, When: pumped},
		{What: say.New("handover.due.anodes", "anodes"), When: say.New("handover.due.anodes.when", "looked at twice a season, changed at half")},
	}
	if m.Stroke == valuation.FourStroke {
		oil := paper.Due{What: say.New("handover.due.engine-oil", "engine oil and filter"), Last: service, When: yearly}
		if rebuilt(r) {
			oil.When = say.New("handover.due.engine-oil.first", "after the first 10 to 20 hours, then each season, or every 100 hours")
		}
		out = append(out, oil, paper.Due{What: say.New("handover.due.belt", "timing belt, where it has one"), When: say.New("handover.due.belt.when", "by the maker's schedule")})
	}
	return append(out, paper.Due{What: say.New("handover.due.winter", "laying up: fuel kept from going stale, fogged, flushed, gear oil changed"), When: say.New("handover.due.winter.when", "before each winter, or a long rest")})
}

// starterOf is the starting card that a card of the shop began as.
func (s *Shop) starterOf(cardID string) string {
	for _, c := range s.contents.Cards {
		if c.ID == cardID && cardID != "" {
			return cmp.Or(c.Starter, c.Name)
		}
	}
	return ""
}

// picturesOf are the photos chosen, or the first few of the motor; the serial plate and the seller's receipt
// are not among those that nobody chose.
func (s *Shop) picturesOf(motorID string, ids []string) ([]paper.Picture, error) {
	var chosen []costing.Photo
	if ids == nil {
		for _, p := range s.Photos(motorID) {
			if p.Shows == "" && len(chosen) < firstPhotos {
				chosen = append(chosen, p)
			}
		}
	}
	for _, id := range ids {
		p, err := s.Photo(id)
		if err != nil {
			return nil, err
		}
		if p.MotorID != motorID || p.Kind != costing.OfMotor {
			return nil, errors.New("photos: one of them is not of this motor")
		}
		chosen = append(chosen, p)
	}
	var out []paper.Picture
	for _, p := range chosen {
		m, err := s.Picture(p, false)
		if err != nil {
			return nil, err
		}
		out = append(out, paper.Picture{Image: m, Caption: p.Caption})
	}
	return out, nil
}

// billPage is a bill of sale, with blanks for what is not known.
func (s *Shop) billPage(r costing.Record) paper.Page {
	p := paper.Bill{Record: r, PowerUnit: s.Settings().PowerUnit, Together: s.Together(r.ID)}
	if r.Sale != nil && r.Sale.Exchange.MotorID != "" {
		if taken, err := s.Record(r.Sale.Exchange.MotorID); err == nil {
			p.ExchangeName, p.ExchangeID = taken.Name(), cmp.Or(taken.Motor.BracketNumber, taken.Motor.PowerheadNumber)
		}
	}
	return p
}
