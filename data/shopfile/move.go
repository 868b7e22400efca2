package shopfile

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"hash"
	"math"
)

// Moved is what a move took along.
type Moved struct {
	Tables int
	Rows   int64
}

// MoveTo makes the same shop once more, in a new file or on a server where no tables are yet ([ErrExists]):
// every row of every table as it is at one moment, with the undo log, the preferences, the pictures and the
// versions. It appears whole or not at all, after both were read again and found to be the same to the last
// bit. This shop stays as it is.
func (f *File) MoveTo(ctx context.Context, where string) (Moved, error) {
	doing := fmt.Sprintf("move the shop to %q", Shown(where))
	var out Moved
	pour := func(r reader, db *sql.DB, to dialect) (err error) {
		out, err = pourAll(ctx, f.dialect, r, to, db)
		return err
	}
	reading := func(fn func(r reader) error) error {
		return f.readOnce(ctx, doing, func(r reader) error {
			if err := f.unhurried(ctx, r); err != nil {
				return err
			}
			return fn(r)
		})
	}
	if !IsServer(where) {
		return out, explain(doing, publish(doing, where, func(draft string) error {
			return reading(func(r reader) error {
				return fileOf(ctx, draft, schemaVersion, func(db *sql.DB) error { return pour(r, db, sqlite) })
			})
		}))
	}
	a, err := parseAddress(where)
	if err != nil {
		return out, err
	}
	to := server{config: a.config}
	return out, explain(doing, reading(func(r reader) error {
		return to.shape(ctx, func(db *sql.DB) error {
			if err := emptySchema(ctx, db); err != nil {
				return err
			}
			if err := raiseTo(ctx, db, schemaVersion); err != nil {
				return err
			}
			return pour(r, db, postgres)
		})
	}))
}

// unhurried lets a transaction that reads from a server stand still for as long as the other side writes.
func (f *File) unhurried(ctx context.Context, r reader) error {
	if f.server == nil {
		return nil
	}
	var set string
	return r.QueryRowContext(ctx, "SELECT set_config('idle_in_transaction_session_timeout', '0', TRUE)").Scan(&set)
}

// fileOf makes a shop file of a schema out of an empty file, and has it filled.
func fileOf(ctx context.Context, draft string, schema int, fill func(*sql.DB) error) error {
	if err := mark(ctx, draft); err != nil {
		return err
	}
	db := sql.OpenDB(engine{draft})
	defer db.Close()
	db.SetMaxOpenConns(1)
	if err := climbTo(ctx, db, schema); err != nil {
		return err
	}
	if err := fill(db); err != nil {
		return err
	}
	if err := sound(ctx, db); err != nil {
		return err
	}
	if err := db.Close(); err != nil {
		return err
	}
	return settle(ctx, draft)
}

// pourAll puts all that a reader sees into the tables of a database, which it empties first, reads both and
// compares them.
func pourAll(ctx context.Context, from dialect, r reader, to dialect, db *sql.DB) (Moved, error) {
	err := refill(ctx, db, to, func(_ []Kept, put func(string, []any) error) error {
		kept, err := from.kept(ctx, r)
		if err != nil {
			return err
		}
		for _, t := range kept {
			if err := t.each(ctx, r, func(values []any) error { return put(t.Name, values) }); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return Moved{}, err
	}
	was, err := sums(ctx, from, r)
	if err != nil {
		return Moved{}, err
	}
	is, err := sums(ctx, to, db)
	if err != nil {
		return Moved{}, err
	}
	out := Moved{Tables: len(was)}
	for name, sum := range was {
		if is[name] != sum {
			return Moved{}, told{errors.New("what was written does not read as what it was read from, in " + name)}
		}
		out.Rows += sum.rows
	}
	if len(is) != len(was) {
		return Moved{}, told{errors.New("what was written has other tables than what it was read from")}
	}
	return out, nil
}

// tableSum stands for all that is in a table.
type tableSum struct {
	rows   int64
	digest [sha256.Size]byte
}

// sums are those of every table that is kept.
func sums(ctx context.Context, d dialect, r reader) (map[string]tableSum, error) {
	kept, err := d.kept(ctx, r)
	if err != nil {
		return nil, err
	}
	out := make(map[string]tableSum, len(kept))
	for _, t := range kept {
		h, s := sha256.New(), tableSum{}
		for _, c := range t.Columns {
			digest(h, c.Name, string(c.Holds), fmt.Sprint(c.Empty))
		}
		err := t.each(ctx, r, func(values []any) error {
			s.rows++
			digest(h, values...)
			return nil
		})
		if err != nil {
			return nil, err
		}
		h.Sum(s.digest[:0])
		out[t.Name] = s
	}
	return out, nil
}

// digest takes in values so that no two lists of values look alike: each with its kind and length.
func digest(h hash.Hash, values ...any) {
	number := func(kind byte, n uint64) {
		var b [9]byte
		b[0] = kind
		binary.LittleEndian.PutUint64(b[1:], n)
		h.Write(b[:])
	}
	for _, v := range values {
		switch v := v.(type) {
		case nil:
			number(0, 0)
		case string:
			number(1, uint64(len(v)))
			h.Write([]byte(v))
		case int64:
			number(2, uint64(v))
		case float64:
			number(3, math.Float64bits(v))
		}
	}
}
