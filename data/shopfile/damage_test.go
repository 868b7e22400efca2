package shopfile_test

import (
	"context"
	"database/sql"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"skegworth/data/example"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
)

var (
	flips   = flag.Int("flips", 300, "bytes flipped one by one over the example shop")
	damages = flag.Int("damages", 12, "damages that the example shop is rescued from")
)

// whole is everything in a shop file, each row as one text by table and key.
type whole map[string]map[string]string

func read(t testing.TB, f *shopfile.File) whole {
	t.Helper()
	out := whole{}
	err := f.ReadWhole(context.Background(), func(k shopfile.Kept) (func([]any) error, error) {
		rows := map[string]string{}
		out[k.Name] = rows
		return func(values []any) error {
			key := fmt.Sprint(values[0])
			switch k.Name {
			case "changes":
				key = fmt.Sprint(values[:3])
			case "gone":
				key = fmt.Sprint(values[:2])
			}
			rows[key] = fmt.Sprintf("%#v", values)
			return nil
		}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// sample is the example shop as it lies closed on the disk.
var sample = sync.OnceValues(func() ([]byte, error) {
	folder, err := os.MkdirTemp("", "damage")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "shop")
	f, err := shopfile.Create(context.Background(), path)
	if err != nil {
		return nil, err
	}
	if err := example.Fill(context.Background(), f, day.Of(2026, time.June, 15)); err != nil {
		return nil, err
	}
	if err := f.Close(); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

func exampleFile(t testing.TB) ([]byte, whole) {
	t.Helper()
	data, err := sample()
	if err != nil {
		t.Fatal(err)
	}
	f, err := shopfile.Open(t.Context(), laid(t, data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	return data, read(t, f)
}

func laid(t testing.TB, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Of bytes flipped anywhere, each is found by opening or by the check, or changed no row. In the example all
// rows stand in the undo log; in a shop that is older than its thousand steps, most do not, and it takes a
// copy to find a letter that was spoilt.
func TestFlippedBytesAreFound(t *testing.T) {
	data, want := exampleFile(t)
	t.Run("with an undo log", func(t *testing.T) { flipped(t, data, want, *flips*2/3) })

	path := laid(t, data)
	db, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("DELETE FROM changes; VACUUM"); err != nil {
		t.Fatal(err)
	}
	db.Close()
	if data, err = os.ReadFile(path); err != nil {
		t.Fatal(err)
	}
	want["changes"] = map[string]string{}
	t.Run("without", func(t *testing.T) { flipped(t, data, want, *flips/3) })
}

func flipped(t *testing.T, data []byte, want whole, flips int) {
	data = slices.Clone(data)
	copied := laid(t, data)
	random := rand.New(rand.NewPCG(11, 12))
	count := map[string]int{}
	for range flips {
		at, by := random.IntN(len(data)), byte(1+random.IntN(255))
		data[at] ^= by
		path := filepath.Join(t.TempDir(), "shop")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		data[at] ^= by
		found := foundBy(t, path, copied, want)
		count[found]++
		if found == "nothing" {
			t.Errorf("nobody found the byte at %d turned by %#x", at, by)
		}
		os.Remove(path)
	}
	t.Logf("of %d flipped bytes: %v", flips, count)
}

// foundBy says what finds the damage, without the help of a copy if it can be.
func foundBy(t *testing.T, path, copied string, want whole) string {
	t.Helper()
	f, err := shopfile.Open(t.Context(), path)
	if err != nil {
		return "opening"
	}
	defer f.Close()
	report, err := f.Check(t.Context())
	switch {
	case err != nil:
		return "an error of the check"
	case !report.OK():
		return "the check"
	}
	if same(read(t, f), want) {
		return "harmless"
	}
	if unlike, told, err := f.UnlikeCopy(t.Context(), copied, "today"); err != nil || told && len(unlike) > 0 {
		return "the copy"
	}
	return "nothing"
}

func same(a, b whole) bool {
	for table, rows := range a {
		if len(rows) != len(b[table]) {
			return false
		}
		for key, row := range rows {
			if b[table][key] != row {
				return false
			}
		}
	}
	return len(a) == len(b)
}

const page = 4096

// damage spoils the data in one of the ways that disks and people do.
func damage(data []byte, random *rand.Rand, kind int) ([]byte, string) {
	out := slices.Clone(data)
	pages := len(data) / page
	at := func() int { return (1 + random.IntN(pages-1)) * page }
	switch kind % 5 {
	case 0:
		n := 1 + random.IntN(3)
		for range n {
			clear(out[at():][:page])
		}
		return out, fmt.Sprintf("%d zeroed pages", n)
	case 1:
		for range 2 {
			a := at()
			for i := range page {
				out[a+i] = byte(random.Uint32())
			}
		}
		return out, "2 pages of noise"
	case 2:
		return out[:page*(pages*(6+random.IntN(4))/10)+random.IntN(page)], "cut off"
	case 3:
		for range 4 {
			clear(out[at()+512*random.IntN(8):][:512])
		}
		return out, "4 zeroed sectors"
	}
	for i := range 100 {
		out[i] = byte(random.Uint32())
	}
	return out, "a header of noise"
}

// A rescue saves nothing that was not there, and all of the tables that the damage passed over.
func TestRescueFromRandomDamage(t *testing.T) {
	data, want := exampleFile(t)
	random := rand.New(rand.NewPCG(21, 22))
	var saved, there, nothing int
	for round := range *damages {
		spoilt, kind := damage(data, random, round)
		path := laid(t, spoilt)
		to := filepath.Join(t.TempDir(), "saved")
		ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
		rescued, err := shopfile.Rescue(ctx, path, to)
		cancel()
		if after, _ := os.ReadFile(path); string(after) != string(spoilt) {
			t.Fatalf("round %d, %s: the damaged file was changed", round, kind)
		}
		for table, rows := range want {
			if !ofLog[table] {
				there += len(rows)
			}
		}
		if err != nil {
			nothing++
			if !strings.Contains(err.Error(), shopfile.ErrDamaged.Error()) && !strings.Contains(err.Error(), shopfile.ErrNotShopFile.Error()) {
				t.Errorf("round %d, %s: %v", round, kind, err)
			}
			if _, err := os.Stat(to); err == nil {
				t.Errorf("round %d, %s: a file was made all the same", round, kind)
			}
			continue
		}
		f, err := shopfile.Open(t.Context(), to)
		if err != nil {
			t.Fatalf("round %d, %s: %v", round, kind, err)
		}
		got := read(t, f)
		f.Close()
		emptied := strings.Join(strs(rescued), "\n")
		for table, rows := range got {
			for key, row := range rows {
				was := want[table][key]
				if !ofLog[table] {
					saved++
				}
				switch {
				case was == row:
				case strings.Contains(emptied, "put back from the undo log") && unversioned(was) == unversioned(row):
				case strings.Contains(emptied, "is kept without its"):
				default:
					t.Errorf("round %d, %s: in %s there is %.300s, which was %.300s", round, kind, table, row, was)
				}
			}
		}
		for _, s := range rescued.Tables {
			if n := len(got[s.Name]); n != s.Saved || s.Lost == 0 && !s.Unsure && n != len(want[s.Name]) {
				t.Errorf("round %d, %s: of %s %d rows were saved of %d, and said to be %d with %d lost", round, kind, s.Name, n, len(want[s.Name]), s.Saved, s.Lost)
			}
		}
	}
	t.Logf("of %d rows of records in %d damaged files %d were saved (%.1f %%); nothing could be read of %d files", there, *damages, saved,
		100*float64(saved)/float64(there), nothing)
}

// ofLog are the tables of the undo log, which is saved whole or not at all.
var ofLog = map[string]bool{"steps": true, "changes": true, "gone": true}

func strs(r shopfile.Rescued) []string {
	var out []string
	for _, s := range append(r.Notes, r.LeftOut...) {
		out = append(out, s.String())
	}
	return out
}

// unversioned is a row without its second column, the version.
func unversioned(row string) string {
	key, rest, _ := strings.Cut(row, ", ")
	_, rest, _ = strings.Cut(rest, ", ")
	return key + rest
}
