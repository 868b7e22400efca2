package shopfile

import (
	"context"
	"database/sql"
	"fmt"

	"skegworth/valuation/say"
)

// apart are the tables that a server keeps beside those of every shop, as a list of SQL.
const apart = "('goose_db_version', 'commits')"

// kept describes the tables of the schema, in the order in which a file would.
func (onServerDialect) kept(ctx context.Context, r reader) ([]Kept, error) {
	rows, err := r.QueryContext(ctx, `SELECT c.relname, a.attname, format_type(a.atttypid, a.atttypmod), a.attnotnull,
			COALESCE(a.attnum = ANY (i.indkey), FALSE)
		FROM pg_class c
			JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped
			LEFT JOIN pg_index i ON i.indrelid = c.oid AND i.indisprimary
		WHERE c.relnamespace = CAST(quote_ident(CAST(current_schema() AS TEXT)) AS regnamespace) AND c.relkind = 'r'
			AND c.relname NOT IN `+apart+`
		ORDER BY c.relname COLLATE "C", a.attnum`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	holds := map[string]Holds{"text": Words, "bigint": Wholes, "double precision": Measures}
	var out []Kept
	for rows.Next() {
		var table, kind string
		var c Column
		var filled, key bool
		if err := rows.Scan(&table, &c.Name, &kind, &filled, &key); err != nil {
			return nil, err
		}
		var known bool
		if c.Holds, known = holds[kind]; !known {
			return nil, fmt.Errorf("%w (the %s of %s is a %s)", ErrDamaged, c.Name, table, kind)
		}
		c.Empty = !filled
		if len(out) == 0 || out[len(out)-1].Name != table {
			out = append(out, Kept{Name: table})
		}
		t := &out[len(out)-1]
		t.Columns = append(t.Columns, c)
		if key {
			by := `"` + c.Name + `"`
			if c.Holds == Words { // as SQLite orders, whatever the language of the database
				by += ` COLLATE "C"`
			}
			t.key = append(t.key, by)
		}
	}
	return out, rows.Err()
}

// faults of a server are parts of the schema that a stranger put in, and rules that were put in without
// looking at the rows that were there. All else it does not let happen.
func (onServerDialect) faults(ctx context.Context, r reader) ([]say.Sentence, error) {
	var out []say.Sentence
	found, err := keys(ctx, r, `WITH shop AS (SELECT oid, relname, relkind FROM pg_class
			WHERE relnamespace = CAST(quote_ident(CAST(current_schema() AS TEXT)) AS regnamespace))
		SELECT relname FROM shop WHERE relkind IN ('v', 'm', 'f')
		UNION ALL SELECT t.tgname FROM pg_trigger t JOIN shop ON shop.oid = t.tgrelid WHERE NOT t.tgisinternal
		UNION ALL SELECT w.rulename FROM pg_rewrite w JOIN shop ON shop.oid = w.ev_class WHERE shop.relkind = 'r'
		ORDER BY 1`)
	if err != nil {
		return nil, err
	}
	for _, finding := range found {
		out = append(out, say.New("check.foreign", "The file has a part this program never makes: {{.Finding}}.", "Finding", finding))
	}
	found, err = keys(ctx, r, `SELECT c.conname || ' (' || t.relname || ')' FROM pg_constraint c JOIN pg_class t ON t.oid = c.conrelid
		WHERE t.relnamespace = CAST(quote_ident(CAST(current_schema() AS TEXT)) AS regnamespace) AND NOT c.convalidated ORDER BY 1`)
	if err != nil {
		return nil, err
	}
	for _, finding := range found[:min(len(found), shownFaults)] {
		out = append(out, say.New("check.unruled", "A rule of the shop was never held against the rows that were there: {{.Finding}}.", "Finding", finding))
	}
	return out, nil
}

var _ reader = (*sql.DB)(nil)
