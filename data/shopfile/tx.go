package shopfile

import (
	"context"

	"skegworth/costing"
)

// PutRecord writes the motor's own row: what it is, where it stands, the plan. Its lines, hours and sale
// are put one by one. All Put methods follow one rule: a struct of version 0 is new and is given a key
// if it has none; any other must be of the version that is in the file, or the answer is a [Conflict].
// Afterwards the struct carries the new version. A put that changes nothing writes nothing.
func (tx *Tx) PutRecord(r *costing.Record) error { return tx.put(motors, motorRow(r)) }

// DeleteRecord removes a motor that was entered by mistake, with its lines, hours, sale and draws from
// the shelf, and stops the stopwatch if it runs on it.
func (tx *Tx) DeleteRecord(id string) error {
	return explain(tx.doing, func() error {
		for _, t := range []*table{items, lines, sessions, sales, moves, settlements} {
			if err := tx.dropWhere(t, "motor_id", id); err != nil {
				return err
			}
		}
		if err := tx.dropWhere(pieces, "donor_id", id); err != nil {
			return err
		}
		if err := tx.dropBenchOf(id); err != nil {
			return err
		}
		running, err := tx.Clock()
		if err != nil {
			return err
		}
		if running.MotorID == id {
			if err := tx.PutClock(costing.Clock{}); err != nil {
				return err
			}
		}
		return tx.drop(motors, id)
	}())
}

// PutLine writes one cost of a motor.
func (tx *Tx) PutLine(l *costing.Line) error { return tx.put(lines, lineRow(l)) }

// DeleteLine removes one cost of a motor. The entry of the shelf that goes with a drawn line is removed
// by [Tx.DeleteMove].
func (tx *Tx) DeleteLine(id string) error { return tx.drop(lines, id) }

// PutSession writes one stretch of time worked.
func (tx *Tx) PutSession(s *costing.Session) error { return tx.put(sessions, sessionRow(s)) }

// DeleteSession removes one stretch of time worked.
func (tx *Tx) DeleteSession(id string) error { return tx.drop(sessions, id) }

// PutSale writes how the motor left for money; a motor has at most one sale, and two sales cannot come
// from the same imported row.
func (tx *Tx) PutSale(motorID string, s *costing.Sale) error {
	sold := soldMotor{motorID, *s}
	err := tx.put(sales, saleRow(&sold))
	if err != nil {
		return err
	}
	id, version := s.ID, s.Version
	tx.takeBack = append(tx.takeBack, func() { s.ID, s.Version = id, version })
	s.ID, s.Version = sold.ID, sold.Version
	return nil
}

// DeleteSale removes the sale of a motor.
func (tx *Tx) DeleteSale(motorID string) error {
	var id string
	_, err := tx.first("SELECT id FROM sales WHERE motor_id = $1", []any{motorID}, &id)
	if err != nil {
		return explain(tx.doing, err)
	}
	return tx.drop(sales, id)
}

// PutGood writes one kind of thing on the shelf.
func (tx *Tx) PutGood(g *costing.Good) error { return tx.put(goods, goodRow(g)) }

// DeleteGood removes a kind of thing from the shelf; one that was ever bought, drawn or counted stays.
func (tx *Tx) DeleteGood(id string) error { return tx.drop(goods, id) }

// PutMove writes what happened to a good. A draw for a motor goes with a line of the same key: give
// both the key of one [NewID].
func (tx *Tx) PutMove(m *costing.Move) error { return tx.put(moves, moveRow(m)) }

// DeleteMove removes what happened to a good.
func (tx *Tx) DeleteMove(id string) error { return tx.drop(moves, id) }

// PutSettings writes the shop's own choices.
func (tx *Tx) PutSettings(s *costing.Settings) error { return tx.put(settingsTable, settingsRow(s)) }

// PutClock starts, changes or, given the zero Clock, stops the stopwatch. The last one to press it
// counts: there is no version to match.
func (tx *Tx) PutClock(c costing.Clock) error {
	r, found, err := tx.load(clock, "clock")
	if err != nil {
		return explain(tx.doing, err)
	}
	if c == (costing.Clock{}) {
		if !found {
			return nil
		}
		return explain(tx.doing, tx.dropLoaded(clock, r))
	}
	next := stopwatch{Clock: c}
	if found {
		next.version = *r.version
	}
	return tx.put(clock, clockRow(&next))
}

// PutPreference keeps a setting of the window. Preferences are saved with the rest but are no part of
// undo.
func (tx *Tx) PutPreference(name, value string) error {
	for _, s := range []string{name, value} {
		if _, err := text("preference", &s).value(); err != nil {
			return explain(tx.doing, err)
		}
	}
	_, err := tx.exec(`INSERT INTO preferences (name, setting) VALUES ($1, $2)
		ON CONFLICT (name) DO UPDATE SET setting = excluded.setting`, name, value)
	return explain(tx.doing, err)
}

// The Tx reads too, and sees what it has written itself.

// Record is the motor with its lines, hours and sale.
func (tx *Tx) Record(id string) (costing.Record, error) { return record(tx.quiet(), tx.sql, id) }

// Good is one kind of thing on the shelf.
func (tx *Tx) Good(id string) (costing.Good, error) {
	return one(tx.quiet(), tx.sql, goods, goodRow, id)
}

// Line is one cost of a motor.
func (tx *Tx) Line(id string) (costing.Line, error) {
	return one(tx.quiet(), tx.sql, lines, lineRow, id)
}

// Session is one stretch of time worked.
func (tx *Tx) Session(id string) (costing.Session, error) {
	return one(tx.quiet(), tx.sql, sessions, sessionRow, id)
}

// Move is one thing that happened on the shelf.
func (tx *Tx) Move(id string) (costing.Move, error) {
	return one(tx.quiet(), tx.sql, moves, moveRow, id)
}

// Moves is all that happened to one good, in the order it was entered.
func (tx *Tx) Moves(goodID string) ([]costing.Move, error) {
	return movesOf(tx.quiet(), tx.sql, goodID)
}

// Settings are the shop's own choices.
func (tx *Tx) Settings() (costing.Settings, error) { return settings(tx.quiet(), tx.sql) }

// Clock is the stopwatch.
func (tx *Tx) Clock() (costing.Clock, error) { return runningClock(tx.quiet(), tx.sql) }

// HasSource tells which fingerprints of imported rows are in the file already.
func (tx *Tx) HasSource(fingerprints []string) (map[string]bool, error) {
	return hasSource(tx.quiet(), tx.sql, fingerprints)
}

// quiet is the context of the statements: one that does not cut them off.
func (tx *Tx) quiet() context.Context { return context.WithoutCancel(tx.ctx) }
