package shopfile

import (
	"errors"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// conflictOf is the conflict that a write ended with.
func conflictOf(t *testing.T, err error) *Conflict {
	t.Helper()
	var c *Conflict
	if !errors.As(err, &c) {
		t.Fatalf("the error is %v, want a conflict", err)
	}
	return c
}

// asRead is the sight of somebody who read the shop as the contents have it.
func asRead(c Contents) Sight {
	return Sight{
		Read: func(k Key, version int64) (Seen, bool) {
			s, ok := c.Find(k)
			return s, ok && s.Version == version
		},
		Has: func(k Key) (int64, bool) { v, ok := c.Versions()[k]; return v, ok },
	}
}

// Both sides of a conflict are told, column by column, with who changed what since.
func TestAConflictHasBothSides(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		mine := saved(t, f)
		read := contents(t, f)
		theirs := mine
		theirs.Ask, theirs.Note, theirs.BoughtOn = 270000, "water pump squeals", day.Of(2026, 3, 1)
		write(t, f, "theirs", func(tx *Tx) error { return tx.PutRecord(&theirs) })
		mine.Ask, mine.Tag, mine.BoughtOn = 285000, "17", day.Of(2026, 3, 1)
		c := conflictOf(t, f.Write(t.Context(), "mine", "", func(tx *Tx) error {
			tx.As(asRead(read))
			return tx.PutRecord(&mine)
		}))
		if c.Row != (Key{"motors", mine.ID}) || c.Version != theirs.Version || !c.Based || c.Removed() || c.Removing {
			t.Errorf("the conflict is about %v at version %d, based %v", c.Row, c.Version, c.Based)
		}
		same(t, "differences", []Difference{
			{Name: "tag", Base: "", Mine: "17", Theirs: "", ByMe: true},
			{Name: "note", Base: "", Mine: "", Theirs: "water pump squeals", ByThem: true},
			{Name: "ask", Base: money.Amount(0), Mine: money.Amount(285000), Theirs: money.Amount(270000), ByMe: true, ByThem: true},
		}, c.Columns)

		// Who does not know how it stood has to look at everything.
		c = conflictOf(t, f.Write(t.Context(), "mine", "", func(tx *Tx) error { return tx.PutRecord(&mine) }))
		for _, d := range c.Columns {
			if c.Based || d.Base != nil || !d.ByMe || !d.ByThem {
				t.Errorf("without a base: %+v", d)
			}
		}
	})
}

// What was chosen is written over the version that was seen when choosing, and over no other.
func TestAConflictIsSettledByColumn(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		mine := saved(t, f)
		theirs := mine
		theirs.Ask, theirs.Note = 270000, "water pump squeals"
		write(t, f, "theirs", func(tx *Tx) error { return tx.PutRecord(&theirs) })
		mine.Ask, mine.Tag = 285000, "17"
		change := func(tx *Tx) error { return tx.PutRecord(&mine) }
		c := conflictOf(t, f.Write(t.Context(), "mine", "", change))
		settle := func(c *Conflict) error {
			return f.Write(t.Context(), "both", "", func(tx *Tx) error {
				tx.As(Sight{Settled: map[Key]Choice{c.Row: {Version: c.Version, Theirs: map[string]bool{"note": true}}}})
				return change(tx)
			})
		}
		third := theirs
		third.Stand = "by the door"
		write(t, f, "third", func(tx *Tx) error { return tx.PutRecord(&third) })
		c = conflictOf(t, settle(c))
		if c.Version != third.Version || mine.Version != 1 || mine.Note != "" {
			t.Errorf("after a third change: version %d seen, %d held, note %q", c.Version, mine.Version, mine.Note)
		}
		must(t, f.Write(t.Context(), "both", "", func(tx *Tx) error {
			tx.As(Sight{Settled: map[Key]Choice{c.Row: {Version: c.Version, Theirs: map[string]bool{"note": true, "stand": true}}}})
			return change(tx)
		}))
		got, err := f.Record(t.Context(), mine.ID)
		must(t, err)
		want := third
		want.Ask, want.Tag, want.Version = 285000, "17", third.Version+1
		same(t, "motor", want, got)
		if label, _ := f.Undo(t.Context()); label != "both" {
			t.Errorf("undo takes back %q", label)
		}
		got, err = f.Record(t.Context(), mine.ID)
		must(t, err)
		if got.Ask != 270000 || got.Tag != "" || got.Stand != "by the door" {
			t.Errorf("undone it is %+v", got)
		}
	})
}

