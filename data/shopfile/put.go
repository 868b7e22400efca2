package shopfile

import (
	"errors"
	"fmt"
	"slices"
)

// load reads the row of that key; false when there is none.
func (tx *Tx) load(t *table, id string) (row, bool, error) {
	r := t.fresh()
	found, err := tx.first(t.selects+" WHERE id = $1", []any{id}, r.targets()...)
	return r, found, err
}

// put writes a row: a new one when its version is 0, otherwise the next version of the one it was read
// from. It is the only way rows of the tables change but for [Tx.drop] and undo itself.
func (tx *Tx) put(t *table, r row) error {
	if err := tx.ctx.Err(); err != nil {
		return err
	}
	id, version := *r.id, *r.version
	tx.takeBack = append(tx.takeBack, func() { *r.id, *r.version = id, version })
	err := tx.write(t, r)
	if err != nil {
		*r.id, *r.version = id, version
		return explain(tx.doing, err)
	}
	if tx.wrote == nil {
		tx.wrote = map[Key]int64{}
	}
	tx.wrote[Key{t.name, *r.id}] = *r.version
	return nil
}

func (tx *Tx) write(t *table, r row) error {
	if *r.version == 0 {
		return tx.writeNew(t, r)
	}
	before, found, err := tx.load(t, *r.id)
	if err != nil {
		return err
	}
	var there *row
	if found {
		there = &before
	}
	settled, err := tx.settle(t, r, there)
	switch {
	case err != nil:
		return err
	case !found && settled:
		return tx.writeNew(t, r)
	case !found || *before.version != *r.version:
		return tx.stale(t, r, there)
	}
	was, err := before.values()
	if err != nil {
		return err
	}
	values, err := r.values()
	if err != nil {
		return err
	}
	imageWas, err := t.image(was)
	if err != nil {
		return err
	}
	image, err := t.image(values)
	if err != nil || imageWas == image {
		return err
	}
	if !settled {
		if err := tx.overlooked(t, r, there, was, values); err != nil {
			return err
		}
	}
	if err := tx.fits(t, r, values); err != nil {
		return err
	}
	*r.version++
	values[1] = *r.version
	touched, err := tx.exec(t.update, append(values, *before.version)...)
	if err != nil {
		return err
	}
	if touched != 1 { // only where others may write between our reading and our writing
		return tx.stale(t, r, there)
	}
	return tx.note(t, *r.id, imageWas, image)
}

func (tx *Tx) writeNew(t *table, r row) error {
	*r.version = 1
	if *r.id == "" {
		*r.id = NewID()
	} else {
		if there, err := tx.has(t.name, *r.id); err != nil {
			return err
		} else if there {
			return &Conflict{Thing: r.name(), Reason: t.again()}
		}
		last, err := tx.lastVersion(t, *r.id)
		if err != nil {
			return err
		}
		*r.version += last
	}
	values, err := r.values()
	if err != nil {
		return err
	}
	became, err := t.image(values)
	if err != nil {
		return err
	}
	if err := tx.fits(t, r, values); err != nil {
		return err
	}
	if _, err := tx.exec(t.insert, values...); err != nil {
		return err
	}
	tx.known[t.name+" "+*r.id] = true
	return tx.note(t, *r.id, "", became)
}

// fits checks what the row refers to and what it may share with no other, for the sake of a sentence
// that names them; the schema holds the same rules.
func (tx *Tx) fits(t *table, r row, values []any) error {
	for i, column := range t.columns {
		v, _ := values[i+2].(string)
		if v == "" {
			continue
		}
		if parent := t.refs[column]; parent != "" {
			there, err := tx.has(parent, v)
			if err != nil {
				return err
			}
			if !there {
				return &Conflict{Thing: "the " + tableNamed(parent).thing + " that " + r.name() + " belongs to", Reason: removedElsewhere}
			}
		}
	}
	for _, column := range t.unique {
		v := values[2+slices.Index(t.columns, column)]
		if v == "" || v == nil {
			continue
		}
		var other string // "<> ''" lets the query go by an index that leaves those rows out
		taken, err := tx.first("SELECT id FROM "+t.name+" WHERE "+column+" = $1 AND "+column+" <> '' AND id <> $2",
			[]any{v, *r.id}, &other)
		if err != nil {
			return err
		}
		if taken {
			return &Conflict{Thing: r.name(), Reason: alreadyThere}
		}
	}
	return nil
}

