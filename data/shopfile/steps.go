package shopfile

// keptSteps is how many steps back undo goes.
const keptSteps = 1000

// note writes into the undo log what was done to a row: its image before and after, "" for no row.
// A row changed twice in a step has one entry, from its first state to its last.
func (tx *Tx) note(t *table, id, was, became string) error {
	if tx.step == 0 {
		if err := tx.openStep(); err != nil {
			return err
		}
	}
	_, err := tx.exec(`INSERT INTO changes (step, table_name, row_id, was, became)
		VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (step, table_name, row_id) DO UPDATE SET became = excluded.became`,
		tx.step, t.name, id, was, became)
	return err
}

// openStep starts an undo step, or goes on with the last one when that has the same coalescing key and
// is fresh.
func (tx *Tx) openStep() error {
	var (
		last, at int64
		key      string
		now      = tx.now.UnixMilli()
	)
	found, err := tx.first("SELECT n, merge_key, written_at FROM steps ORDER BY n DESC LIMIT 1", nil, &last, &key, &at)
	if err != nil {
		return err
	}
	since := now - at // negative when the computer's clock was set back
	if found && tx.coalesce != "" && key == tx.coalesce && since >= 0 && since <= mergeWithin.Milliseconds() {
		tx.step, tx.merged = last, true
		return nil
	}
	tx.step = last + 1
	_, err = tx.exec("INSERT INTO steps (n, label, merge_key, written_at, undone) VALUES ($1, $2, $3, $4, 0)",
		tx.step, tx.label, tx.coalesce, now)
	return err
}

// closeStep ends the step of this transaction. Rows that came out as they went in are left out of it,
// and a step that changed nothing in the end is no step. After one that did, what was undone before
// cannot be redone, and steps too far back are forgotten.
func (tx *Tx) closeStep() error {
	if tx.step == 0 {
		return nil
	}
	if _, err := tx.exec("DELETE FROM changes WHERE step = $1 AND was = became", tx.step); err != nil {
		return err
	}
	var one int64
	left, err := tx.first("SELECT 1 FROM changes WHERE step = $1 LIMIT 1", []any{tx.step}, &one)
	if err != nil {
		return err
	}
	if !left {
		_, err = tx.exec("DELETE FROM steps WHERE n = $1", tx.step)
		return err
	}
	if tx.merged {
		_, err = tx.exec("UPDATE steps SET label = $2, written_at = $3 WHERE n = $1",
			tx.step, tx.label, tx.now.UnixMilli())
		return err
	}
	const old = "undone = 1 OR n <= $1"
	if _, err := tx.exec("DELETE FROM changes WHERE step IN (SELECT n FROM steps WHERE "+old+")", tx.step-keptSteps); err != nil {
		return err
	}
	_, err = tx.exec("DELETE FROM steps WHERE "+old, tx.step-keptSteps)
	return err
}
