package shopfile

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/data/shopfile/throwaway"
)

// dumped is every row of a shop in words, table by table; numbers to the last bit.
func dumped(t failer, f *File) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	must(t, f.ReadWhole(context.Background(), func(k Kept) (func([]any) error, error) {
		for _, c := range k.Columns {
			out[k.Name] = append(out[k.Name], fmt.Sprint(c))
		}
		return func(values []any) error {
			var row []string
			for _, v := range values {
				if real, ok := v.(float64); ok {
					v = math.Float64bits(real)
				}
				row = append(row, fmt.Sprintf("%T %q", v, fmt.Sprint(v)))
			}
			out[k.Name] = append(out[k.Name], strings.Join(row, "|"))
			return nil
		}, nil
	}))
	return out
}

func sameDump(t *testing.T, what string, want, got map[string][]string) {
	t.Helper()
	if len(want) != len(got) {
		t.Errorf("%s: %d tables, want %d", what, len(got), len(want))
	}
	for name, rows := range want {
		if !slices.Equal(rows, got[name]) {
			t.Errorf("%s: %s is\n%s\nwant\n%s", what, name, strings.Join(got[name], "\n"), strings.Join(rows, "\n"))
		}
	}
}

// nasty puts values into a shop that get lost easily.
func nasty(t failer, f *File) {
	t.Helper()
	write(t, f, "nasty", func(tx *Tx) error {
		for _, n := range []float64{math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, 0.1, 1.0 / 3, 5e-324, 1 << 53, math.Nextafter(1, 2)} {
			if err := tx.PutGood(&costing.Good{Name: "'\"\\%_\t\n\r é 機関 🚤 \u202e " + fmt.Sprint(n), Reorder: n}); err != nil {
				return err
			}
		}
		r := halvard()
		r.Tag = strings.Repeat("x", 40000)
		r.Ask, r.Asks = math.MaxInt64, nil
		if err := tx.PutRecord(&r); err != nil {
			return err
		}
		if err := tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.PartNew, Total: math.MinInt64}); err != nil {
			return err
		}
		if _, err := tx.KeepPicture("", []byte{0, 1, 2, 255}, nil); err != nil {
			return err
		}
		return tx.PutPreference("Width ' \"", "")
	})
}

func TestAShopMovesThereAndBackExactly(t *testing.T) {
	f, _, _ := aShop(t, fresh)
	nasty(t, f)
	_, err := f.Undo(t.Context())
	must(t, err)
	nasty(t, f)
	before := dumped(t, f)
	if len(before["goods"]) < 10 || len(before["changes"]) < 10 || len(before["pictures"]) < 2 {
		t.Fatalf("the shop has too little in it: %v", before)
	}
	address := throwaway.Shop(t)
	moved, err := f.MoveTo(t.Context(), address)
	must(t, err)
	if moved.Tables != len(before) || moved.Rows == 0 {
		t.Errorf("moved %+v of %d tables", moved, len(before))
	}
	there, err := Open(t.Context(), address)
	must(t, err)
	defer there.Close()
	sameDump(t, "on the server", before, dumped(t, there))
	same(t, "shop", contents(t, f), contents(t, there))
	report, err := there.Check(t.Context())
	must(t, err)
	if !report.OK() {
		t.Errorf("the check says: %v", report.Strings())
	}
	second := throwaway.Shop(t)
	_, err = there.MoveTo(t.Context(), second)
	must(t, err)
	beside, err := Open(t.Context(), second)
	must(t, err)
	defer beside.Close()
	path := filepath.Join(t.TempDir(), "back")
	_, err = beside.MoveTo(t.Context(), path)
	must(t, err)
	back, err := Open(t.Context(), path)
	must(t, err)
	defer back.Close()
	sameDump(t, "back in a file", before, dumped(t, back))
	copied := filepath.Join(t.TempDir(), "copy")
	must(t, publish("copy", copied, func(draft string) error {
		return onServerDialect{}.copyTo(t.Context(), there, draft, func(int, int) {})
	}))
	second2, err := Open(t.Context(), copied)
	must(t, err)
	defer second2.Close()
	sameDump(t, "copied from the server", before, dumped(t, second2))
	sameDump(t, "where it came from", before, dumped(t, f))
	label, err := back.Undo(t.Context())
	must(t, err)
	wantLabel(t, "undone after two moves", label, "nasty")
}

func TestAMoveReplacesNothing(t *testing.T) {
	f, _, _ := aShop(t, fresh)
	taken := throwaway.Shop(t)
	throwaway.Do(t, taken, "CREATE TABLE mine (n BIGINT)")
	other := freshPostgres(t)
	for _, where := range []string{f.Path(), holding(t, nil), t.TempDir(), taken, other.server.config.ConnString()} {
		_, err := f.MoveTo(t.Context(), where)
		wantError(t, err, ErrExists)
		if strings.Contains(err.Error(), "\n") {
			t.Errorf("no one sentence: %v", err)
		}
	}
	if n := len(contents(t, other).Records); n != 0 {
		t.Errorf("%d motors came into a shop that was there", n)
	}
}

// A move that fails midway leaves nothing, neither in a file nor on a server.
func TestAMoveIsWholeOrNotAtAll(t *testing.T) {
	f, _, _ := aShop(t, fresh)
	byHand(t, f, "UPDATE lines SET wording = CAST(X'FF' AS TEXT)")
	address := throwaway.Shop(t)
	if _, err := f.MoveTo(t.Context(), address); err == nil || strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), "Unicode") {
		t.Errorf("text that is none was moved: %v", err)
	}
	_, err := Open(t.Context(), address)
	wantError(t, err, os.ErrNotExist)
	there, err := Create(t.Context(), address) // so nothing is in the way
	must(t, err)
	must(t, there.Close())
}
