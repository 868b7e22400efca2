package shopfile

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"skegworth/costing"
	"skegworth/data/shopfile/throwaway"
)

// patient opens a shop with more patience than a busy machine needs.
func patient(t *testing.T, address string) *File {
	t.Helper()
	f, err := Open(t.Context(), address)
	must(t, err)
	f.server.patience = 2 * time.Minute
	t.Cleanup(func() { _ = f.Close() })
	return f
}

// exactly makes sure that a motor has each line once, and none but those that were said to be saved.
func exactly(t *testing.T, f *File, motor string, saved map[string]costing.Line) {
	t.Helper()
	r, err := f.Record(t.Context(), motor)
	must(t, err)
	seen := map[string]int{}
	for _, l := range r.Lines {
		seen[l.Text]++
		if want, ok := saved[l.Text]; !ok || want.ID != l.ID || want.Version != l.Version {
			t.Errorf("%q is there as %s of version %d, and was said to be %s of version %d", l.Text, l.ID, l.Version, want.ID, want.Version)
		}
	}
	for text := range saved {
		if seen[text] != 1 {
			t.Errorf("%q is there %d times", text, seen[text])
		}
	}
	report, err := f.Check(t.Context())
	must(t, err)
	if !report.OK() {
		t.Errorf("the check says: %v", report.Strings())
	}
}

// Several benches write while connections are cut before, at and after commits, and while others read.
func TestNoLineIsLostOrDoubledWhereConnectionsAreCut(t *testing.T) {
	direct := freshPostgres(t)
	r := saved(t, direct)
	dice := rand.New(rand.NewPCG(8, 15))
	c, address := throwaway.Through(t, direct.server.config.ConnString(), func(commit bool) throwaway.Cut {
		switch n := dice.IntN(100); {
		case commit && n < 36:
			return []throwaway.Cut{throwaway.BeforeCommit, throwaway.AfterCommit, throwaway.AnswerWithheld}[n%3]
		case n < 1:
			return throwaway.AtOnce
		}
		return throwaway.Never
	})
	const writers, each = 4, 12
	kept := make([]map[string]costing.Line, writers)
	files := []*File{patient(t, address), patient(t, address)}
	several(t, writers, func(i int) error {
		kept[i] = map[string]costing.Line{}
		for n := range each {
			l := costing.Line{MotorID: r.ID, Kind: costing.Kit, Text: fmt.Sprint("line ", i, ".", n), Total: 1}
			if err := files[i%2].Write(t.Context(), l.Text, "", func(tx *Tx) error { return tx.PutLine(&l) }); err != nil {
				return err
			}
			kept[i][l.Text] = l
			if _, err := files[i%2].Record(t.Context(), r.ID); err != nil {
				return err
			}
		}
		return nil
	})
	all := map[string]costing.Line{}
	for _, some := range kept {
		for text, l := range some {
			all[text] = l
		}
	}
	exactly(t, direct, r.ID, all)
	if len(all) != writers*each {
		t.Errorf("%d lines were saved, want %d", len(all), writers*each)
	}
	for when, name := range map[throwaway.Cut]string{throwaway.BeforeCommit: "before a commit", throwaway.AfterCommit: "after a commit", throwaway.AnswerWithheld: "at its answer"} {
		if c.Count(when) == 0 {
			t.Errorf("no connection was cut %s", name)
		}
	}
	for range writers * each { // each is one step, and undoing is not done twice either
		_, err := files[0].Undo(t.Context())
		must(t, err)
	}
	exactly(t, direct, r.ID, nil)
	label, err := direct.UndoLabel(t.Context())
	must(t, err)
	wantLabel(t, "left to undo", label, "a motor")
}

// Where the server stays away, a change is said not to be saved, or that nobody knows.
func TestAServerThatStaysAway(t *testing.T) {
	for _, when := range []struct {
		moment throwaway.Cut
		want   error
		says   string
		lines  int
	}{
		{throwaway.BeforeCommit, ErrUncertain, "look whether it is there", 0}, // the program cannot tell it from the next
		{throwaway.AnswerWithheld, ErrUncertain, "look whether it is there", 1},
		{throwaway.AtOnce, ErrUnreachable, "nothing was saved", 0},
	} {
		direct := freshPostgres(t)
		r := saved(t, direct)
		var armed, barred atomic.Bool
		_, address := throwaway.Through(t, direct.server.config.ConnString(), func(commit bool) throwaway.Cut {
			switch {
			case barred.Load(): // nobody gets through any more
				return throwaway.AtOnce
			case !armed.Load() || when.moment != throwaway.AtOnce && !commit:
				return throwaway.Never
			}
			barred.Store(true)
			return when.moment
		})
		f := patient(t, address)
		f.server.patience = 500 * time.Millisecond
		armed.Store(true)
		l := costing.Line{MotorID: r.ID, Kind: costing.Kit, Total: 1}
		err := f.Write(t.Context(), "a line", "", func(tx *Tx) error { return tx.PutLine(&l) })
		wantError(t, err, when.want)
		if !strings.Contains(err.Error(), when.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("the error is %q", err)
		}
		if l.ID != "" || l.Version != 0 {
			t.Errorf("the line that was not saved has the key %q and version %d", l.ID, l.Version)
		}
		if _, err := f.Read(t.Context()); !errors.Is(err, ErrUnreachable) || strings.Contains(err.Error(), "saved") {
			t.Errorf("reading says %v", err)
		}
		got, err := direct.Record(t.Context(), r.ID)
		must(t, err)
		if len(got.Lines) != when.lines {
			t.Errorf("cut at %d: %d lines are there, want %d", when.moment, len(got.Lines), when.lines)
		}
		armed.Store(false)
		barred.Store(false)
		f.server.patience = time.Minute
		write(t, f, "once more", func(tx *Tx) error { return tx.PutLine(&l) }) // once it is back, all goes on
	}
}

// The server is stopped, killed and started again under those who work.
func TestAServerStartedAgainLosesNothing(t *testing.T) {
	own := throwaway.Own(t, throwaway.Settings{Set: []string{"fsync=off"}}) // the machine itself does not fail
	made, err := Create(t.Context(), throwaway.Schema(t, own.Address()))
	must(t, err)
	defer made.Close()
	r := saved(t, made)
	address := made.server.config.ConnString()
	stop := make(chan struct{})
	kept := make([]map[string]costing.Line, 3)
	files := []*File{patient(t, address), patient(t, address), patient(t, address)}
	several(t, 4, func(i int) error {
		if i == 3 {
			defer close(stop)
			for _, end := range []func(testing.TB){own.Stop, own.Crash} {
				time.Sleep(300 * time.Millisecond)
				end(t)
				own.Start(t)
			}
			time.Sleep(300 * time.Millisecond)
			return nil
		}
		f := files[i]
		kept[i] = map[string]costing.Line{}
		for n := 0; ; n++ {
			select {
			case <-stop:
				return nil
			default:
			}
			l := costing.Line{MotorID: r.ID, Kind: costing.Kit, Text: fmt.Sprint("line ", i, ".", n), Total: 1}
			if err := f.Write(t.Context(), l.Text, "", func(tx *Tx) error { return tx.PutLine(&l) }); err != nil {
				return err
			}
			kept[i][l.Text] = l
		}
	})
	all := map[string]costing.Line{}
	for _, some := range kept {
		for text, l := range some {
			all[text] = l
		}
	}
	exactly(t, patient(t, address), r.ID, all)
}
