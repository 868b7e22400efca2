package shopfile

import (
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"skegworth/costing"
)

// remains are the file and its journals as a program leaves them that is killed at this moment.
type remains map[string][]byte

func killed(t testing.TB, f *File) remains {
	t.Helper()
	out := remains{}
	for _, end := range append([]string{""}, journals...) {
		data, err := os.ReadFile(f.Path() + end)
		if err == nil {
			out[end] = data
		} else if end == "" {
			t.Fatal(err)
		}
	}
	return out
}

// laid puts remains into a folder of their own.
func (r remains) laid(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop")
	for end, data := range r {
		must(t, os.WriteFile(path+end, data, 0o600))
	}
	return path
}

// unsettled is a shop file whose changes since it was opened all lie in its log.
func unsettled(t testing.TB, path string) *File {
	t.Helper()
	f, err := Open(t.Context(), path)
	must(t, err)
	t.Cleanup(func() { _ = f.Close() })
	f.db.SetMaxOpenConns(1)
	byHand(t, f, "PRAGMA wal_autocheckpoint = 0")
	return f
}

// busyDay changes a shop here and there: motors come, go, are written about at length, and change.
func busyDay(t testing.TB, f *File, r *rand.Rand, changes int) {
	t.Helper()
	for range changes {
		c := contents(t, f)
		write(t, f, "a change", func(tx *Tx) error {
			if len(c.Records) < 2 || r.IntN(3) == 0 {
				m := halvard()
				m.Note = fmt.Sprint(r.IntN(1000))
				if r.IntN(4) == 0 {
					m.Note = fmt.Sprintf("%09000d", r.IntN(1000)) // over several pages
				}
				if err := tx.PutRecord(&m); err != nil {
					return err
				}
				return tx.PutLine(&costing.Line{MotorID: m.ID, Kind: costing.Purchase, Total: 100})
			}
			m := c.Records[r.IntN(len(c.Records))]
			if r.IntN(4) == 0 {
				return tx.DeleteRecord(m.ID)
			}
			m.Note = fmt.Sprintf("%0*d", []int{5, 50, 500, 5000}[r.IntN(4)], r.IntN(1000))
			m.Ask++
			return tx.PutRecord(&m)
		})
		if r.IntN(5) == 0 {
			_, err := f.Undo(t.Context())
			must(t, err)
		}
	}
}

// halfway lays some of the pages of the log over the file, as a checkpoint does that is cut off.
func (r remains) halfway(random *rand.Rand) remains {
	const header, frameHeader = 32, 24
	wal, file := r["-wal"], slices.Clone(r[""])
	size := int(binary.BigEndian.Uint32(wal[8:]))
	last := map[int][]byte{}
	for at := header; at+frameHeader+size <= len(wal); at += frameHeader + size {
		last[int(binary.BigEndian.Uint32(wal[at:]))] = wal[at+frameHeader : at+frameHeader+size]
	}
	for page, data := range last {
		if random.IntN(2) == 0 {
			if grow := page*size - len(file); grow > 0 {
				file = append(file, make([]byte, grow)...)
			}
			copy(file[(page-1)*size:], data)
		}
	}
	return remains{"": file, "-wal": wal}
}

func TestALogLeftByACrashIsTakenIn(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	f := unsettled(t, closedShop(t))
	for round := range 6 {
		busyDay(t, f, random, 6)
		want := contents(t, f)
		left := killed(t, f)
		for _, r := range []remains{left, left.halfway(random), left.halfway(random)} {
			opened, err := Open(t.Context(), r.laid(t))
			if err != nil {
				t.Fatalf("round %d: %v", round, err)
			}
			same(t, "contents", want, contents(t, opened))
			if len(opened.Notes()) != 0 {
				t.Errorf("it is noted that %v", opened.Notes())
			}
			must(t, opened.Close())
		}
		if round%4 == 3 {
			byHand(t, f, "PRAGMA wal_checkpoint(TRUNCATE)")
		}
	}
}

// hot is what is left of a change that was cut off while a rollback journal was kept, some of it in the
// file already.
func hot(t testing.TB, path string) remains {
	t.Helper()
	f, err := Open(t.Context(), path)
	must(t, err)
	defer f.Close()
	f.db.SetMaxOpenConns(1)
	byHand(t, f, "PRAGMA journal_mode = DELETE", "PRAGMA cache_size = 2", "BEGIN IMMEDIATE",
		"UPDATE motors SET note = 'cut off', version = version + 1")
	left := killed(t, f)
	byHand(t, f, "ROLLBACK")
	if len(left["-journal"]) == 0 {
		t.Fatal("no journal was left")
	}
	return left
}

