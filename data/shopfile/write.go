package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// mergeWithin is how long after a change another of the same coalescing key still belongs to its undo
// step: typing pauses for less between two letters of one thought.
const mergeWithin = 3 * time.Second

// Tx is one write under way, given to the function passed to [File.Write] and good until it returns.
type Tx struct {
	ctx      context.Context
	sql      *sql.Tx
	prepared map[string]*sql.Stmt
	known    map[string]bool // table and key of rows seen or made in this transaction
	takeBack []func()        // puts the caller's structs back as they were, for when nothing is saved
	broken   error           // a statement failed halfway: nothing of this transaction may be saved

	label, coalesce string
	now             time.Time
	step            int64 // undo step written to; 0 until the first change
	merged          bool  // the step was there before
}

// Write runs fn in one transaction. When fn returns nil all it did is saved, safely on the disk by the
// time Write returns, and becomes one step of undo under the label, a few words such as "price of
// Halvard 90". When fn fails or panics nothing is changed, and the structs it put have their keys and
// versions back.
//
// Writes under the same coalescing key that follow each other within a few seconds become one undo step,
// so that undo takes back a word typed and not its last letter; "" never merges. fn must use the Tx
// only: the File itself waits for it to end.
func (f *File) Write(ctx context.Context, label, coalesce string, fn func(*Tx) error) error {
	if label == "" {
		return told{errors.New("save a change: it has no name to undo it by")}
	}
	doing := "save " + label
	return f.locked(ctx, doing, func(s *sql.Tx) error {
		tx := &Tx{
			ctx: ctx, sql: s, prepared: map[string]*sql.Stmt{}, known: map[string]bool{},
			label: label, coalesce: coalesce, now: f.now(),
		}
		saved := false
		defer func() {
			if !saved {
				for i := len(tx.takeBack) - 1; i >= 0; i-- {
					tx.takeBack[i]()
				}
			}
		}()
		if err := fn(tx); err != nil {
			return err
		}
		if tx.broken != nil {
			return explain(doing, tx.broken)
		}
		if err := tx.closeStep(); err != nil {
			return explain(doing, err)
		}
		if err := s.Commit(); err != nil {
			return explain(doing, err)
		}
		saved = true
		return nil
	})
}

