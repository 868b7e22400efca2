package shopfile

import (
	"context"

	"skegworth/costing"
	"skegworth/valuation"
)

// Bench work: job cards, the jobs they became, snags, checks, photos, and the worth of an own hour.
var (
	rates = define(table{name: "rates", thing: "hourly rate",
		fresh: func() row { return rateRow(new(costing.Rate)) }})
	cards = define(table{name: "cards", thing: "job card",
		fresh: func() row { return cardRow(new(costing.Card)) }})
	cardDraws = define(table{name: "card_draws", thing: "consumable of a job card",
		refs:  map[string]string{"card_id": "cards", "good_id": "goods"},
		fresh: func() row { return cardDrawRow(new(costing.CardDraw)) }})
	jobs = define(table{name: "jobs", thing: "job",
		refs:  map[string]string{"motor_id": "motors", "card_id": "cards"},
		fresh: func() row { return jobRow(new(costing.Job)) }})
	snags = define(table{name: "snags", thing: "snag",
		refs:  map[string]string{"motor_id": "motors"},
		fresh: func() row { return snagRow(new(costing.Snag)) }})
	checks = define(table{name: "checks", thing: "check",
		refs:  map[string]string{"motor_id": "motors"},
		fresh: func() row { return checkRow(new(costing.Check)) }})
	chances = define(table{name: "chances", thing: "chance of what is wrong",
		refs:  map[string]string{"motor_id": "motors"},
		fresh: func() row { return guessRow(new(costing.Guess)) }})
	photos = define(table{name: "photos", thing: "photo",
		refs:  map[string]string{"motor_id": "motors"},
		fresh: func() row { return photoRow(new(costing.Photo)) }})
)

// three is the columns of a guess in three points.
func three(column string, t *costing.ThreePoint) []field {
	return []field{real(column+"_low", &t.Low), real(column+"_likely", &t.Likely), real(column+"_high", &t.High)}
}

func rateRow(r *costing.Rate) row {
	return row{&r.ID, &r.Version, []field{
		date("starts_on", &r.From),
		whole("rate", &r.Each),
	}, func() string { return called("hourly rate", r.From.String()) }}
}

func cardRow(c *costing.Card) row {
	fields := []field{
		text("name", &c.Name),
		word("stroke", &c.Stroke, valuation.Strokes),
		mustWord("per", &c.Per, costing.Pers),
	}
	fields = append(fields, three("hours", &c.Hours)...)
	fields = append(fields, three("parts", &c.Parts)...)
	fields = append(fields, three("more_hours", &c.MoreHours)...)
	fields = append(fields, three("more_parts", &c.MoreParts)...)
	fields = append(fields, flag("starting", &c.Starting), text("note", &c.Note), text("starter", &c.Starter))
	return row{&c.ID, &c.Version, fields, func() string { return called("job card", c.Name) }}
}

func cardDrawRow(d *costing.CardDraw) row {
	return row{&d.ID, &d.Version, []field{
		mustRef("card_id", &d.CardID),
		mustRef("good_id", &d.GoodID),
		real("quantity", &d.Quantity),
		text("unit", &d.Unit),
	}, func() string { return called("consumable of a job card", costing.Measure(d.Quantity, d.Unit)) }}
}

func jobRow(j *costing.Job) row {
	fields := []field{
		mustRef("motor_id", &j.MotorID),
		ref("card_id", &j.CardID),
		text("name", &j.Name),
		whole("pieces", &j.Pieces),
	}
	fields = append(fields, three("hours", &j.Hours)...)
	fields = append(fields, three("parts", &j.Parts)...)
	fields = append(fields, date("put_on", &j.On), date("done_on", &j.DoneOn))
	return row{&j.ID, &j.Version, fields, func() string { return called("job", j.Name) }}
}

func snagRow(s *costing.Snag) row {
	return row{&s.ID, &s.Version, []field{
		mustRef("motor_id", &s.MotorID),
		mustWord("kind", &s.Kind, costing.SnagKinds),
		text("wording", &s.Text),
		text("waits_on", &s.Whom),
		date("since", &s.Since),
		date("done_on", &s.DoneOn),
	}, func() string { return called("snag", s.Text) }}
}

func checkRow(c *costing.Check) row {
	return row{&c.ID, &c.Version, []field{
		mustRef("motor_id", &c.MotorID),
		mustWord("trial", &c.Trial, costing.Trials),
		mustWord("made", &c.When, costing.Whens),
		date("made_on", &c.On),
		word("verdict", &c.Verdict, costing.Verdicts),
		list("readings", &c.Readings),
		word("heat", &c.Heat, costing.Heats),
		word("throttle", &c.Throttle, valuation.Answers),
		text("gauge", &c.Gauge),
		real("minutes", &c.Minutes),
		text("note", &c.Note),
	}, func() string { return called("check", string(c.Trial)+" "+string(c.When)) }}
}

