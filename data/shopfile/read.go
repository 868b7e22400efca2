package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"skegworth/costing"
)

// Read reads the whole shop as it is at one moment.
func (f *File) Read(ctx context.Context) (Contents, error) {
	var c Contents
	err := f.reading(ctx, "read the shop file", func(r reader) (err error) {
		c, err = readAll(ctx, &scales{reader: r})
		return err
	})
	return c, err
}

func readAll(ctx context.Context, r reader) (c Contents, err error) {
	if c.Settings, err = settings(ctx, r); err != nil {
		return c, err
	}
	if c.Records, err = records(ctx, r); err != nil {
		return c, err
	}
	if c.Goods, err = all(ctx, r, goods, goodRow, "ORDER BY id"); err != nil {
		return c, err
	}
	if c.Moves, err = all(ctx, r, moves, moveRow, "ORDER BY id"); err != nil {
		return c, err
	}
	if err = c.readStock(ctx, r); err != nil {
		return c, err
	}
	if err = c.readBench(ctx, r); err != nil {
		return c, err
	}
	if c.Bundles, err = readBundles(ctx, r); err != nil {
		return c, err
	}
	if err = c.readYear(ctx, r); err != nil {
		return c, err
	}
	c.Clock, err = runningClock(ctx, r)
	return c, err
}

// Record reads one motor with its lines, hours and sale. The error is [ErrNotFound] when there is none
// of that key.
func (f *File) Record(ctx context.Context, id string) (costing.Record, error) {
	var out costing.Record
	err := f.reading(ctx, "read a motor", func(r reader) (err error) {
		out, err = record(ctx, r, id)
		return err
	})
	return out, err
}

// Settings reads the shop's own choices. A shop that has not made any gets the defaults, at version 0.
func (f *File) Settings(ctx context.Context) (costing.Settings, error) {
	var out costing.Settings
	err := f.reading(ctx, "read the settings", func(r reader) (err error) {
		out, err = settings(ctx, r)
		return err
	})
	return out, err
}

// Clock reads the stopwatch.
func (f *File) Clock(ctx context.Context) (costing.Clock, error) {
	var out costing.Clock
	err := f.reading(ctx, "read the stopwatch", func(r reader) (err error) {
		out, err = runningClock(ctx, r)
		return err
	})
	return out, err
}

// Preference reads a setting of the window, "" when it was never kept.
func (f *File) Preference(ctx context.Context, name string) (string, error) {
	var out string
	err := f.reading(ctx, "read a preference", func(r reader) error {
		err := r.QueryRowContext(ctx, "SELECT setting FROM preferences WHERE name = $1", name).Scan(&out)
		if errors.Is(err, sql.ErrNoRows) {
			return nil
		}
		return err
	})
	return out, err
}

// HasSource tells which fingerprints of imported rows are in the file already.
func (f *File) HasSource(ctx context.Context, fingerprints []string) (map[string]bool, error) {
	var out map[string]bool
	err := f.reading(ctx, "look for sales taken in before", func(r reader) (err error) {
		out, err = hasSource(ctx, r, fingerprints)
		return err
	})
	return out, err
}

