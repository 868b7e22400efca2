package shopfile

import (
	"errors"
	"strings"
	"testing"
	"time"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

func halvard() costing.Record {
	return costing.Record{Stage: costing.Bench, Motor: valuation.Motor{Make: "Halvard", Power: 90, Year: 2003}}
}

// saved puts a motor into the file.
func saved(t failer, f *File) costing.Record {
	t.Helper()
	r := halvard()
	write(t, f, "a motor", func(tx *Tx) error { return tx.PutRecord(&r) })
	return r
}

func TestAStaleVersionIsRefusedByName(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		mine := saved(t, f)
		theirs := mine
		theirs.Ask = 200
		write(t, f, "their price", func(tx *Tx) error { return tx.PutRecord(&theirs) })
		mine.Ask = 100
		err := f.Write(t.Context(), "my price", "", func(tx *Tx) error { return tx.PutRecord(&mine) })
		wantError(t, err, ErrConflict)
		want := `the motor "Halvard 90, 2003" was changed elsewhere meanwhile: look at it again before changing it`
		if err.Error() != want {
			t.Errorf("the error is %q, want %q", err, want)
		}
		if mine.Version != 1 {
			t.Errorf("the refused record has version %d", mine.Version)
		}
		got, err := f.Record(t.Context(), mine.ID)
		must(t, err)
		same(t, "motor", theirs, got)
	})
}

func TestConflictsNameTheThing(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		good := costing.Good{Name: "two-stroke oil"}
		line := costing.Line{Kind: costing.PartNew, Text: "impeller", MotorID: r.ID}
		write(t, f, "set up", func(tx *Tx) error {
			return firstError(func() error { return tx.PutGood(&good) }, func() error { return tx.PutLine(&line) },
				func() error {
					return tx.PutSale(r.ID, &costing.Sale{Sold: day.Of(2026, 5, 1), Price: 100, Source: "file 1 row 2"})
				},
				func() error { return tx.PutMove(&costing.Move{GoodID: good.ID, Kind: costing.Bought}) },
				func() error { s := costing.DefaultSettings(); return tx.PutSettings(&s) })
		})
		gone := NewID()
		for _, c := range []struct {
			name string
			do   func(tx *Tx) error
			is   error
			want string
		}{
			{"stale line", func(tx *Tx) error { l := line; l.Version = 7; return tx.PutLine(&l) }, ErrConflict,
				`the line "impeller" was changed elsewhere meanwhile: look at it again before changing it`},
			{"line removed", func(tx *Tx) error { l := line; l.ID = gone; return tx.PutLine(&l) }, ErrConflict,
				`the line "impeller" was removed elsewhere meanwhile`},
			{"key taken", func(tx *Tx) error { l := line; l.Version = 0; return tx.PutLine(&l) }, ErrConflict,
				`the line "impeller" is in the shop file already`},
			{"motor removed", func(tx *Tx) error {
				return tx.PutLine(&costing.Line{Kind: costing.Trip, Text: "fetch it", MotorID: gone})
			}, ErrConflict, `the motor that the line "fetch it" belongs to was removed elsewhere meanwhile`},
			{"good removed", func(tx *Tx) error { return tx.PutMove(&costing.Move{GoodID: gone, Kind: costing.Bought}) }, ErrConflict,
				`the shelf good that the shelf entry "bought" belongs to was removed elsewhere meanwhile`},
			{"second sale", func(tx *Tx) error { return tx.PutSale(r.ID, &costing.Sale{Sold: day.Of(2026, 6, 1)}) }, ErrConflict,
				`the sale "2026-06-01" is in the shop file already`},
			{"same source", func(tx *Tx) error {
				other := halvard()
				must(t, tx.PutRecord(&other))
				return tx.PutSale(other.ID, &costing.Sale{Sold: day.Of(2026, 6, 1), Source: "file 1 row 2"})
			}, ErrConflict, `the sale "2026-06-01" is in the shop file already`},
			{"settings", func(tx *Tx) error { s := costing.DefaultSettings(); return tx.PutSettings(&s) }, ErrConflict,
				`the settings page was changed elsewhere meanwhile: look at it again before changing it`},
			{"remove what is not there", func(tx *Tx) error { return tx.DeleteLine(gone) }, ErrNotFound,
				`remove the line: it is not in the shop file`},
			{"remove a motor that is not there", func(tx *Tx) error { return tx.DeleteRecord(gone) }, ErrNotFound,
				`remove the motor: it is not in the shop file`},
			{"remove a sale that is not there", func(tx *Tx) error { return tx.DeleteSale(gone) }, ErrNotFound,
				`remove the sale: it is not in the shop file`},
			{"remove a good in use", func(tx *Tx) error { return tx.DeleteGood(good.ID) }, ErrInUse,
				`remove the shelf good "two-stroke oil": a shelf entry needs it`},
			{"read what is not there", func(tx *Tx) error { _, err := tx.Record(gone); return err }, ErrNotFound,
				`read a motor: it is not in the shop file`},
			{"no label", nil, nil, `save a change: it has no name to undo it by`},
		} {
			t.Run(c.name, func(t *testing.T) {
				before := contents(t, f)
				label := "a change"
				if c.do == nil {
					label = ""
				}
				err := f.Write(t.Context(), label, "", c.do)
				if err == nil || (c.is != nil && !errors.Is(err, c.is)) || err.Error() != c.want {
					t.Errorf("the error is %q, want %q", err, c.want)
				}
				same(t, "shop", before, contents(t, f))
			})
		}
	})
}

