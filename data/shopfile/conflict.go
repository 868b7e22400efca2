package shopfile

// Conflict says which thing was changed, added or removed by somebody else since it was read. It is an
// [ErrConflict]. Where it is about one row that can be settled, it says which and how both sides have it.
type Conflict struct {
	Thing  string // names it: the motor "Halvard 90, 2003"
	Reason string // what happened to it

	Row      Key          // zero where there is nothing to settle: what it belongs to is gone, or its like is there
	Version  int64        // of the row in the file, 0 when it is not there
	Removing bool         // what was to be done is to take the row out
	Based    bool         // it is known how the row stood when it was read
	Columns  []Difference // of which the two sides are different; none when one side has no row
}

// Key names a row.
type Key struct{ Table, ID string }

// Difference is what one column of a row was, and what two sides made of it, as values of Go: words,
// money.Amount, day.Day, costing.Hours, bool, numbers, lists.
type Difference struct {
	Name               string
	To                 string // the table whose row it names, "" for what speaks for itself
	Base, Mine, Theirs any    // Base is nil where the conflict is not Based
	ByMe, ByThem       bool   // who changed it since; both where that is not known
}

// Error is the whole sentence.
func (c *Conflict) Error() string { return c.Thing + " " + c.Reason }

// Is makes every Conflict an ErrConflict.
func (c *Conflict) Is(target error) bool { return target == ErrConflict }

// Removed tells whether the row is in the file no longer.
func (c *Conflict) Removed() bool { return c.Row != Key{} && c.Version == 0 }

// Seen is a row as it stood at some time.
type Seen struct {
	Version int64
	image   string
}

func seenAs(t *table, r row) (Seen, bool) {
	values, err := r.tryValues()
	if err != nil {
		return Seen{}, false
	}
	image, err := t.image(values)
	return Seen{*r.version, image}, err == nil
}

// Versions are those of every row of the contents.
func (c *Contents) Versions() map[Key]int64 {
	out := make(map[Key]int64, len(c.Records)*8)
	c.rows(func(t *table, r row) bool {
		out[Key{t.name, *r.id}] = *r.version
		return true
	})
	return out
}

// Find is the row of a key as the contents have it.
func (c *Contents) Find(k Key) (found Seen, ok bool) {
	c.rows(func(t *table, r row) bool {
		if *r.id != k.ID || t.name != k.Table {
			return true
		}
		found, ok = seenAs(t, r)
		return false
	})
	return found, ok
}

// Since gives the rows of the contents that are different or gone in later ones, as they stood.
func (c *Contents) Since(later *Contents) map[Key]Seen {
	now := later.Versions()
	out := map[Key]Seen{}
	c.rows(func(t *table, r row) bool {
		if now[Key{t.name, *r.id}] != *r.version {
			if s, ok := seenAs(t, r); ok {
				out[Key{t.name, *r.id}] = s
			}
		}
		return true
	})
	return out
}

// Wrote are the versions that this transaction gave to rows so far.
func (tx *Tx) Wrote() map[Key]int64 { return tx.wrote }

// Sight is what whoever writes had before them. The zero Sight is one who saw the file as it is.
type Sight struct {
	// Read gives a row as it was read at a version, for saying what became of it since; false when that
	// is not known any more.
	Read func(k Key, version int64) (Seen, bool)
	// Has gives the version that whoever writes knows a row by, for when it is to be taken out; nil is
	// whoever has looked at the file itself.
	Has func(Key) (version int64, ok bool)
	// Shown gives a row as it stands before the eyes of whoever writes, where it was read anew since. What
	// others changed in it since is not written over.
	Shown func(Key) (Seen, bool)
	// Settled are the rows that were chosen about.
	Settled map[Key]Choice
}

// Choice is what was chosen about a row that two sides changed. It holds for the version that was seen when
// choosing: when the row was changed again since, there is another [Conflict].
type Choice struct {
	Version int64
	Theirs  map[string]bool // the columns that are to be left as they are in the file
	Back    bool            // the row was removed and is to come back
}

// As makes the writes that follow those of one who had this before them.
func (tx *Tx) As(s Sight) { tx.sight = s }

// clash is the conflict about a row of which r is what was to be written. Theirs is nil when it is gone.
func (tx *Tx) clash(t *table, r row, theirs *row, seen Seen, based bool) error {
	c := &Conflict{Thing: r.name(), Reason: removedElsewhere, Row: Key{t.name, *r.id}, Based: based}
	if theirs == nil {
		return c
	}
	c.Thing, c.Reason, c.Version = theirs.name(), changedElsewhere, *theirs.version
	mine, err := r.values()
	if err != nil {
		return err
	}
	other, err := theirs.values()
	if err != nil {
		return err
	}
	base, was, err := t.asSeen(seen, based)
	if err != nil {
		return err
	}
	for i, name := range t.columns {
		if mine[i+2] == other[i+2] {
			continue
		}
		column := Difference{Name: name, To: t.refs[name], Mine: r.fields[i].held(), Theirs: theirs.fields[i].held(), ByMe: true, ByThem: true}
		if based {
			column.Base = base.fields[i].held()
			column.ByMe, column.ByThem = mine[i+2] != was[i+2], other[i+2] != was[i+2]
		}
		c.Columns = append(c.Columns, column)
	}
	return c
}