func TestAJournalLeftByACrashIsRolledBack(t *testing.T) {
	path := closedShop(t)
	before, err := os.ReadFile(path)
	must(t, err)
	left := hot(t, path)
	if slices.Equal(left[""], before) {
		t.Fatal("nothing of the change was in the file yet")
	}
	f, err := Open(t.Context(), left.laid(t))
	must(t, err)
	defer f.Close()
	if len(f.Notes()) != 0 {
		t.Errorf("it is noted that %v", f.Notes())
	}
	c := contents(t, f)
	for _, r := range c.Records {
		if r.Note == "cut off" {
			t.Fatal("half a change was kept")
		}
	}
	if len(c.Records) != 100 {
		t.Errorf("%d motors are left", len(c.Records))
	}
}

func TestAStrayJournalIsSetAside(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	settled := func(path string) []byte {
		data, err := os.ReadFile(path)
		must(t, err)
		return data
	}
	mine := closedShop(t)
	theirs := filepath.Join(t.TempDir(), "theirs")
	f, err := Create(t.Context(), theirs)
	must(t, err)
	busyDay(t, f, random, 8)
	must(t, f.Close())

	f = unsettled(t, theirs)
	busyDay(t, f, random, 8)
	little := killed(t, f)["-wal"]
	must(t, f.Close())
	f = unsettled(t, theirs)
	byHand(t, f, "VACUUM") // writes every page
	whole := killed(t, f)["-wal"]
	must(t, f.Close())

	old := filepath.Join(t.TempDir(), "old")
	must(t, os.WriteFile(old, settled(mine), 0o600))
	f = unsettled(t, old)
	busyDay(t, f, random, 4)
	early := killed(t, f)["-wal"]
	busyDay(t, f, random, 6)
	must(t, f.Close())

	branch := filepath.Join(t.TempDir(), "branch") // the same shop, gone on with apart
	must(t, os.WriteFile(branch, settled(mine), 0o600))
	f = unsettled(t, branch)
	busyDay(t, f, random, 10)
	apart := killed(t, f)["-wal"]
	must(t, f.Close())

	for _, c := range []struct {
		name string
		file []byte
		end  string
		left []byte
	}{
		{"log of another shop", settled(mine), "-wal", little},
		{"log of another shop with all its pages", settled(mine), "-wal", whole},
		{"log of an older state", settled(old), "-wal", early},
		{"log of a copy that went on apart", settled(old), "-wal", apart},
		{"journal of another shop", settled(theirs), "-journal", hot(t, closedShop(t))["-journal"]},
	} {
		t.Run(c.name, func(t *testing.T) {
			alone, err := Open(t.Context(), remains{"": c.file}.laid(t))
			must(t, err)
			want := contents(t, alone)
			must(t, alone.Close())

			path := remains{"": c.file, c.end: c.left}.laid(t)
			f, err := Open(t.Context(), path)
			must(t, err)
			same(t, "contents", want, contents(t, f))
			if n := f.Notes(); len(n) != 1 || n[0].String() != "Beside the shop file lay a journal that does not belong to it. "+
				"It was set aside as shop"+c.end+".set-aside-1, and nothing in the file was changed." {
				t.Errorf("it is noted that %v", n)
			}
			must(t, f.Close())
			if kept := settled(path + c.end + ".set-aside-1"); !slices.Equal(kept, c.left) {
				t.Error("the journal is not what it was")
			}
			must(t, os.WriteFile(path+c.end, c.left, 0o600)) // once more: another name is found
			f, err = Open(t.Context(), path)
			must(t, err)
			must(t, f.Close())
			settled(path + c.end + ".set-aside-2")
		})
	}
}

// A stray log beside a log that the file needs would be one file; a journal and a log can lie there both.
func TestOnlyTheStrayOneOfTwoIsSetAside(t *testing.T) {
	f := unsettled(t, closedShop(t))
	busyDay(t, f, rand.New(rand.NewPCG(5, 6)), 5)
	want := contents(t, f)
	left := killed(t, f)
	left["-journal"] = hot(t, closedShop(t))["-journal"]
	path := left.laid(t)
	opened, err := Open(t.Context(), path)
	must(t, err)
	defer opened.Close()
	same(t, "contents", want, contents(t, opened))
	if _, err := os.Stat(path + "-journal.set-aside-1"); err != nil || len(opened.Notes()) != 1 {
		t.Errorf("%v; it is noted that %v", err, opened.Notes())
	}
}

func TestADamagedFileKeepsItsJournal(t *testing.T) {
	f := unsettled(t, closedShop(t))
	busyDay(t, f, rand.New(rand.NewPCG(7, 8)), 5)
	left := killed(t, f)
	for at := 4096 * 2; at < len(left[""]); at += 4096 {
		left[""][at+3] ^= 0xFF
	}
	path := left.laid(t)
	_, err := Open(t.Context(), path)
	wantError(t, err, ErrDamaged)
	for end, data := range left {
		if now, err := os.ReadFile(path + end); err != nil || !slices.Equal(now, data) {
			t.Errorf("the file %q was changed (%v)", end, err)
		}
	}
}
