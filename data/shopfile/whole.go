package shopfile

import (
	"context"
	"database/sql"
	"fmt"
	"io/fs"
	"strings"

	"github.com/pressly/goose/v3"
)

// Kept is a table as the file itself describes it, so that nothing a later migration adds is forgotten.
type Kept struct {
	Name    string
	Columns []Column
	key     []string
}

// Column of a table.
type Column struct {
	Name  string
	Holds Holds
	Empty bool // may hold nothing at all, which is not the same as ""
}

// Holds is what stands in a column: a string, an int64 or a float64.
type Holds string

const (
	Words    Holds = "text"
	Wholes   Holds = "whole number"
	Measures Holds = "number"
)

// Schema is the number of the newest shape of a shop file that this program knows.
func Schema() int { return schemaVersion }

// ReadWhole gives every row of every table as it is at one moment, the undo log and the preferences too.
// For each table open is called first; the function it returns then gets the rows one by one, in the order
// of their keys. Their memory is used again for the next.
func (f *File) ReadWhole(ctx context.Context, open func(Kept) (func(values []any) error, error)) error {
	return f.readOnce(ctx, "read the whole shop file", func(r reader) error {
		kept, err := f.dialect.kept(ctx, r)
		if err != nil {
			return err
		}
		for _, t := range kept {
			row, err := open(t)
			if err != nil {
				return told{err}
			}
			if err := t.each(ctx, r, row); err != nil {
				return err
			}
		}
		return nil
	})
}

// each reads the rows of a table.
func (t Kept) each(ctx context.Context, r reader, row func([]any) error) error {
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = `"` + c.Name + `"`
	}
	rows, err := r.QueryContext(ctx, fmt.Sprintf(`SELECT %s FROM "%s" ORDER BY %s`, strings.Join(names, ", "), t.Name, strings.Join(t.key, ", ")))
	if err != nil {
		return err
	}
	defer rows.Close()
	values := make([]any, len(t.Columns))
	targets := make([]any, len(t.Columns))
	for i := range values {
		targets[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(targets...); err != nil {
			return err
		}
		for i, c := range t.Columns {
			if !c.takes(values[i]) {
				return fmt.Errorf("%w (the %s of %s holds %s)", ErrDamaged, c.Name, t.Name, shown(values[i]))
			}
		}
		if err := row(values); err != nil {
			return told{err}
		}
	}
	return rows.Err()
}

// takes tells whether the column can hold a value.
func (c Column) takes(v any) bool {
	switch v.(type) {
	case nil:
		return c.Empty
	case string:
		return c.Holds == Words
	case int64:
		return c.Holds == Wholes
	case float64:
		return c.Holds == Measures
	}
	return false
}