// After an undo and a redo the row is as it was, yet whoever read it before must look again.
func TestVersionsMoveForwardThroughUndo(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		first := r
		r.Ask = 300
		write(t, f, "price", func(tx *Tx) error { return tx.PutRecord(&r) })
		second := r
		last := second.Version
		for range 3 {
			for _, turn := range []func() (string, error){
				func() (string, error) { return f.Undo(t.Context()) },
				func() (string, error) { return f.Redo(t.Context()) },
			} {
				_, err := turn()
				must(t, err)
				got, err := f.Record(t.Context(), r.ID)
				must(t, err)
				if got.Version <= last {
					t.Fatalf("the version went from %d to %d", last, got.Version)
				}
				last = got.Version
			}
		}
		for _, stale := range []costing.Record{first, second} {
			stale.Tag = "mine"
			err := f.Write(t.Context(), "stale", "", func(tx *Tx) error { return tx.PutRecord(&stale) })
			wantError(t, err, ErrConflict)
		}
	})
}

// A removed motor that comes back by undo has a version above all it had, and so has one entered again
// under its old key.
func TestVersionsOutliveRemoval(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		r.Ask = 1
		write(t, f, "price", func(tx *Tx) error { return tx.PutRecord(&r) })
		write(t, f, "remove", func(tx *Tx) error { return tx.DeleteRecord(r.ID) })
		again := halvard()
		again.ID = r.ID
		write(t, f, "enter again", func(tx *Tx) error { return tx.PutRecord(&again) })
		if again.Version != r.Version+1 {
			t.Errorf("entered again the motor has version %d, want %d", again.Version, r.Version+1)
		}
		wantError(t, f.Write(t.Context(), "stale", "", func(tx *Tx) error { r.Ask = 2; return tx.PutRecord(&r) }), ErrConflict)
		for range 2 {
			_, err := f.Undo(t.Context())
			must(t, err)
		}
		got, err := f.Record(t.Context(), r.ID)
		must(t, err)
		if got.Version <= again.Version || got.Ask != 1 {
			t.Errorf("brought back the motor has version %d and asks %d, want more than %d and 1", got.Version, got.Ask, again.Version)
		}
	})
}

// What changed by other means than a step, say a hand in the database, is never overwritten by undo.
func TestUndoRefusesWhatWasChangedSince(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		for _, c := range []struct{ name, statement, want string }{
			{"changed", "UPDATE motors SET ask = 999, version = version + 1",
				`the motor "Halvard 90, 2003" was changed elsewhere meanwhile: look at it again before changing it`},
			{"changed without a version", "UPDATE motors SET note = 'by hand'",
				`the motor "Halvard 90, 2003" was changed elsewhere meanwhile: look at it again before changing it`},
			{"removed", "DELETE FROM motors", `the motor "Halvard 90, 2003" was removed elsewhere meanwhile`},
		} {
			t.Run(c.name, func(t *testing.T) {
				f := fresh(t)
				r := saved(t, f)
				good := costing.Good{Name: "oil"}
				r.Ask = 100
				write(t, f, "price and oil", func(tx *Tx) error {
					return firstError(func() error { return tx.PutGood(&good) }, func() error { return tx.PutRecord(&r) })
				})
				byHand(t, f, c.statement)
				before := contents(t, f)
				_, err := f.Undo(t.Context())
				wantError(t, err, ErrConflict)
				if err.Error() != c.want {
					t.Errorf("the error is %q, want %q", err, c.want)
				}
				same(t, "shop", before, contents(t, f))
				label, err := f.UndoLabel(t.Context())
				must(t, err)
				wantLabel(t, "to undo", label, "price and oil")
			})
		}
	})
}

func TestRedoRefusesWhatWasChangedSince(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		r.Ask = 100
		write(t, f, "price", func(tx *Tx) error { return tx.PutRecord(&r) })
		_, err := f.Undo(t.Context())
		must(t, err)
		byHand(t, f, "UPDATE motors SET ask = 999")
		_, err = f.Redo(t.Context())
		wantError(t, err, ErrConflict)
	})
}