// has tells whether a row is there, asking the database once a transaction.
func (tx *Tx) has(table, id string) (bool, error) {
	key := table + " " + id
	if tx.known[key] {
		return true, nil
	}
	var one int64
	there, err := tx.first("SELECT 1 FROM "+table+" WHERE id = $1", []any{id}, &one)
	if there {
		tx.known[key] = true
	}
	return there, err
}

func (tx *Tx) imageOf(t *table, r row) (string, error) {
	values, err := r.values()
	if err != nil {
		return "", err
	}
	return t.image(values)
}

// drop removes a row that nothing else needs.
func (tx *Tx) drop(t *table, id string) error {
	if err := tx.ctx.Err(); err != nil {
		return err
	}
	return explain(tx.doing, func() error {
		r, found, err := tx.load(t, id)
		if err != nil {
			return err
		}
		if !found {
			return told{fmt.Errorf("remove the %s: %w", t.thing, ErrNotFound)}
		}
		if err := tx.removable(t, r); err != nil {
			return err
		}
		for _, other := range tables {
			for column, parent := range other.refs {
				if parent != t.name {
					continue
				}
				var user string
				used, err := tx.first("SELECT id FROM "+other.name+" WHERE "+column+" = $1", []any{id}, &user)
				if err != nil {
					return err
				}
				if used {
					return &trouble{"remove " + r.name(), errors.New("a " + other.thing + " needs it"), ErrInUse}
				}
			}
		}
		return tx.dropLoaded(t, r)
	}())
}

func (tx *Tx) dropLoaded(t *table, r row) error {
	was, err := tx.imageOf(t, r)
	if err != nil {
		return err
	}
	if err := tx.takeOut(t, r); err != nil {
		return err
	}
	return tx.note(t, *r.id, was, "")
}

// dropWhere removes every row of a table whose column holds the key.
func (tx *Tx) dropWhere(t *table, column, id string) error {
	ids, err := keys(tx.quiet(), tx.sql, "SELECT id FROM "+t.name+" WHERE "+column+" = $1 ORDER BY id", id)
	if err != nil {
		return err
	}
	for _, each := range ids {
		r, found, err := tx.load(t, each)
		if err != nil || !found {
			return err
		}
		if err := tx.knownOf(t, r); err != nil {
			return err
		}
		if err := tx.dropLoaded(t, r); err != nil {
			return err
		}
	}
	return nil
}

// takeOut removes a row and keeps its version in mind. A row that comes back under its key, by undo or
// entered again, goes on counting from there: who still holds the old one is refused.
func (tx *Tx) takeOut(t *table, r row) error {
	if _, err := tx.exec(t.remove, *r.id); err != nil {
		return err
	}
	delete(tx.known, t.name+" "+*r.id)
	_, err := tx.exec(`INSERT INTO gone (table_name, row_id, version) VALUES ($1, $2, $3)
		ON CONFLICT (table_name, row_id) DO UPDATE SET version = excluded.version`, t.name, *r.id, *r.version)
	return err
}

// lastVersion is the version that a row had when it was last removed, 0 when it never was.
func (tx *Tx) lastVersion(t *table, id string) (int64, error) {
	var v int64
	_, err := tx.first("SELECT version FROM gone WHERE table_name = $1 AND row_id = $2", []any{t.name, id}, &v)
	return v, err
}
