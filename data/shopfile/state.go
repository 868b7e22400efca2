package shopfile

import (
	"context"
	"database/sql"
	"fmt"
	"hash/maphash"
)

// state is what a shop file holds, as far as it takes to tell whether another is a later state of it.
type state struct {
	fault  error // it is not a sound shop file
	schema int64
	rows   map[rowKey]rowState
	gone   map[rowKey]int64
}

type rowKey struct{ table, id string }

// rowState is a row of some version. Sum stands for all that is in it.
type rowState struct {
	version int64
	sum     uint64
	long    bool
}

// longRow is a row of so many bytes that it may reach over several pages.
const longRow = 2000

var seed = maphash.MakeSeed()

// learn reads the state of a database, or gives the error that says what is wrong with it.
func (s *state) learn(ctx context.Context, db *sql.DB) error {
	var id int64
	if err := db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return err
	}
	if id != applicationID {
		return ErrNotShopFile
	}
	if err := db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&s.schema); err != nil {
		return err
	}
	if s.schema <= schemaVersion { // before anything that a stranger put in could act
		if err := strangers(ctx, db, s.schema); err != nil {
			return err
		}
	}
	found, err := keys(ctx, db, "PRAGMA integrity_check(1)")
	if err != nil {
		return err
	}
	if len(found) != 1 || found[0] != "ok" {
		return &damage{found}
	}
	if err := referencesHold(ctx, db); err != nil {
		return err
	}
	if s.schema != schemaVersion { // nothing more is known of an older or a newer one
		return nil
	}
	if err := tablesThere(ctx, db); err != nil {
		return err
	}
	if s.rows, err = rowStates(ctx, db); err != nil {
		return err
	}
	s.gone, err = goneRows(ctx, db)
	return err
}

// goneRows are the versions that rows had when they were removed.
func goneRows(ctx context.Context, r reader) (map[rowKey]int64, error) {
	rows, err := r.QueryContext(ctx, "SELECT table_name, row_id, version FROM gone")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[rowKey]int64{}
	for rows.Next() {
		var k rowKey
		var version int64
		if err := rows.Scan(&k.table, &k.id, &version); err != nil {
			return nil, fmt.Errorf("%w (in gone, %w)", ErrDamaged, err)
		}
		out[k] = version
	}
	return out, rows.Err()
}

// rowStates are all rows that carry a version.
func rowStates(ctx context.Context, r reader) (map[rowKey]rowState, error) {
	out := map[rowKey]rowState{}
	for _, t := range tables {
		err := eachRow(ctx, r, t, func(id string, version int64, values []any) {
			out[rowKey{t.name, id}] = rowState{version, sumOf(values), sizeOf(values) > longRow}
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// sumOf is the same for the same values, and hardly ever for others, while the program runs.
func sumOf(values []any) uint64 {
	var h maphash.Hash
	h.SetSeed(seed)
	for _, v := range values {
		switch v := v.(type) {
		case string: // the most of them
			h.WriteString(v)
		default:
			fmt.Fprintf(&h, "%T %v", v, v)
		}
		h.WriteByte(0)
	}
	return h.Sum64()
}

// sizeOf is about how many bytes a row takes.
func sizeOf(values []any) int {
	out := 0
	for _, v := range values {
		out += 9
		if s, ok := v.(string); ok {
			out += len(s)
		}
	}
	return out
}

// eachRow reads a table as the engine holds it. Values are those of the table's own columns.
func eachRow(ctx context.Context, r reader, t *table, row func(id string, version int64, values []any)) error {
	rows, err := r.QueryContext(ctx, t.selects)
	if err != nil {
		return err
	}
	defer rows.Close()
	var id string
	var version int64
	values := make([]any, len(t.columns))
	targets := []any{&id, &version}
	for i := range values {
		targets = append(targets, &values[i])
	}
	for rows.Next() {
		if err := rows.Scan(targets...); err != nil {
			return fmt.Errorf("%w (in %s, %w)", ErrDamaged, t.name, err)
		}
		row(id, version, values)
	}
	return rows.Err()
}

// follows tells whether this can be a later state of what before holds: no row has gone back to an older
// version, none is another at the same version, and none is gone without a trace. Before may be a file that
// a crash left half overwritten, in which a row over several pages can be half old and half new.
func (s state) follows(before state) bool {
	if s.schema != before.schema {
		return s.schema > before.schema
	}
	for k, was := range before.rows {
		is, there := s.rows[k]
		switch {
		case !there && s.gone[k] < was.version, there && is.version < was.version:
			return false
		case there && is.version == was.version && is.sum != was.sum && !is.long && !was.long:
			return false
		}
	}
	return true
}

// akin tells whether both can be states of one shop, as they have something in common, or one has nothing.
func (s state) akin(other state) bool {
	some, others := false, false
	for k := range other.rows {
		if len(k.id) < 36 { // not a key that was made for one row alone
			continue
		}
		others = true
		if _, there := s.rows[k]; there {
			return true
		}
	}
	for k := range s.rows {
		some = some || len(k.id) >= 36
	}
	return !some || !others
}
