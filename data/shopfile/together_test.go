package shopfile

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// several runs fn so many times at once and reports every error.
func several(t *testing.T, n int, fn func(i int) error) {
	t.Helper()
	start := make(chan struct{})
	var all sync.WaitGroup
	for i := range n {
		all.Go(func() {
			<-start
			if err := fn(i); err != nil {
				t.Errorf("number %d: %v", i, err)
			}
		})
	}
	close(start)
	all.Wait()
}

// program runs this test program for one task.
func program(task string, args ...string) error {
	child := exec.Command(os.Args[0], args...)
	child.Env = append(os.Environ(), taskVariable+"="+task)
	if said, err := child.CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, said)
	}
	return nil
}

// unmigrated is a shop file that has no tables yet.
func unmigrated(t *testing.T) string {
	t.Helper()
	path := holding(t, nil)
	must(t, mark(context.Background(), path))
	return path
}

func TestProgramsOpeningAFreshFileAtOnceAllSucceed(t *testing.T) {
	for range 6 {
		path := unmigrated(t)
		several(t, 6, func(int) error { return program("open", path) })
		soundShop(t, path, 0)
	}
}

func TestWindowsOpeningAFreshFileAtOnceAllSucceed(t *testing.T) {
	for range 10 {
		path := unmigrated(t)
		several(t, 8, func(int) error { return tasks["open"](context.Background(), []string{path}) })
		soundShop(t, path, 0)
	}
}

func TestProgramsMakingTheSameFileAtOnceShareIt(t *testing.T) {
	for range 4 {
		folder := t.TempDir()
		path := filepath.Join(folder, "shop")
		several(t, 6, func(int) error { return program("intake", path) })
		soundShop(t, path, 6)
		left, err := os.ReadDir(folder)
		must(t, err)
		if len(left) != 1 {
			t.Errorf("the folder holds %v, want the shop file alone", left)
		}
	}
}

// soundShop checks that the file is whole and holds so many motors.
func soundShop(t *testing.T, path string, motors int) {
	t.Helper()
	f, err := Open(t.Context(), path)
	must(t, err)
	defer f.Close()
	report, err := f.Check(t.Context())
	must(t, err)
	if !report.OK() {
		t.Errorf("the check says: %v", report.Strings())
	}
	if got := len(contents(t, f).Records); got != motors {
		t.Errorf("the file holds %d motors, want %d", got, motors)
	}
	var rows int
	must(t, f.db.QueryRow("SELECT COUNT(*) FROM goose_db_version WHERE version_id = 1").Scan(&rows))
	if rows != 1 {
		t.Errorf("the first migration was run %d times", rows)
	}
}

// raise adds one to the price of a motor so many times, with a line for each, and reads the motor again
// whenever somebody else changed it first.
func raise(ctx context.Context, f *File, id string, times int) error {
	for done := 0; done < times; {
		r, err := f.Record(ctx, id)
		if err != nil {
			return err
		}
		r.Ask++
		err = f.Write(ctx, "raise the price", "", func(tx *Tx) error {
			if err := tx.PutRecord(&r); err != nil {
				return err
			}
			return tx.PutLine(&costing.Line{MotorID: id, Kind: costing.Kit, Total: r.Ask})
		})
		switch {
		case err == nil:
			done++
		case !errors.Is(err, ErrConflict):
			return err
		}
	}
	return nil
}

func TestTwoWindowsAndTwoProgramsLoseNothing(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		first := fresh(t)
		second, err := Open(t.Context(), first.Path())
		must(t, err)
		defer second.Close()
		windows := [2]*File{first, second}
		r := saved(t, windows[0])
		const each = 25
		several(t, 6, func(i int) error {
			if i < 4 { // two goroutines on each window
				return raise(t.Context(), windows[i%2], r.ID, each)
			}
			return program("raise", first.Path(), r.ID, strconv.Itoa(each))
		})
		got, err := windows[1].Record(t.Context(), r.ID)
		must(t, err)
		if got.Ask != 6*each || len(got.Lines) != 6*each {
			t.Errorf("after %d raises the price is %d with %d lines", 6*each, got.Ask, len(got.Lines))
		}
		seen := map[money.Amount]bool{}
		for _, l := range got.Lines {
			seen[l.Total] = true
		}
		if len(seen) != 6*each {
			t.Errorf("only %d prices were passed through: some were overwritten", len(seen))
		}
		for range 6 * each { // and all of it can be taken back, from either window
			_, err := windows[0].Undo(t.Context())
			must(t, err)
		}
		got, err = windows[1].Record(t.Context(), r.ID)
		must(t, err)
		if got.Ask != 0 || len(got.Lines) != 0 {
			t.Errorf("after undo the price is %d with %d lines", got.Ask, len(got.Lines))
		}
	})
}

// Who changes what nobody else changes is never refused: the numbers of their undo steps do not collide.
func TestChangesOfDifferentThingsAllSucceed(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		first := fresh(t)
		second, err := Open(t.Context(), first.Path())
		must(t, err)
		defer second.Close()
		const windows, each = 4, 15
		several(t, windows, func(i int) error {
			f := first
			if i%2 == 1 {
				f = second
			}
			for range each {
				r := halvard()
				if err := f.Write(t.Context(), "a motor", "", func(tx *Tx) error { return tx.PutRecord(&r) }); err != nil {
					return err
				}
			}
			return nil
		})
		for range windows * each {
			_, err := second.Undo(t.Context())
			must(t, err)
		}
		if left := len(contents(t, first).Records); left != 0 {
			t.Errorf("after as many undos as motors %d are left", left)
		}
	})
}

// A reader sees the shop as it is at one moment: never a motor whose line is not written yet.
func TestReadingSeesWholeWrites(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		ctx, stop := context.WithCancel(t.Context())
		var reading sync.WaitGroup
		for range 3 {
			reading.Go(func() {
				for ctx.Err() == nil {
					c, err := f.Read(t.Context())
					if err != nil {
						t.Error(err)
						return
					}
					if got := c.Records[0]; int(got.Ask) != len(got.Lines) {
						t.Errorf("a price of %d with %d lines", got.Ask, len(got.Lines))
						return
					}
				}
			})
		}
		must(t, raise(t.Context(), f, r.ID, 100))
		stop()
		reading.Wait()
	})
}

func TestACancelledWriteIsNone(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		ctx, cancel := context.WithCancel(t.Context())
		err := f.Write(ctx, "two motors", "", func(tx *Tx) error {
			r, s := halvard(), halvard()
			must(t, tx.PutRecord(&r))
			cancel()
			return tx.PutRecord(&s)
		})
		wantError(t, err, context.Canceled)
		wantError(t, f.Write(ctx, "late", "", func(*Tx) error { t.Error("it was begun"); return nil }), context.Canceled)
		_, err = f.Read(ctx)
		wantError(t, err, context.Canceled)
		if n := len(contents(t, f).Records); n != 0 {
			t.Errorf("%d motors were saved", n)
		}
	})
}
