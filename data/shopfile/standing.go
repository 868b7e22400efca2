package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"time"
)

// Moment tells one state of a shop's records from another: where its undo log stands, and how many rows
// each table has. How the window looks is no part of it.
type Moment struct {
	Step    int64     // number of the last change, 0 before the first
	Steps   int64     // changes in the log
	Undone  int64     // of those, taken back and not made again
	Written time.Time // when the last was made, by the clock of the computer it was made on
	Last    string    // the last change that holds, by its label, "" where there is none
	Rows    map[string]int64
}

// Same tells whether both are one state.
func (m Moment) Same(o Moment) bool {
	return m.Step == o.Step && m.Steps == o.Steps && m.Undone == o.Undone && m.Written.Equal(o.Written) &&
		m.Last == o.Last && maps.Equal(m.Rows, o.Rows)
}

// Moment is the state of the records now.
func (f *File) Moment(ctx context.Context) (Moment, error) {
	var out Moment
	err := f.reading(ctx, "look at where the shop stands", func(r reader) (err error) {
		kept, err := f.dialect.kept(ctx, r)
		if err != nil {
			return err
		}
		out, err = momentOf(ctx, r, kept)
		return err
	})
	return out, err
}

// momentIn is the state of a shop file, of whichever schema.
func momentIn(ctx context.Context, r reader) (Moment, error) {
	kept, err := keptTables(ctx, r)
	if err != nil {
		return Moment{}, err
	}
	return momentOf(ctx, r, kept)
}

func momentOf(ctx context.Context, r reader, kept []Kept) (Moment, error) {
	m := Moment{Rows: map[string]int64{}}
	var written int64
	err := r.QueryRowContext(ctx, `SELECT COUNT(*), COALESCE(MAX(n), 0), COALESCE(MAX(written_at), 0),
		CAST(COALESCE(SUM(undone), 0) AS BIGINT) FROM steps`).Scan(&m.Steps, &m.Step, &written, &m.Undone)
	if err != nil {
		return m, err
	}
	m.Written = time.UnixMilli(written)
	var n int64
	if err := r.QueryRowContext(ctx, back.next).Scan(&n, &m.Last); err != nil && !errors.Is(err, sql.ErrNoRows) {
		return m, err
	}
	for _, t := range kept {
		if t.Name == "preferences" {
			continue
		}
		var rows int64
		if err := r.QueryRowContext(ctx, fmt.Sprintf(`SELECT COUNT(*) FROM "%s"`, t.Name)).Scan(&rows); err != nil {
			return m, err
		}
		m.Rows[t.Name] = rows
	}
	return m, nil
}

// Made is one change in the undo log.
type Made struct {
	Step  int64
	Label string
	At    time.Time // by the clock of the computer it was made on
}

// Changes are the changes in the undo log that hold, the newest first.
func (f *File) Changes(ctx context.Context) ([]Made, error) {
	var out []Made
	err := f.reading(ctx, "read the undo log", func(r reader) error {
		out = nil
		rows, err := r.QueryContext(ctx, "SELECT n, label, written_at FROM steps WHERE undone = 0 ORDER BY n DESC")
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var m Made
			var at int64
			if err := rows.Scan(&m.Step, &m.Label, &at); err != nil {
				return err
			}
			m.At = time.UnixMilli(at)
			out = append(out, m)
		}
		return rows.Err()
	})
	return out, err
}
