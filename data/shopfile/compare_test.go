package shopfile

import (
	"path/filepath"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/say"
)

func TestCheckComparesWithTheUndoLog(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		for _, c := range []wrong{
			{"a digit", []string{"UPDATE motors SET powerhead_number = '12', note = 'x' WHERE stage = 'bench'"},
				[]string{`The motor "Halvard 90, 2003" is not as it was saved last; different is: note, powerhead number.`}},
			{"a row less", []string{"DELETE FROM sessions"},
				[]string{`The time worked was saved and never removed, but is not there.`}},
			{"a step undone", nil, nil},
		} {
			t.Run(c.name, func(t *testing.T) {
				f, r, _ := aShop(t, fresh)
				write(t, f, "a price", func(tx *Tx) error { r.Ask = 7; return tx.PutRecord(&r) })
				write(t, f, "another", func(tx *Tx) error { r.Ask = 8; return tx.PutRecord(&r) })
				for range 2 { // what could be redone counts as little as what was
					_, err := f.Undo(t.Context())
					must(t, err)
				}
				byHand(t, f, c.hand...)
				c.checked(t, f)
			})
		}
	})
}

func TestAFileIsComparedWithItsCopy(t *testing.T) {
	f, r, _ := aShop(t, fresh)
	write(t, f, "a photo", func(tx *Tx) error {
		_, err := tx.KeepPicture("", []byte("whole"), []byte("small"))
		return err
	})
	write(t, f, "a price", func(tx *Tx) error { r.Ask = 7; return tx.PutRecord(&r) })
	path := filepath.Join(t.TempDir(), "copy")
	must(t, f.CopyTo(t.Context(), path))
	compared := func(want ...string) {
		t.Helper()
		found, told, err := f.UnlikeCopy(t.Context(), path, "today")
		must(t, err)
		if !told {
			t.Error("nothing could be told")
		}
		same(t, "comparison", want, say.Strings(found))
	}
	compared()

	write(t, f, "a price", func(tx *Tx) error { r.Ask = 8; return tx.PutRecord(&r) }) // in order
	s := costing.Session{MotorID: r.ID, Time: costing.Hour}
	write(t, f, "time", func(tx *Tx) error { return tx.PutSession(&s) })
	write(t, f, "no time", func(tx *Tx) error { return tx.DeleteSession(s.ID) })
	compared()

	byHand(t, f, "UPDATE lines SET total = total + 1", "DELETE FROM sessions", "UPDATE pictures SET small = 'c21hbG0='")
	compared(`The line "gear oil" is not as in the copy made today, although nobody changed it since; different is: total.`,
		`The time worked is in the copy made today and was never removed, but is not there.`,
		`Pictures that are not as in the copy made today: 1.`)
}

func TestACopyThatWentOnApartTellsNothing(t *testing.T) {
	f, r, _ := aShop(t, fresh)
	path := filepath.Join(t.TempDir(), "copy")
	must(t, f.CopyTo(t.Context(), path))
	c, err := Open(t.Context(), path)
	must(t, err)
	theirs, err := c.Record(t.Context(), r.ID)
	must(t, err)
	write(t, c, "theirs", func(tx *Tx) error { theirs.Ask = 7; return tx.PutRecord(&theirs) })
	must(t, c.Close())
	found, told, err := f.UnlikeCopy(t.Context(), path, "today")
	if told || err != nil || len(found) > 0 {
		t.Errorf("a later copy tells %v, %v, %v", told, found, err)
	}
	write(t, f, "mine", func(tx *Tx) error { r.Ask = 8; r.Note = "mine"; return tx.PutRecord(&r) })
	byHand(t, f, "UPDATE steps SET written_at = written_at - 1000")
	if found, told, err = f.UnlikeCopy(t.Context(), path, "today"); told || err != nil || len(found) > 0 {
		t.Errorf("a copy that went on apart tells %v, %v, %v", told, found, err)
	}
}