// locked runs fn in a transaction that holds the write lock from its start. fn commits it.
func (f *File) locked(ctx context.Context, doing string, fn func(*sql.Tx) error) error {
	select {
	case f.writing <- struct{}{}:
		defer func() { <-f.writing }()
	case <-ctx.Done():
		return ctx.Err()
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	tx, err := f.db.BeginTx(context.WithoutCancel(ctx), nil)
	if err != nil {
		return explain(doing, err)
	}
	defer func() { _ = tx.Rollback() }()
	if err := sameSchema(tx); err != nil {
		return explain(doing, err)
	}
	return fn(tx)
}

// stmt is the query, prepared once a transaction.
func (tx *Tx) stmt(query string) (*sql.Stmt, error) {
	if s := tx.prepared[query]; s != nil {
		return s, nil
	}
	s, err := tx.sql.Prepare(query)
	if err != nil {
		return nil, err
	}
	tx.prepared[query] = s
	return s, nil
}

// exec runs a statement and tells how many rows it touched. One that fails spoils the transaction, so
// that a caller who overlooks the error cannot save a change that is not in the undo log.
func (tx *Tx) exec(query string, args ...any) (touched int64, err error) {
	defer func() {
		if err != nil {
			tx.broken = err
		}
	}()
	s, err := tx.stmt(query)
	if err != nil {
		return 0, err
	}
	done, err := s.Exec(args...)
	if err != nil {
		return 0, err
	}
	return done.RowsAffected()
}

// first scans the first row of an answer; found is false when there is none.
func (tx *Tx) first(query string, args []any, into ...any) (found bool, err error) {
	s, err := tx.stmt(query)
	if err != nil {
		return false, err
	}
	err = s.QueryRow(args...).Scan(into...)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return err == nil, err
}

// load reads the row of that key; false when there is none.
func (tx *Tx) load(t *table, id string) (row, bool, error) {
	r := t.fresh()
	found, err := tx.first(t.selects+" WHERE id = $1", []any{id}, r.targets()...)
	return r, found, err
}

// put writes a row: a new one when its version is 0, otherwise the next version of the one it was read
// from. It is the only way rows of the tables change but for [Tx.drop] and undo itself.
func (tx *Tx) put(t *table, r row) error {
	if err := tx.ctx.Err(); err != nil {
		return err
	}
	id, version := *r.id, *r.version
	tx.takeBack = append(tx.takeBack, func() { *r.id, *r.version = id, version })
	err := tx.write(t, r)
	if err != nil {
		*r.id, *r.version = id, version
	}
	return explain("save "+t.thing, err)
}

func (tx *Tx) write(t *table, r row) error {
	if *r.version == 0 {
		return tx.writeNew(t, r)
	}
	before, found, err := tx.load(t, *r.id)
	if err != nil {
		return err
	}
	if !found {
		return &Conflict{r.name(), removedElsewhere}
	}
	if *before.version != *r.version {
		return &Conflict{before.name(), changedElsewhere}
	}
	was, err := tx.imageOf(t, before)
	if err != nil {
		return err
	}
	values, err := r.values()
	if err != nil {
		return err
	}
	became, err := t.image(values)
	if err != nil || was == became {
		return err
	}
	if err := tx.fits(t, r, values); err != nil {
		return err
	}
	*r.version++
	values[1] = *r.version
	touched, err := tx.exec(t.update, append(values, *before.version)...)
	if err != nil {
		return err
	}
	if touched != 1 { // only where others may write between our reading and our writing
		return &Conflict{before.name(), changedElsewhere}
	}
	return tx.note(t, *r.id, was, became, *r.version)
}

func (tx *Tx) writeNew(t *table, r row) error {
	*r.version = 1
	if *r.id == "" {
		*r.id = NewID()
	} else {
		if there, err := tx.has(t.name, *r.id); err != nil {
			return err
		} else if there {
			return &Conflict{r.name(), alreadyThere}
		}
		// A key used before goes on counting, so that who still holds the old row is refused.
		highest, err := highestVersion(tx, t, *r.id)
		if err != nil {
			return err
		}
		*r.version += highest
	}
	values, err := r.values()
	if err != nil {
		return err
	}
	became, err := t.image(values)
	if err != nil {
		return err
	}
	if err := tx.fits(t, r, values); err != nil {
		return err
	}
	if _, err := tx.exec(t.insert, values...); err != nil {
		return err
	}
	tx.known[t.name+" "+*r.id] = true
	return tx.note(t, *r.id, "", became, *r.version)
}

// fits checks what the row refers to and what it may share with no other, for the sake of a sentence
// that names them; the schema holds the same rules.
func (tx *Tx) fits(t *table, r row, values []any) error {
	for i, column := range t.columns {
		v, _ := values[i+2].(string)
		if v == "" {
			continue
		}
		if parent := t.refs[column]; parent != "" {
			there, err := tx.has(parent, v)
			if err != nil {
				return err
			}
			if !there {
				return &Conflict{"the " + tableNamed(parent).thing + " of " + r.name(), removedElsewhere}
			}
		}
	}
	for _, column := range t.unique {
		v := values[2+indexOf(t.columns, column)]
		if v == "" || v == nil {
			continue
		}
		var other string
		taken, err := tx.first("SELECT id FROM "+t.name+" WHERE "+column+" = $1 AND id <> $2", []any{v, *r.id}, &other)
		if err != nil {
			return err
		}
		if taken {
			return &Conflict{r.name(), alreadyThere}
		}
	}
	return nil
}

func indexOf(all []string, one string) int {
	for i := range all {
		if all[i] == one {
			return i
		}
	}
	panic("shopfile: no column " + one)
}

// has tells whether a row is there, asking the database once a transaction.
func (tx *Tx) has(table, id string) (bool, error) {
	key := table + " " + id
	if tx.known[key] {
		return true, nil
	}
	var one int64
	there, err := tx.first("SELECT 1 FROM "+table+" WHERE id = $1", []any{id}, &one)
	if there {
		tx.known[key] = true
	}
	return there, err
}

func (tx *Tx) imageOf(t *table, r row) (string, error) {
	values, err := r.values()
	if err != nil {
		return "", err
	}
	return t.image(values)
}

// drop removes a row that nothing else needs.
func (tx *Tx) drop(t *table, id string) error {
	if err := tx.ctx.Err(); err != nil {
		return err
	}
	return explain("remove "+t.thing, func() error {
		r, found, err := tx.load(t, id)
		if err != nil {
			return err
		}
		if !found {
			return told{fmt.Errorf("remove the %s: %w", t.thing, ErrNotFound)}
		}
		for _, other := range tables {
			for column, parent := range other.refs {
				if parent != t.name {
					continue
				}
				var user string
				used, err := tx.first("SELECT id FROM "+other.name+" WHERE "+column+" = $1", []any{id}, &user)
				if err != nil {
					return err
				}
				if used {
					return told{fmt.Errorf("remove %s: a %s needs it: %w", r.name(), other.thing, ErrInUse)}
				}
			}
		}
		return tx.dropLoaded(t, r)
	}())
}

func (tx *Tx) dropLoaded(t *table, r row) error {
	was, err := tx.imageOf(t, r)
	if err != nil {
		return err
	}
	if _, err := tx.exec(t.remove, *r.id); err != nil {
		return err
	}
	delete(tx.known, t.name+" "+*r.id)
	return tx.note(t, *r.id, was, "", *r.version)
}

// dropWhere removes every row of a table whose column holds the key.
func (tx *Tx) dropWhere(t *table, column, id string) error {
	ids, err := keys(tx.quiet(), tx.sql, "SELECT id FROM "+t.name+" WHERE "+column+" = $1 ORDER BY id", id)
	if err != nil {
		return err
	}
	for _, each := range ids {
		r, found, err := tx.load(t, each)
		if err != nil || !found {
			return err
		}
		if err := tx.dropLoaded(t, r); err != nil {
			return err
		}
	}
	return nil
}