func TestAFailedWriteLeavesNothing(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		kept := saved(t, f)
		before := contents(t, f)
		var added costing.Record
		var sale costing.Sale
		changed := kept
		attempt := func(end func() error) error {
			return f.Write(t.Context(), "half done", "", func(tx *Tx) error {
				added = halvard()
				changed.Ask++
				must(t, tx.PutRecord(&added))
				must(t, tx.PutSale(added.ID, &sale))
				must(t, tx.PutRecord(&changed))
				must(t, tx.PutPreference("width", "1"))
				return end()
			})
		}
		changedMind := errors.New("changed my mind")
		wantError(t, attempt(func() error { return changedMind }), changedMind)
		func() {
			defer func() {
				if recover() == nil {
					t.Error("the panic was swallowed")
				}
			}()
			_ = attempt(func() error { panic("in the middle") })
		}()
		if added.ID != "" || added.Version != 0 || sale.ID != "" || sale.Version != 0 || changed.Version != kept.Version {
			t.Errorf("the structs kept keys or versions of what was not saved: %q %d, %q %d, %d", added.ID, added.Version,
				sale.ID, sale.Version, changed.Version)
		}
		same(t, "shop", before, contents(t, f))
		width, err := f.Preference(t.Context(), "width")
		must(t, err)
		wantLabel(t, "kept as a preference", width, "")
		label, err := f.UndoLabel(t.Context())
		must(t, err)
		wantLabel(t, "to undo", label, "a motor")
		changed.Ask = 5 // the struct may be used again
		write(t, f, "price", func(tx *Tx) error { return tx.PutRecord(&changed) })
	})
}

// A program that overlooks an error of the store must not save a change that cannot be undone.
func TestAnOverlookedErrorSavesNothing(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		if IsServer(f.Path()) {
			byHand(t, f, "CREATE FUNCTION full_log() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE 'no room'; END $$",
				"CREATE TRIGGER full_log BEFORE INSERT ON changes FOR EACH ROW EXECUTE FUNCTION full_log()")
		} else {
			byHand(t, f, "CREATE TRIGGER full_log BEFORE INSERT ON changes BEGIN SELECT RAISE(FAIL, 'no room'); END")
		}
		err := f.Write(t.Context(), "a motor", "", func(tx *Tx) error {
			r := halvard()
			if tx.PutRecord(&r) == nil {
				t.Error("the failing log was not noticed")
			}
			return nil
		})
		if err == nil || !strings.Contains(err.Error(), "no room") {
			t.Errorf("the error is %v, want the log's", err)
		}
		if n := len(contents(t, f).Records); n != 0 {
			t.Errorf("%d motors were saved without a note in the undo log", n)
		}
	})
}

func TestTypingIsOneStep(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		clock := newClock()
		f := fresh(t, WithClock(clock.now))
		r := saved(t, f)
		typing := func(price money.Amount, key string, pause time.Duration) {
			clock.move(pause)
			r.Ask = price
			must(t, f.Write(t.Context(), "price", key, func(tx *Tx) error { return tx.PutRecord(&r) }))
		}
		for _, price := range []money.Amount{2, 28, 285, 2850} {
			typing(price, "ask "+r.ID, 2*time.Second)
		}
		typing(7, "ask "+r.ID, 4*time.Second) // a thought later
		typing(8, "", 0)
		typing(9, "", 0)
		for _, want := range []money.Amount{8, 7, 2850, 0} {
			_, err := f.Undo(t.Context())
			must(t, err)
			got, err := f.Record(t.Context(), r.ID)
			must(t, err)
			if got.Ask != want {
				t.Fatalf("undo leads to a price of %d, want %d", got.Ask, want)
			}
		}
	})
}

// Two thousand changes take long enough once. What forgets old steps runs after every write, on both
// engines.
func TestUndoGoesBackAThousandSteps(t *testing.T) {
	f := hurried(t, fresh(t))
	r := saved(t, f)
	for i := range keptSteps + 5 {
		r.Ask = money.Amount(i + 1)
		write(t, f, "price", func(tx *Tx) error { return tx.PutRecord(&r) })
	}
	undone := 0
	for {
		_, err := f.Undo(t.Context())
		if errors.Is(err, ErrNothingToUndo) {
			break
		}
		must(t, err)
		undone++
	}
	if undone != keptSteps {
		t.Errorf("%d steps were undone, want %d", undone, keptSteps)
	}
	got, err := f.Record(t.Context(), r.ID)
	must(t, err)
	if got.Ask != 5 {
		t.Errorf("the oldest price kept is %d, want 5", got.Ask)
	}
}