func guessRow(g *costing.Guess) row {
	return row{&g.ID, &g.Version, []field{
		mustRef("motor_id", &g.MotorID),
		mustWord("doubt", &g.Doubt, costing.DoubtKeys),
		mustWord("answer", &g.Case, costing.CaseKeys),
		rung("tenths", &g.Tenths, 10),
	}, func() string { return called("chance of what is wrong", string(g.Doubt)+" "+string(g.Case)) }}
}

func photoRow(p *costing.Photo) row {
	return row{&p.ID, &p.Version, []field{
		ref("motor_id", &p.MotorID),
		mustWord("kind", &p.Kind, []costing.PhotoKind{costing.OfMotor, costing.OfReceipt}),
		text("picture", &p.PictureID),
		real("place", &p.Place),
		text("caption", &p.Caption),
		date("taken_on", &p.On),
		whole("width", &p.Width),
		whole("height", &p.Height),
		date("filed_on", &p.FiledOn),
		word("shows", &p.Shows, costing.AllShows),
	}, func() string { return called("photo", p.Caption) }}
}

// readBench reads what belongs to no one motor.
func (c *Contents) readBench(ctx context.Context, q reader) (err error) {
	if c.Rates, err = all(ctx, q, rates, rateRow, "ORDER BY starts_on, id"); err != nil {
		return err
	}
	if c.Photos, err = all(ctx, q, photos, photoRow, "ORDER BY place, id"); err != nil {
		return err
	}
	c.Cards, err = readCards(ctx, q)
	return err
}

func readCards(ctx context.Context, q reader) ([]costing.Card, error) {
	out, err := all(ctx, q, cards, cardRow, "ORDER BY id")
	if err != nil || len(out) == 0 {
		return nil, err
	}
	takes, err := all(ctx, q, cardDraws, cardDrawRow, "ORDER BY card_id, id")
	if err != nil {
		return nil, err
	}
	at := make(map[string]*costing.Card, len(out))
	for i := range out {
		at[out[i].ID] = &out[i]
	}
	for _, run := range runs(takes, func(d costing.CardDraw) string { return d.CardID }) {
		if c := at[run[0].CardID]; c != nil {
			c.Draws = run
		}
	}
	return out, nil
}

// readBenchOf gives each record its jobs, snags, checks and what selling it left; only makes it those of one motor.
func readBenchOf(ctx context.Context, q reader, at map[string]*costing.Record, only ...string) error {
	where, args := "ORDER BY motor_id, id", []any(nil)
	if len(only) == 1 {
		where, args = "WHERE motor_id = $1 ORDER BY id", []any{only[0]}
	}
	planned, err := all(ctx, q, jobs, jobRow, where, args...)
	if err != nil {
		return err
	}
	for _, run := range runs(planned, func(j costing.Job) string { return j.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Jobs = run
		}
	}
	found, err := all(ctx, q, snags, snagRow, where, args...)
	if err != nil {
		return err
	}
	for _, run := range runs(found, func(s costing.Snag) string { return s.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Snags = run
		}
	}
	made, err := all(ctx, q, checks, checkRow, where, args...)
	if err != nil {
		return err
	}
	for _, run := range runs(made, func(c costing.Check) string { return c.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Checks = run
		}
	}
	guessed, err := all(ctx, q, chances, guessRow, where, args...)
	if err != nil {
		return err
	}
	for _, run := range runs(guessed, func(g costing.Guess) string { return g.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Guesses = run
		}
	}
	return readSellingOf(ctx, q, at, where, args...)
}

// PutRate writes what an own hour is worth from a day on.
func (tx *Tx) PutRate(r *costing.Rate) error { return tx.put(rates, rateRow(r)) }

// DeleteRate removes a rate; time written down keeps what it was worth.
func (tx *Tx) DeleteRate(id string) error { return tx.drop(rates, id) }

// PutCard writes a job card with what it takes off the shelf: draws that it had before and has no more
// are removed.
func (tx *Tx) PutCard(c *costing.Card) error {
	if err := tx.put(cards, cardRow(c)); err != nil {
		return err
	}
	kept := make(map[string]bool, len(c.Draws))
	for i := range c.Draws {
		c.Draws[i].CardID = c.ID
		if err := tx.put(cardDraws, cardDrawRow(&c.Draws[i])); err != nil {
			return err
		}
		kept[c.Draws[i].ID] = true
	}
	return explain(tx.doing, tx.dropOthers(cardDraws, "card_id", c.ID, kept))
}

