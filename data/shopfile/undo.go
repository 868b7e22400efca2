package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// Undo takes back the last step and says its label. Every row the step touched is as it was before, with
// a version above all it had, so that a window still holding an older one is refused. When a row was
// changed since by other means than a step, nothing is undone and the error is a [Conflict] that names
// it. With no step left the error is [ErrNothingToUndo].
func (f *File) Undo(ctx context.Context) (label string, err error) { return f.turn(ctx, back) }

// Redo brings back the step last undone and says its label. The next write after an undo ends what could
// be redone; then the error is [ErrNothingToRedo].
func (f *File) Redo(ctx context.Context) (label string, err error) { return f.turn(ctx, forth) }

// UndoLabel is what Undo would take back, "" when there is nothing.
func (f *File) UndoLabel(ctx context.Context) (string, error) { return f.nextLabel(ctx, back) }

// RedoLabel is what Redo would bring back, "" when there is nothing.
func (f *File) RedoLabel(ctx context.Context) (string, error) { return f.nextLabel(ctx, forth) }

// direction is one way along the undo log.
type direction struct {
	doing   string
	next    string // finds the step to go over
	undone  int64  // what the step is marked with afterwards
	nothing error
	ends    func(change) (from, to string) // images of a row before and after going over it
}

var (
	back = direction{"undo", "SELECT n, label FROM steps WHERE undone = 0 ORDER BY n DESC LIMIT 1", 1,
		ErrNothingToUndo, func(c change) (string, string) { return c.became, c.was }}
	forth = direction{"redo", "SELECT n, label FROM steps WHERE undone = 1 ORDER BY n LIMIT 1", 0,
		ErrNothingToRedo, func(c change) (string, string) { return c.was, c.became }}
)

// change is what a step did to one row.
type change struct {
	table       *table
	id          string
	was, became string
	now         *row // as it stands in its table, nil when it does not
}

func (f *File) nextLabel(ctx context.Context, d direction) (string, error) {
	var label string
	err := f.reading(ctx, "read the undo log", func(r reader) error {
		var n int64
		err := r.QueryRowContext(ctx, d.next).Scan(&n, &label)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		return err
	})
	return label, err
}

func (f *File) turn(ctx context.Context, d direction) (label string, err error) {
	err = f.locked(ctx, d.doing, func(s *sql.Tx) error {
		tx := &Tx{ctx: ctx, sql: s, prepared: map[string]*sql.Stmt{}, known: map[string]bool{}}
		found, err := tx.first(d.next, nil, &tx.step, &label)
		if err != nil {
			return explain(d.doing, err)
		}
		if !found {
			return told{d.nothing}
		}
		return explain(fmt.Sprintf("%s %q", d.doing, label), tx.goOver(d))
	})
	if err != nil {
		return "", err
	}
	return label, nil
}

// goOver brings every row of the step from one end to the other. All are taken out first and put in
// afterwards: in between, no two rows can claim what only one may hold, such as the sale of a motor, and
// references are checked at the end of the transaction.
func (tx *Tx) goOver(d direction) error {
	changes, err := tx.changes()
	if err != nil {
		return err
	}
	for i := range changes {
		from, _ := d.ends(changes[i])
		if err := tx.check(&changes[i], from); err != nil {
			return err
		}
	}
	for _, c := range changes {
		if c.now != nil {
			if err := tx.takeOut(c.table, *c.now); err != nil {
				return err
			}
		}
	}
	for _, c := range changes {
		if _, to := d.ends(c); to != "" {
			if err := tx.bringBack(c, to); err != nil {
				return err
			}
		}
	}
	if _, err := tx.exec("UPDATE steps SET undone = $2 WHERE n = $1", tx.step, d.undone); err != nil {
		return err
	}
	// What is written next starts a step of its own, whatever was typed before the undo.
	_, err = tx.exec("UPDATE steps SET merge_key = '' WHERE merge_key <> ''")
	return err
}

// bringBack puts a row in as the image says, under the version after its last.
func (tx *Tx) bringBack(c change, image string) error {
	r := c.table.fresh()
	if err := r.restore(image); err != nil {
		return err
	}
	last, err := tx.lastVersion(c.table, c.id)
	if err != nil {
		return err
	}
	*r.id, *r.version = c.id, last+1
	values, err := r.values()
	if err != nil {
		return err
	}
	_, err = tx.exec(c.table.insert, values...)
	return err
}

// changes are what the step did.
func (tx *Tx) changes() ([]change, error) {
	rows, err := tx.sql.Query(`SELECT table_name, row_id, was, became FROM changes
		WHERE step = $1 ORDER BY table_name, row_id`, tx.step)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []change
	for rows.Next() {
		var c change
		var name string
		if err := rows.Scan(&name, &c.id, &c.was, &c.became); err != nil {
			return nil, err
		}
		if c.table = tableNamed(name); c.table == nil {
			return nil, errors.New("read the undo log: it names a table " + name)
		}
		out = append(out, c)
	}
	return out, rows.Err()
}

// check makes sure that the row stands as the step left it.
func (tx *Tx) check(c *change, expected string) error {
	r, there, err := tx.load(c.table, c.id)
	if err != nil {
		return err
	}
	now := ""
	if there {
		if now, err = tx.imageOf(c.table, r); err != nil {
			return err
		}
		c.now = &r
	}
	if now == expected {
		return nil
	}
	if !there {
		if err := r.restore(expected); err != nil {
			return err
		}
		return &Conflict{Thing: r.name(), Reason: removedElsewhere}
	}
	return &Conflict{Thing: r.name(), Reason: changedElsewhere}
}
