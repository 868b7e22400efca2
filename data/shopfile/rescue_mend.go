package shopfile

import (
	"context"
	"database/sql"
	"fmt"
	"maps"
	"slices"

	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// saved is the entry of a table.
func (out *Rescued) saved(table string) *RescuedTable {
	for i := range out.Tables {
		if out.Tables[i].Name == table {
			return &out.Tables[i]
		}
	}
	return &RescuedTable{Name: table}
}

// logged tells whether the undo log was read whole.
func (out *Rescued) logged() bool {
	steps, changes := out.saved("steps"), out.saved("changes")
	return steps.Lost+changes.Lost == 0 && !steps.Unsure && !changes.Unsure
}

// byLog puts back from the undo log what is lost from the tables, and says which rows are not as they were
// saved last. A log with gaps could only tell how a row once was.
func (out *Rescued) byLog(ctx context.Context, tx *sql.Tx) error {
	if !out.logged() {
		return nil
	}
	last, err := lastImages(ctx, tx)
	if err != nil {
		return err
	}
	for _, t := range tables {
		was := out.saved(t.name)
		if was.Lost == 0 && !was.Unsure {
			continue
		}
		for _, id := range slices.Sorted(maps.Keys(last[t.name])) {
			image := last[t.name][id]
			if image == "" {
				continue
			}
			var there int
			if err := tx.QueryRowContext(ctx, "SELECT COUNT(*) FROM "+t.name+" WHERE id = $1", id).Scan(&there); err != nil {
				return err
			}
			r := t.fresh()
			if there > 0 || r.restore(image) != nil {
				continue
			}
			// Versions go up by one with each change, and nobody's can be as high as this.
			*r.id, *r.version = id, 1_000_000
			values, err := r.tryValues()
			if err != nil {
				continue
			}
			if _, err := tx.ExecContext(ctx, t.insert, values...); err != nil {
				if !ofTheRow(err) {
					return err
				}
				continue
			}
			was.Saved++
			was.Lost = max(0, was.Lost-1)
			out.Notes = append(out.Notes, say.New("rescue.bylog", "{{.Thing}} was put back from the undo log, as it was saved last.", "Thing", capital(r.name())))
		}
	}
	unlike, err := unlikeLog(ctx, tx)
	out.Notes = append(out.Notes, unlike...)
	return err
}

// mendReferences empties references to what is lost, and leaves out the rows that mean nothing without it,
// until every reference leads somewhere.
func (out *Rescued) mendReferences(ctx context.Context, tx *sql.Tx, kept []Kept) error {
	for {
		loose, err := looseRows(ctx, tx)
		if err != nil || len(loose) == 0 {
			return err
		}
		for _, l := range loose {
			var column string
			err := tx.QueryRowContext(ctx, `SELECT "from" FROM pragma_foreign_key_list($1) WHERE id = $2 AND seq = 0`, l.table, l.key).Scan(&column)
			if err != nil {
				return err
			}
			name, amount := l.words(ctx, tx)
			if mayBeEmpty(kept, l.table, column) {
				if _, err := tx.ExecContext(ctx, fmt.Sprintf(`UPDATE "%s" SET "%s" = NULL WHERE rowid = $1`, l.table, column), l.row); err != nil {
					return err
				}
				out.LeftOut = append(out.LeftOut, say.New("rescue.emptied", "{{.Thing}} is kept without its {{.Column}}, which is lost.",
					"Thing", capital(name), "Column", thingOf(l.parent)))
				continue
			}
			if _, err := tx.ExecContext(ctx, fmt.Sprintf(`DELETE FROM "%s" WHERE rowid = $1`, l.table), l.row); err != nil {
				return err
			}
			t := out.saved(l.table)
			t.Saved--
			t.Lost++
			if l.table != "changes" { // nobody knows its rows; the log as a whole is spoken of
				out.LeftOut = append(out.LeftOut, say.New("rescue.leftout", "{{.Thing}}{{if .Amount}}, {{.Amount}},{{end}} is left out: the {{.Parent}} it belongs to is lost.",
					"Thing", capital(name), "Amount", amount, "Parent", thingOf(l.parent)))
			}
		}
	}
}

// loose is a row that refers to what is not there, by the foreign key of that number.
type loose struct {
	table, parent string
	row, key      int64
}

func looseRows(ctx context.Context, tx *sql.Tx) ([]loose, error) {
	rows, err := tx.QueryContext(ctx, `SELECT "table", parent, rowid, fkid FROM pragma_foreign_key_check GROUP BY "table", rowid`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []loose
	for rows.Next() {
		var l loose
		if err := rows.Scan(&l.table, &l.parent, &l.row, &l.key); err != nil {
			return nil, err
		}
		out = append(out, l)
	}
	return out, rows.Err()
}

// words are what people call the row, and the money in it as the shop writes it.
func (l loose) words(ctx context.Context, tx *sql.Tx) (name, amount string) {
	t := tableNamed(l.table)
	if t == nil {
		return "a row of " + l.table, ""
	}
	name = "a " + t.thing
	r := t.fresh()
	if tx.QueryRowContext(ctx, t.selects+" WHERE rowid = $1", l.row).Scan(r.targets()...) != nil { // an older schema
		return name, ""
	}
	for _, column := range []string{"total", "price", "cost", "value", "amount", "deposit"} {
		var whole sql.NullInt64
		if slices.Contains(t.columns, column) && tx.QueryRowContext(ctx, "SELECT "+column+" FROM "+t.name+" WHERE rowid = $1", l.row).Scan(&whole) == nil && whole.Int64 != 0 {
			if shop, err := settings(ctx, tx); err == nil {
				amount = shop.MoneyOrNone().Format(money.Amount(whole.Int64))
			}
			break
		}
	}
	return r.name(), amount
}

func mayBeEmpty(kept []Kept, table, column string) bool {
	for _, t := range kept {
		if t.Name != table {
			continue
		}
		for _, c := range t.Columns {
			if c.Name == column {
				return c.Empty
			}
		}
	}
	return false
}

func thingOf(table string) string {
	if t := tableNamed(table); t != nil {
		return t.thing
	}
	return "row of " + table
}

// endLog empties the undo log where something is missing: a step would be undone by half.
func (out *Rescued) endLog(ctx context.Context, tx *sql.Tx) error {
	if out.Whole() {
		return nil
	}
	for _, table := range []string{"changes", "steps"} {
		if _, err := tx.ExecContext(ctx, "DELETE FROM "+table); err != nil {
			return err
		}
		t := out.saved(table)
		t.Lost += t.Saved
		t.Saved = 0
	}
	out.Notes = append(out.Notes, say.New("rescue.undo", "The new file begins without an undo log: what is missing could be undone only by half."))
	return nil
}