// dropOthers removes the rows whose column holds the key, but those kept.
func (tx *Tx) dropOthers(t *table, column, id string, kept map[string]bool) error {
	there, err := keys(tx.quiet(), tx.sql, "SELECT id FROM "+t.name+" WHERE "+column+" = $1 ORDER BY id", id)
	if err != nil {
		return err
	}
	for _, each := range there {
		if kept[each] {
			continue
		}
		if err := tx.drop(t, each); err != nil {
			return err
		}
	}
	return nil
}

// DeleteCard removes a job card. Jobs it became on motors stay, with their names and estimates.
func (tx *Tx) DeleteCard(id string) error {
	return explain(tx.doing, func() error {
		on, err := all(tx.quiet(), tx.sql, jobs, jobRow, "WHERE card_id = $1 ORDER BY id", id)
		if err != nil {
			return err
		}
		for i := range on {
			on[i].CardID = ""
			if err := tx.PutJob(&on[i]); err != nil {
				return err
			}
		}
		if err := tx.dropWhere(cardDraws, "card_id", id); err != nil {
			return err
		}
		return tx.drop(cards, id)
	}())
}

// PutJob writes a job of a motor's plan.
func (tx *Tx) PutJob(j *costing.Job) error { return tx.put(jobs, jobRow(j)) }

// DeleteJob takes a job off a motor's plan. What was spent and worked for it stays on the motor, for no
// job in particular.
func (tx *Tx) DeleteJob(id string) error {
	return explain(tx.doing, func() error {
		spent, err := all(tx.quiet(), tx.sql, lines, lineRow, "WHERE job_id = $1 ORDER BY id", id)
		if err != nil {
			return err
		}
		for i := range spent {
			spent[i].JobID = ""
			if err := tx.PutLine(&spent[i]); err != nil {
				return err
			}
		}
		worked, err := all(tx.quiet(), tx.sql, sessions, sessionRow, "WHERE job_id = $1 ORDER BY id", id)
		if err != nil {
			return err
		}
		for i := range worked {
			worked[i].JobID = ""
			if err := tx.PutSession(&worked[i]); err != nil {
				return err
			}
		}
		running, err := tx.Clock()
		if err != nil {
			return err
		}
		if running.JobID == id {
			running.JobID = ""
			if err := tx.PutClock(running); err != nil {
				return err
			}
		}
		return tx.drop(jobs, id)
	}())
}

// PutSnag writes something that stands between a motor and the door.
func (tx *Tx) PutSnag(s *costing.Snag) error { return tx.put(snags, snagRow(s)) }

// DeleteSnag removes a snag that was none.
func (tx *Tx) DeleteSnag(id string) error { return tx.drop(snags, id) }

// PutCheck writes something looked at or measured.
func (tx *Tx) PutCheck(c *costing.Check) error { return tx.put(checks, checkRow(c)) }

// DeleteCheck removes a check.
func (tx *Tx) DeleteCheck(id string) error { return tx.drop(checks, id) }

// PutGuess writes a chance of what may be wrong with a motor.
func (tx *Tx) PutGuess(g *costing.Guess) error { return tx.put(chances, guessRow(g)) }

// DeleteGuess takes a chance back: the shop's own and the starting ones stand again.
func (tx *Tx) DeleteGuess(id string) error { return tx.drop(chances, id) }

// PutPhoto writes a photo; its picture is kept by [Tx.KeepPicture].
func (tx *Tx) PutPhoto(p *costing.Photo) error { return tx.put(photos, photoRow(p)) }

// DeletePhoto removes a photo. Its picture stays until undo can no longer bring the photo back.
func (tx *Tx) DeletePhoto(id string) error { return tx.drop(photos, id) }

// dropBenchOf removes all of a motor's that this file keeps, first what others refer to last. Receipts
// photographed for it stay, for no motor.
func (tx *Tx) dropBenchOf(motorID string) error {
	of, err := all(tx.quiet(), tx.sql, photos, photoRow, "WHERE motor_id = $1 ORDER BY id", motorID)
	if err != nil {
		return err
	}
	for i := range of {
		if of[i].Kind == costing.OfReceipt {
			of[i].MotorID = ""
			err = tx.PutPhoto(&of[i])
		} else {
			err = tx.DeletePhoto(of[i].ID)
		}
		if err != nil {
			return err
		}
	}
	for _, t := range []*table{snags, checks, chances, jobs, asks, bids, holds} {
		if err := tx.dropWhere(t, "motor_id", motorID); err != nil {
			return err
		}
	}
	return nil
}

// Bench reads what bench work changes beside the motors: cards, rates, photos and the stopwatch.
func (f *File) Bench(ctx context.Context) (Contents, error) {
	var c Contents
	err := f.reading(ctx, "read the bench", func(r reader) (err error) {
		if err = c.readBench(ctx, r); err != nil {
			return err
		}
		c.Clock, err = runningClock(ctx, r)
		return err
	})
	return c, err
}