// asSeen is the row of its own that a Seen stands for, and its values.
func (t *table) asSeen(s Seen, known bool) (row, []any, error) {
	r := t.fresh()
	if !known {
		return r, nil, nil
	}
	if err := r.restore(s.image); err != nil {
		return r, nil, err
	}
	values, err := r.values()
	return r, values, err
}

// stale is the conflict about a row that was read at another version than it has.
func (tx *Tx) stale(t *table, r row, theirs *row) error {
	return tx.changedSince(t, r, theirs, *r.version)
}

func (tx *Tx) changedSince(t *table, r row, theirs *row, version int64) error {
	var seen Seen
	known := false
	if tx.sight.Read != nil {
		seen, known = tx.sight.Read(Key{t.name, *r.id}, version)
	}
	return tx.clash(t, r, theirs, seen, known)
}

// overlooked is the conflict about a column that others changed after it was shown to whoever changes it now.
func (tx *Tx) overlooked(t *table, r row, before *row, was, becomes []any) error {
	if tx.sight.Shown == nil {
		return nil
	}
	shown, ok := tx.sight.Shown(Key{t.name, *r.id})
	if !ok {
		return nil
	}
	_, base, err := t.asSeen(shown, true)
	if err != nil {
		return err
	}
	for i := range t.columns {
		if base[i+2] != was[i+2] && was[i+2] != becomes[i+2] {
			return tx.clash(t, r, before, shown, true)
		}
	}
	return nil
}

// removable makes sure that nobody changed what is to be taken out after it was last read here.
func (tx *Tx) removable(t *table, r row) error {
	key := Key{t.name, *r.id}
	if tx.sight.Has == nil || tx.wrote[key] == *r.version || tx.sight.Settled[key].Version == *r.version {
		return nil
	}
	version, ok := tx.sight.Has(key)
	if !ok || version == *r.version {
		return nil
	}
	return &Conflict{Thing: r.name(), Reason: changedElsewhere, Row: key, Version: *r.version, Removing: true}
}

// knownOf refuses to take something out together with a row that whoever does it has never seen as it is:
// another line on a motor that is to go. There is nothing to choose between but to look again.
func (tx *Tx) knownOf(t *table, r row) error {
	key := Key{t.name, *r.id}
	if tx.sight.Has == nil || tx.wrote[key] == *r.version {
		return nil
	}
	if version, ok := tx.sight.Has(key); ok && version == *r.version {
		return nil
	}
	return &Conflict{Thing: r.name(), Reason: changedElsewhere}
}

// settle makes the row what was chosen: of the version in the file, and with their columns where those were
// chosen. Before is the row as it stands in the file, nil when it does not. It tells whether there was a choice.
func (tx *Tx) settle(t *table, r row, before *row) (settled bool, err error) {
	key := Key{t.name, *r.id}
	choice, chosen := tx.sight.Settled[key]
	if !chosen {
		return false, nil
	}
	theirs, again := tx.settled[key]
	if !again {
		var version int64
		if before != nil {
			version = *before.version
		}
		if version != choice.Version || before == nil && !choice.Back {
			return true, tx.changedSince(t, r, before, choice.Version)
		}
		if before != nil {
			if theirs, err = before.values(); err != nil {
				return true, err
			}
		}
		if tx.settled == nil {
			tx.settled = map[Key][]any{}
		}
		tx.settled[key] = theirs
		*r.version = version
	}
	mine := t.fresh()
	values, err := r.values()
	if err != nil {
		return true, err
	}
	for i, name := range t.columns {
		if err := mine.fields[i].Scan(values[i+2]); err != nil {
			return true, err
		}
		if choice.Theirs[name] && theirs != nil {
			if err := r.fields[i].Scan(theirs[i+2]); err != nil {
				return true, err
			}
		}
	}
	tx.takeBack = append(tx.takeBack, func() { // as it was, should it have to be done once more
		for i := range r.fields {
			if v, err := mine.fields[i].value(); err == nil {
				_ = r.fields[i].Scan(v)
			}
		}
	})
	return true, nil
}

// InOrder says what in the records is not in order as they stand in this transaction, as [File.Check] does.
func (tx *Tx) InOrder() ([]string, error) {
	c, err := readAll(tx.quiet(), tx.sql)
	if err != nil {
		return nil, explain(tx.doing, err)
	}
	var out []string
	for _, fault := range recordFaults(c) {
		out = append(out, fault.String())
	}
	return out, nil
}
