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

	doing           string // what errors say was being done
	label, coalesce string
	now             time.Time
	sight           Sight
	wrote           map[Key]int64 // the versions that rows were given
	settled         map[Key][]any // rows that were chosen about, as they stood in the file
	step            int64         // undo step written to; 0 until the first change
	merged          bool          // the step was there before
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
	doing := fmt.Sprintf("save %q", label)
	var tx *Tx
	saved := false
	defer func() {
		if !saved {
			tx.giveBack()
		}
	}()
	err := f.locked(ctx, doing, func(s *sql.Tx) error {
		tx.giveBack() // of an attempt that came to nothing
		tx = &Tx{
			ctx: ctx, sql: s, prepared: map[string]*sql.Stmt{}, known: map[string]bool{},
			doing: doing, label: label, coalesce: coalesce, now: f.now(),
		}
		if err := fn(tx); err != nil {
			return err
		}
		if tx.broken != nil {
			return explain(doing, tx.broken)
		}
		return explain(doing, tx.closeStep())
	})
	saved = err == nil
	return err
}

// giveBack gives the caller's structs the keys and versions that they came with.
func (tx *Tx) giveBack() {
	if tx == nil {
		return
	}
	for i := len(tx.takeBack) - 1; i >= 0; i-- {
		tx.takeBack[i]()
	}
	tx.takeBack = nil
}

// locked runs fn in a transaction that holds the write lock from its start, and commits it when fn returns
// nil. A lost connection has fn run again, see server_write.go: what fn does beside the transaction it must
// do anew each time.
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
	if err := f.there(); err != nil {
		return &trouble{doing, ErrMoved, err}
	}
	return f.dialect.write(ctx, f, doing, fn)
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