func TestARemovedRowComesBackWhenChosen(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		l := costing.Line{Kind: costing.PartNew, Text: "impeller", Total: 1450, MotorID: r.ID}
		write(t, f, "a line", func(tx *Tx) error { return tx.PutLine(&l) })
		write(t, f, "theirs", func(tx *Tx) error { return tx.DeleteLine(l.ID) })
		l.Total = 1650
		change := func(tx *Tx) error { return tx.PutLine(&l) }
		c := conflictOf(t, f.Write(t.Context(), "mine", "", change))
		if !c.Removed() || c.Row != (Key{"lines", l.ID}) {
			t.Fatalf("the conflict is %+v", c)
		}
		back := func(tx *Tx) error {
			tx.As(Sight{Settled: map[Key]Choice{c.Row: {Back: true}}})
			return change(tx)
		}
		must(t, f.Write(t.Context(), "back", "", back))
		got := contents(t, f).Records[0].Lines
		if len(got) != 1 || got[0].Total != 1650 || got[0].Version <= 1 {
			t.Errorf("the lines are %+v", got)
		}
		// Its motor went with it: there is nothing to come back to.
		held := got[0]
		write(t, f, "their motor", func(tx *Tx) error { return tx.DeleteRecord(r.ID) })
		l = held
		l.Total = 1850
		err := f.Write(t.Context(), "back", "", back)
		wantError(t, err, ErrConflict)
		if c := conflictOf(t, err); c.Row != (Key{}) {
			t.Errorf("it offers to settle %+v", c)
		}
	})
}

// What others changed after it was shown is not written over, though the row was read anew since.
func TestWhatIsShownIsNotWrittenOver(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		before := contents(t, f)
		shown, ok := before.Find(Key{"motors", r.ID})
		if !ok {
			t.Fatal("the motor is not found")
		}
		r.Ask = 270000
		write(t, f, "theirs", func(tx *Tx) error { return tx.PutRecord(&r) })
		after := contents(t, f)
		if since := before.Since(&after); len(since) != 1 || since[Key{"motors", r.ID}] != shown {
			t.Errorf("changed since: %+v", since)
		}
		as := func(change func(*costing.Record)) error {
			again := r
			change(&again)
			return f.Write(t.Context(), "mine", "", func(tx *Tx) error {
				tx.As(Sight{Shown: func(Key) (Seen, bool) { return shown, true }})
				return tx.PutRecord(&again)
			})
		}
		c := conflictOf(t, as(func(r *costing.Record) { r.Ask = 285000 }))
		if !c.Based || len(c.Columns) != 1 || c.Columns[0].Base != money.Amount(0) || c.Columns[0].Theirs != money.Amount(270000) {
			t.Errorf("the conflict is %+v", c)
		}
		must(t, as(func(r *costing.Record) { r.Note = "of another column" }))
	})
}

func TestWhatOthersChangedIsNotTakenOut(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		l := costing.Line{Kind: costing.PartNew, Text: "impeller", Total: 1450, MotorID: r.ID}
		write(t, f, "a line", func(tx *Tx) error { return tx.PutLine(&l) })
		read := contents(t, f)
		l.Total = 1650
		write(t, f, "theirs", func(tx *Tx) error { return tx.PutLine(&l) })
		remove := func(s Sight, do func(tx *Tx) error) error {
			return f.Write(t.Context(), "mine", "", func(tx *Tx) error { tx.As(s); return do(tx) })
		}
		deleteLine := func(tx *Tx) error { return tx.DeleteLine(l.ID) }
		c := conflictOf(t, remove(asRead(read), deleteLine))
		if !c.Removing || c.Row != (Key{"lines", l.ID}) || c.Version != l.Version {
			t.Errorf("the conflict is %+v", c)
		}
		// A motor does not take along what was never seen on it.
		wantError(t, remove(asRead(read), func(tx *Tx) error { return tx.DeleteRecord(r.ID) }), ErrConflict)
		settled := asRead(read)
		settled.Settled = map[Key]Choice{c.Row: {Version: c.Version}}
		must(t, remove(settled, deleteLine))
		must(t, remove(asRead(contents(t, f)), func(tx *Tx) error { return tx.DeleteRecord(r.ID) }))
	})
}

// The one walk finds every row: as many as the tables hold.
func TestTheWalkMissesNoRow(t *testing.T) {
	f := fresh(t)
	r := saved(t, f)
	write(t, f, "some of all", func(tx *Tx) error {
		s := costing.DefaultSettings()
		return firstError(
			func() error { return tx.PutSettings(&s) },
			func() error {
				return tx.PutGuess(&costing.Guess{MotorID: r.ID, Doubt: costing.DoubtKeys[0], Case: costing.CaseKeys[0], Tenths: 3})
			},
			func() error {
				return tx.PutSnag(&costing.Snag{MotorID: r.ID, Kind: costing.SnagKinds[0], Text: "stud"})
			},
			func() error { return tx.PutSale(r.ID, &costing.Sale{Sold: day.Of(2026, 5, 1)}) },
			func() error { return tx.PutRate(&costing.Rate{From: day.Of(2026, 1, 1), Each: 2500}) })
	})
	c := contents(t, f)
	versions := c.Versions()
	rows := 0
	for _, table := range tables {
		var n int
		must(t, f.db.QueryRow("SELECT count(*) FROM "+table.name).Scan(&n))
		rows += n
	}
	if len(versions) != rows {
		t.Errorf("the walk goes through %d rows, the tables hold %d", len(versions), rows)
	}
	for k := range versions {
		if s, ok := c.Find(k); !ok || s.Version != versions[k] {
			t.Errorf("%v is not found", k)
		}
	}
}