// all reads the rows of a table into structs, each tied to its columns by bind.
func all[T any](ctx context.Context, q reader, t *table, bind func(*T) row, where string, args ...any) ([]T, error) {
	// Rows are not read faster for being interruptible one by one; long answers look at ctx in between.
	rows, err := q.QueryContext(context.WithoutCancel(ctx), t.selects+" "+where, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var (
		out     []T
		one     T
		targets = bind(&one).targets()
	)
	held, weighing := q.(*scales)
	if weighing {
		held.weigh(targets)
	}
	for rows.Next() {
		if len(out)%1024 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err := rows.Scan(targets...); err != nil {
			if field := errors.Unwrap(err); field != nil {
				err = field
			}
			return nil, fmt.Errorf("%w (in %s, %w)", ErrDamaged, t.name, err)
		}
		if weighing {
			if err := held.row(*targets[0].(*string)); err != nil {
				return nil, err
			}
		}
		out = append(out, one)
	}
	return out, rows.Err()
}

// one reads the row of a key.
func one[T any](ctx context.Context, q reader, t *table, bind func(*T) row, id string) (T, error) {
	found, err := all(ctx, q, t, bind, "WHERE id = $1", id)
	if err == nil && len(found) == 0 {
		err = told{fmt.Errorf("read a %s: %w", t.thing, ErrNotFound)}
	}
	if err != nil {
		var none T
		return none, explain("read a "+t.thing, err)
	}
	return found[0], nil
}

// records reads every motor with what belongs to it.
func records(ctx context.Context, q reader) ([]costing.Record, error) {
	out, err := all(ctx, q, motors, motorRow, "ORDER BY id")
	if err != nil {
		return nil, err
	}
	at := make(map[string]*costing.Record, len(out))
	for i := range out {
		at[out[i].ID] = &out[i]
	}
	spent, err := all(ctx, q, lines, lineRow, "ORDER BY motor_id, id")
	if err != nil {
		return nil, err
	}
	for _, run := range runs(spent, func(l costing.Line) string { return l.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Lines = run
		}
	}
	worked, err := all(ctx, q, sessions, sessionRow, "ORDER BY motor_id, id")
	if err != nil {
		return nil, err
	}
	for _, run := range runs(worked, func(s costing.Session) string { return s.MotorID }) {
		if r := at[run[0].MotorID]; r != nil {
			r.Sessions = run
		}
	}
	if err := readBenchOf(ctx, q, at); err != nil {
		return nil, err
	}
	sold, err := all(ctx, q, sales, saleRow, "ORDER BY id")
	if err != nil {
		return nil, err
	}
	for i := range sold {
		if r := at[sold[i].MotorID]; r != nil {
			r.Sale = &sold[i].Sale
		}
	}
	return out, nil
}

// runs cuts a list into the stretches of equal key. The pieces share the list's memory but cannot grow
// into each other.
func runs[T any](list []T, key func(T) string) [][]T {
	var out [][]T
	start := 0
	for i := range list {
		if i+1 == len(list) || key(list[i+1]) != key(list[i]) {
			out = append(out, list[start:i+1:i+1])
			start = i + 1
		}
	}
	return out
}

func record(ctx context.Context, q reader, id string) (costing.Record, error) {
	r, err := one(ctx, q, motors, motorRow, id)
	if err != nil {
		return r, err
	}
	if r.Lines, err = all(ctx, q, lines, lineRow, "WHERE motor_id = $1 ORDER BY id", id); err != nil {
		return r, err
	}
	if r.Sessions, err = all(ctx, q, sessions, sessionRow, "WHERE motor_id = $1 ORDER BY id", id); err != nil {
		return r, err
	}
	if err = readBenchOf(ctx, q, map[string]*costing.Record{id: &r}, id); err != nil {
		return r, err
	}
	sold, err := all(ctx, q, sales, saleRow, "WHERE motor_id = $1", id)
	if len(sold) > 0 {
		r.Sale = &sold[0].Sale
	}
	return r, err
}

func movesOf(ctx context.Context, q reader, goodID string) ([]costing.Move, error) {
	out, err := all(ctx, q, moves, moveRow, "WHERE good_id = $1 ORDER BY id", goodID)
	return out, explain("read the shelf", err)
}

func settings(ctx context.Context, q reader) (costing.Settings, error) {
	found, err := all(ctx, q, settingsTable, settingsRow, "")
	if err != nil {
		return costing.Settings{}, explain("read the settings", err)
	}
	if len(found) == 0 {
		return costing.DefaultSettings(), nil
	}
	return found[0], nil
}

func runningClock(ctx context.Context, q reader) (costing.Clock, error) {
	found, err := all(ctx, q, clock, clockRow, "")
	if err != nil || len(found) == 0 {
		return costing.Clock{}, explain("read the stopwatch", err)
	}
	return found[0].Clock, nil
}

func hasSource(ctx context.Context, q reader, fingerprints []string) (map[string]bool, error) {
	known, err := keys(ctx, q, "SELECT source FROM sales WHERE source <> ''")
	if err != nil {
		return nil, explain("look for sales taken in before", err)
	}
	there := make(map[string]bool, len(known))
	for _, source := range known {
		there[source] = true
	}
	out := make(map[string]bool, len(fingerprints))
	for _, source := range fingerprints {
		if there[source] {
			out[source] = true
		}
	}
	return out, nil
}

// keys reads a column of text.
func keys(ctx context.Context, q reader, query string, args ...any) ([]string, error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, rows.Err()
}
