package shopfile

import (
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"skegworth/costing"
	"skegworth/valuation/money"
)

func TestAClockSetBackIsNoted(t *testing.T) {
	at := newClock()
	f := fresh(t, WithClock(at.now))
	r := halvard()
	write(t, f, "a motor", func(tx *Tx) error { return tx.PutRecord(&r) })
	must(t, f.Close())

	for _, c := range []struct {
		by    time.Duration
		noted bool
	}{{0, false}, {-time.Minute, false}, {-time.Hour, true}, {-40 * 24 * time.Hour, true}, {time.Hour, false}} {
		back := newClock()
		back.move(c.by)
		f, err := Open(t.Context(), f.Path(), WithClock(back.now))
		must(t, err)
		if n := f.Notes(); (len(n) == 1) != c.noted {
			t.Errorf("a clock moved by %v: it is noted that %v", c.by, n)
		} else if c.noted {
			day, hour := at.now().Local().Format(time.DateOnly), at.now().Local().Format("15:04")
			want := "The computer's clock stands before the last change in the shop file, made on " + day + " at " + hour +
				": days and hours may be wrong until it is put right."
			if n[0].String() != want {
				t.Errorf("it is noted that %q, want %q", n[0], want)
			}
		}
		must(t, f.Close())
	}
}

// What was entered later is later, whatever the clock said: undo takes it back first, and the shelf, whose
// average cost depends on the order of its entries, goes through them in that order.
func TestOrderOutlastsAClockSetBack(t *testing.T) {
	defer func(before uint64) { newest.stamp = before }(newest.stamp)
	newest.stamp = 0
	at := newClock()
	f := fresh(t, WithClock(at.now))
	good := costing.Good{Name: "gear oil", Unit: "qt"}
	ahead := uuid.Must(uuid.NewV7())
	stamp(&ahead, stampOf(ahead)+48*3600*1000<<12) // as by a clock two days ahead
	write(t, f, "oil", func(tx *Tx) error {
		return firstError(
			func() error { return tx.PutGood(&good) },
			func() error {
				return tx.PutMove(&costing.Move{ID: ahead.String(), GoodID: good.ID, Kind: costing.Bought, Quantity: 10, Cost: 1000})
			})
	})
	must(t, f.Close())

	newest.stamp = 0 // another program, whose clock is right again
	at.move(-48 * time.Hour)
	f, err := Open(t.Context(), f.Path(), WithClock(at.now))
	must(t, err)
	defer f.Close()
	const entries = 20
	for n := range entries {
		write(t, f, "more oil", func(tx *Tx) error {
			return tx.PutMove(&costing.Move{GoodID: good.ID, Kind: costing.Bought, Quantity: 1, Cost: money.Amount(n + 1)})
		})
	}
	moved := contents(t, f).Moves
	var costs []money.Amount
	for _, m := range moved {
		costs = append(costs, m.Cost)
	}
	if len(costs) != entries+1 || costs[0] != 1000 || !slices.IsSorted(costs[1:]) {
		t.Errorf("the entries come in the order of %v", costs)
	}
	for n := entries; n > 0; n-- {
		_, err := f.Undo(t.Context())
		must(t, err)
		if moved = contents(t, f).Moves; len(moved) != n || moved[n-1].Cost != costs[n-1] {
			t.Fatalf("undo left %d entries of %d", len(moved), n)
		}
	}
}

func TestAKeyFromNoClockIsNotCountedOnFrom(t *testing.T) {
	before := newest.stamp
	f := fresh(t)
	write(t, f, "a motor", func(tx *Tx) error {
		return firstError(
			func() error { return tx.PutRecord(&costing.Record{ID: "0", Stage: costing.Bench}) },
			func() error {
				return tx.PutRecord(&costing.Record{ID: "0fffffff-ffff-7fff-bfff-ffffffffffff", Stage: costing.Bench})
			},
			func() error {
				return tx.PutRecord(&costing.Record{ID: "0zzzzzzz-ffff-7fff-bfff-ffffffffffff", Stage: costing.Bench})
			})
	})
	must(t, countOn(t.Context(), f.db))
	id := uuid.MustParse(NewID())
	if year := time.UnixMilli(int64(stampOf(id) >> 12)).Year(); year > time.Now().Year()+1 || id.Version() != 7 || stampOf(id) <= before {
		t.Errorf("the next key is %v, of the year %d", id, year)
	}
}