// keptTables are all tables but those the engine and the migrations keep for themselves.
func keptTables(ctx context.Context, r reader) ([]Kept, error) {
	names, err := keys(ctx, r, `SELECT name FROM sqlite_master WHERE type = 'table'
		AND name NOT LIKE 'sqlite!_%' ESCAPE '!' AND name <> 'goose_db_version' ORDER BY name`)
	if err != nil {
		return nil, err
	}
	out := make([]Kept, 0, len(names))
	for _, name := range names {
		t, err := keptTable(ctx, r, name)
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}

func keptTable(ctx context.Context, r reader, name string) (Kept, error) {
	t := Kept{Name: name}
	rows, err := r.QueryContext(ctx, `SELECT name, type, "notnull", pk FROM pragma_table_info($1) ORDER BY cid`, name)
	if err != nil {
		return t, err
	}
	defer rows.Close()
	holds := map[string]Holds{"TEXT": Words, "BIGINT": Wholes, "DOUBLE PRECISION": Measures}
	for rows.Next() {
		var c Column
		var kind string
		var filled, key int64
		if err := rows.Scan(&c.Name, &kind, &filled, &key); err != nil {
			return t, err
		}
		var known bool
		if c.Holds, known = holds[kind]; !known {
			return t, fmt.Errorf("%w (the %s of %s is a %s)", ErrDamaged, c.Name, name, kind)
		}
		c.Empty = filled == 0
		t.Columns = append(t.Columns, c)
		if key > 0 {
			t.key = append(t.key, `"`+c.Name+`"`)
		}
	}
	return t, rows.Err()
}

// Rebuild makes a new shop file of the rows that fill puts in: fill is told the tables of a file of that
// schema and puts rows by table, each with a value for every column in order. A schema older than this
// program's is filled as it was and then brought up to date. The file appears whole or not at all, and one
// that is there is never touched ([ErrExists]).
func Rebuild(ctx context.Context, path string, schema int, fill func(tables []Kept, put func(table string, values []any) error) error) error {
	doing := fmt.Sprintf("rebuild %q", Shown(path))
	if schema < 1 || schema > schemaVersion {
		return told{fmt.Errorf("%s: %w", doing, ErrNewer)}
	}
	if IsServer(path) {
		return rebuildServer(ctx, path, schema, fill)
	}
	err := publish(doing, path, func(draft string) error {
		if err := mark(ctx, draft); err != nil {
			return err
		}
		db := sql.OpenDB(engine{draft})
		defer db.Close()
		db.SetMaxOpenConns(1)
		if err := climbTo(ctx, db, schema); err != nil {
			return err
		}
		if err := refill(ctx, db, sqlite, fill); err != nil {
			return err
		}
		if err := sound(ctx, db); err != nil {
			return err
		}
		if err := db.Close(); err != nil {
			return err
		}
		if err := migrate(ctx, draft, unasked); err != nil {
			return err
		}
		return settle(ctx, draft)
	})
	return explain(doing, err)
}

// climbTo runs the migrations up to one, on a file that nobody else knows of yet.
func climbTo(ctx context.Context, db *sql.DB, schema int) error {
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	provider, err := goose.NewProvider(goose.DialectSQLite3, db, files, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	if _, err := provider.UpTo(ctx, int64(schema)); err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", schema))
	return err
}

// refill puts the rows into tables that it empties first, in one transaction, at whose end every reference
// must lead somewhere.
func refill(ctx context.Context, db *sql.DB, d dialect, fill func([]Kept, func(string, []any) error) error) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	kept, err := d.kept(ctx, tx)
	if err != nil {
		return err
	}
	inserts := make(map[string]*sql.Stmt, len(kept))
	columns := make(map[string][]Column, len(kept))
	for _, t := range kept {
		if _, err := tx.ExecContext(ctx, `DELETE FROM "`+t.Name+`"`); err != nil {
			return err
		}
		var names, params []string
		for i, c := range t.Columns {
			names = append(names, `"`+c.Name+`"`)
			params = append(params, fmt.Sprintf("$%d", i+1))
		}
		insert, err := tx.PrepareContext(ctx, fmt.Sprintf(`INSERT INTO "%s" (%s) VALUES (%s)`, t.Name, strings.Join(names, ", "), strings.Join(params, ", ")))
		if err != nil {
			return err
		}
		defer insert.Close()
		inserts[t.Name], columns[t.Name] = insert, t.Columns
	}
	put := func(table string, values []any) error {
		insert := inserts[table]
		if insert == nil || len(values) != len(columns[table]) {
			return told{fmt.Errorf("a shop file has no table %s of %d columns", table, len(values))}
		}
		for i, c := range columns[table] {
			if !c.takes(values[i]) {
				return told{fmt.Errorf("the %s of %s cannot be %s", c.Name, table, shown(values[i]))}
			}
		}
		if _, err := insert.ExecContext(ctx, values...); err != nil {
			return explain("keep a row of "+table, err)
		}
		return nil
	}
	if err := fill(kept, put); err != nil {
		return told{err}
	}
	return tx.Commit()
}
