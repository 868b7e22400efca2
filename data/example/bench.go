package example

import (
	"slices"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// work on the bench: what of a motor's hours and money was planned by a job card, what is still to be done,
// what stands in the way, what was measured.

// carded are the job cards that the shop's own jobs go by.
var carded = map[string][]job{
	"water pump and thermostats": {pump, thermostat},
	"carburettors, a set":        {carburettors},
	"fuel pump and lines":        {fuelPump},
	"ignition fault":             {ignition},
	"starter circuit":            {starter},
	"trim and tilt":              {trim},
	"lower-unit reseal":          {lowerUnit},
	"head gasket, two-stroke":    {headGasket},
	"top end":                    {topEnd, bore},
	"annual service":             {twoPlugs, fourPlugs},
}

// ownParts is what of a starting card's parts the shop has made its own: it buys kits and second-hand.
var ownParts = map[string]float64{"annual service": 0.25, "water pump and thermostats": 0.5, "carburettors, a set": 0.5,
	"fuel pump and lines": 0.6, "ignition fault": 0.6, "trim and tilt": 0.5, "lower-unit reseal": 0.7, "top end": 0.55}

// cardDraws are what cards take off the shelf.
var cardDraws = map[string][]draw{
	"water pump and thermostats": {{"marine grease, tubes", 0.25}},
	"lower-unit reseal":          {{"gear oil", 1}},
}

// planned makes the cards, and the jobs they became on the motors of the shop's own.
func (b *ledger) planned() {
	on := b.start
	b.cards = costing.StarterCards(cents)
	for i := range b.cards {
		c := &b.cards[i]
		c.ID = b.id(on)
		if share := ownParts[c.Name]; share > 0 {
			c.Parts, c.Starting = c.Parts.Times(share), false
		}
		for _, d := range cardDraws[c.Name] {
			for _, g := range b.goods {
				if g.Name == d.good {
					c.Draws = append(c.Draws, costing.CardDraw{ID: b.id(on), GoodID: g.ID, Quantity: d.quantity, Unit: g.Unit})
				}
			}
		}
	}
	for _, r := range b.records {
		switch r.Stage {
		case costing.Sold, costing.Bench, costing.Finished, costing.Listed:
			for _, c := range b.cards {
				b.planDone(r, c)
			}
		}
	}
}

// planDone puts a card on a motor that had such work done, and ties what was worked and bought to it.
func (b *ledger) planDone(r *costing.Record, c costing.Card) {
	jobs := carded[c.Name]
	is := func(f func(job) bool) bool { return slices.ContainsFunc(jobs, f) }
	var worked []*costing.Session
	for i := range r.Sessions {
		if w := &r.Sessions[i]; !w.Paid && is(func(j job) bool { return j.task != "" && j.task == w.Task }) {
			worked = append(worked, w)
		}
	}
	if len(worked) == 0 {
		return
	}
	first, last := worked[0].On, worked[len(worked)-1].On
	j := b.job(r, c, r.BoughtOn)
	j.DoneOn = last
	for _, w := range worked {
		w.JobID = j.ID
	}
	for i := range r.Lines {
		l := &r.Lines[i]
		if l.JobID == "" && is(func(j job) bool {
			return (j.outside != nil && j.outside.text == l.Text) ||
				slices.ContainsFunc(j.parts, func(p piece) bool { return p.text == l.Text }) ||
				slices.ContainsFunc(j.draws, func(d draw) bool { return l.ShelfID != "" && d.good == l.Text && l.On >= first && l.On <= last })
		}) {
			l.JobID = j.ID
		}
	}
}

// job puts a card on a motor's plan; what had been planned in the lump gives up the card's share of it.
func (b *ledger) job(r *costing.Record, c costing.Card, on day.Day) *costing.Job {
	j := costing.Job{ID: b.id(max(on, r.SeenOn)), MotorID: r.ID, CardID: c.ID, Name: c.Name, Pieces: c.Pieces(r.Motor), On: on}
	j.Hours, j.Parts = c.Estimate(j.Pieces, 0)
	r.Plan.Hours, r.Plan.Parts = r.Plan.Hours.Less(j.Hours), r.Plan.Parts.Less(j.Parts)
	r.Jobs = append(r.Jobs, j)
	return &r.Jobs[len(r.Jobs)-1]
}

// onTheBench is what is still to be done on the motors that stand there, and what is known of them.
func (b *ledger) onTheBench() {
	t := b.today
	check := func(r *costing.Record, on day.Day, trial costing.Trial, when costing.When, v costing.Verdict, note string, readings ...float64) {
		c := costing.Check{ID: b.id(on), MotorID: r.ID, Trial: trial, When: when, On: on, Verdict: v, Note: note, Readings: readings}
		if trial == costing.Compression {
			c.Heat, c.Throttle, c.Gauge = costing.Cold, valuation.Yes, "the red one"
		}
		r.Checks = append(r.Checks, c)
	}
	snag := func(r *costing.Record, since day.Day, kind costing.SnagKind, text, whom string, done day.Day) {
		r.Snags = append(r.Snags, costing.Snag{ID: b.id(since), MotorID: r.ID, Kind: kind, Text: text, Whom: whom, Since: since, DoneOn: done})
	}
	for _, r := range b.records {
		if r.Stage != costing.Bench {
			continue
		}
		switch r.Motor.Make {
		case "Tornvik":
			r.Keeping = costing.Keeping{Weight: 163, Laid: costing.Drained, LaidOn: t - 60}
			b.later(r, "water pump and thermostats")
			snag(r, t-60, costing.Missing, "remote control box", "Greyling Ferry", 0)
			snag(r, t-26, costing.Waiting, "trim relay", "Northquay Spares", 0)
			snag(r, t-44, costing.Faulty, "broken stud in the exhaust cover", "", t-40)
			check(r, t-60, costing.TurnsByHand, costing.Before, costing.Pass, "")
			check(r, t-60, costing.Spark, costing.Before, costing.Doubt, "weak on two")
			check(r, t-60, costing.Compression, costing.Before, costing.Fail, "", 112, 109, 48, 111)
			check(r, t-41, costing.Compression, costing.After, costing.Pass, "", 124, 122, 125, 123)
			check(r, t-30, costing.LowerHolds, costing.After, costing.Pass, "held ten minutes", 10)
		case "Halvard":
			r.Keeping = costing.Keeping{Weight: 97}
			b.later(r, "annual service")
			snag(r, t-3, costing.ToDo, "read the fault codes once more, warm", "", 0)
			check(r, t-36, costing.FaultCodes, costing.Before, costing.Doubt, "rail pressure low")
		case "Corvane":
			r.Keeping = costing.Keeping{Weight: 41, Laid: costing.Winterised, LaidOn: t - 5}
			b.later(r, "annual service")
			check(r, t-20, costing.Compression, costing.Before, costing.Pass, "", 118, 114)
		}
	}
}

// later puts a card on a motor's plan for work that is not begun.
func (b *ledger) later(r *costing.Record, card string) {
	for _, c := range b.cards {
		if c.Name == card && !slices.ContainsFunc(r.Jobs, func(j costing.Job) bool { return j.CardID == c.ID }) {
			b.job(r, c, r.BoughtOn)
		}
	}
}

// putCards writes the job cards; their goods are there.
func (b *ledger) putCards(tx *shopfile.Tx) error {
	for i := range b.cards {
		if err := tx.PutCard(&b.cards[i]); err != nil {
			return err
		}
	}
	return nil
}

// putWork writes what a motor's sessions and lines refer to, and what stands beside them.
func putWork(tx *shopfile.Tx, r *costing.Record) error {
	for i := range r.Jobs {
		if err := tx.PutJob(&r.Jobs[i]); err != nil {
			return err
		}
	}
	for i := range r.Snags {
		if err := tx.PutSnag(&r.Snags[i]); err != nil {
			return err
		}
	}
	for i := range r.Checks {
		if err := tx.PutCheck(&r.Checks[i]); err != nil {
			return err
		}
	}
	return nil
}
