package shopfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// row is a Go value seen as a row of a table: its key, its version and its columns.
type row struct {
	id      *string
	version *int64
	fields  []field
	name    func() string // what people call it, with what it is: motor "Halvard 90, 2003"
}

// targets are what a query of all columns scans into.
func (r row) targets() []any {
	out := []any{r.id, r.version}
	for _, f := range r.fields {
		out = append(out, f)
	}
	return out
}

// values are what a statement that writes all columns takes. The error is a sentence that names the row
// and the column.
func (r row) values() ([]any, error) {
	out, err := r.tryValues()
	if err != nil {
		return nil, told{fmt.Errorf("save %s: %w", r.name(), err)}
	}
	return out, nil
}

// tryValues is values with an error that names the column only.
func (r row) tryValues() ([]any, error) {
	out := make([]any, 0, len(r.fields)+3)
	out = append(out, *r.id, *r.version)
	for _, f := range r.fields {
		v, err := f.value()
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}

// image is the row as the undo log keeps it: JSON of its columns in the order of their names, without
// those that are zero or empty and without its key and version. Equal rows have equal images.
func (t *table) image(values []any) (string, error) {
	kept := make(map[string]any, len(t.columns))
	for i, column := range t.columns {
		switch v := values[i+2]; v {
		case nil, "", int64(0), float64(0):
		default:
			kept[column] = v
		}
	}
	out, err := json.Marshal(kept)
	return string(out), err
}

// restore sets the row's fields to those of an image.
func (r row) restore(image string) error {
	kept := map[string]any{}
	d := json.NewDecoder(bytes.NewReader([]byte(image)))
	d.UseNumber()
	if err := d.Decode(&kept); err != nil {
		return fmt.Errorf("read the undo log: %w", err)
	}
	for _, f := range r.fields {
		if err := f.Scan(kept[f.column()]); err != nil {
			return fmt.Errorf("read the undo log: %w", err)
		}
	}
	return nil
}

// table is one table whose rows are written through [Tx.put].
type table struct {
	name    string
	thing   string            // what one row is called
	refs    map[string]string // column -> the table whose key it holds
	unique  []string          // columns of which no two rows may hold the same, "" apart
	fresh   func() row        // a row of its own to read into
	columns []string          // without id and version

	selects, insert, update, remove string
}

// define works out a table's statements from the columns of its rows.
func define(t table) *table {
	for _, f := range t.fresh().fields {
		t.columns = append(t.columns, f.column())
	}
	all := append([]string{"id", "version"}, t.columns...)
	var params, sets []string
	for i, column := range all {
		params = append(params, "$"+strconv.Itoa(i+1))
		if i > 0 {
			sets = append(sets, column+" = "+params[i])
		}
	}
	before := "$" + strconv.Itoa(len(all)+1)
	t.selects = "SELECT " + strings.Join(all, ", ") + " FROM " + t.name
	t.insert = "INSERT INTO " + t.name + " (" + strings.Join(all, ", ") + ") VALUES (" + strings.Join(params, ", ") + ")"
	t.update = "UPDATE " + t.name + " SET " + strings.Join(sets, ", ") + " WHERE id = $1 AND version = " + before
	t.remove = "DELETE FROM " + t.name + " WHERE id = $1"
	return &t
}

// again is what to say of a row that is put as new when it is there already.
func (t *table) again() string {
	if t == settingsTable { // there is one page of settings: somebody else was the first to fill it in
		return changedElsewhere
	}
	return alreadyThere
}

// called names a row: motor "Halvard 90, 2003", or only "a motor" when nothing is known of it.
func called(thing, name string) string {
	if name = strings.TrimSpace(name); name == "" {
		return "the " + thing
	}
	if runes := []rune(name[:min(len(name), 400)]); len(name) > 400 || len(runes) > 80 {
		name = string(runes[:min(len(runes), 80)]) + "…"
	}
	return fmt.Sprintf("the %s %q", thing, name)
}
