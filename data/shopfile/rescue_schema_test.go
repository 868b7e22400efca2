package shopfile_test

import (
	"compress/gzip"
	"context"
	"database/sql"
	"encoding/binary"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"skegworth/data/shopfile"
)

// schemaPages are the pages that the description of a sound file's tables takes, by walking SQLite's format
// from the first: branches, leaves and what overflows from them.
func schemaPages(t *testing.T, data []byte) []int {
	t.Helper()
	db, err := sql.Open("sqlite3", laid(t, data))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var out []int
	var visit func(n int)
	visit = func(n int) {
		out = append(out, n)
		p, start := data[(n-1)*page:n*page], 0
		if n == 1 {
			start = 100
		}
		if p[start] != 5 {
			return
		}
		for i := range int(binary.BigEndian.Uint16(p[start+3:])) {
			cell := int(binary.BigEndian.Uint16(p[start+12+2*i:]))
			visit(int(binary.BigEndian.Uint32(p[cell:])))
		}
		visit(int(binary.BigEndian.Uint32(p[start+8:])))
	}
	visit(1)
	if len(out) < 5 {
		t.Fatalf("the schema takes the pages %v only", out)
	}
	return out
}

// upgraded is the sample of schema 5 as it lies after this program has brought it up to date.
func upgraded(t *testing.T) ([]byte, whole) {
	t.Helper()
	packed, err := os.Open(filepath.Join("testdata", "older", "schema5.skegworth.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	from, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(from)
	if err != nil {
		t.Fatal(err)
	}
	path := laid(t, data)
	f, err := shopfile.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	rows := read(t, f)
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if data, err = os.ReadFile(path); err != nil {
		t.Fatal(err)
	}
	return data, rows
}

// rescuedFrom rescues a file and counts what was saved; any row that is not as it was is an error.
func rescuedFrom(t *testing.T, what string, spoilt []byte, want whole, copies ...string) (saved, there int, found shopfile.Rescued) {
	t.Helper()
	for table, rows := range want {
		if !ofLog[table] {
			there += len(rows)
		}
	}
	to := filepath.Join(t.TempDir(), "saved")
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	found, err := shopfile.Rescue(ctx, laid(t, spoilt), to, copies...)
	if err != nil {
		if !strings.Contains(err.Error(), "nothing can be read from it") {
			t.Errorf("%s: %v", what, err)
		}
		return 0, there, found
	}
	f, err := shopfile.Open(t.Context(), to)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	defer f.Close()
	got := read(t, f)
	emptied := strings.Contains(strings.Join(strs(found), "\n"), "is kept without its")
	for table, rows := range got {
		for key, row := range rows {
			if !ofLog[table] {
				saved++
			}
			if want[table][key] != row && !emptied {
				t.Errorf("%s: in %s there is %.200s, which was %.200s", what, table, row, want[table][key])
			}
		}
		for _, s := range found.Tables {
			if s.Name == table && !ofLog[table] && s.Lost == 0 && !s.Unsure && len(rows) != len(want[table]) {
				t.Errorf("%s: of %s %d rows were saved of %d, and nothing was said", what, table, len(rows), len(want[table]))
			}
		}
	}
	return saved, there, found
}

// Whichever page of the file's own description of its tables is spoilt, all rows are saved with the help of a
// copy, and without one where the file was made by this program.
func TestRescueWithASpoiltSchema(t *testing.T) {
	made, rows := exampleFile(t)
	older, olderRows := upgraded(t)
	random := rand.New(rand.NewPCG(31, 32))
	ways := []struct {
		name  string
		spoil func(p []byte)
	}{
		{"zeroed", func(p []byte) { clear(p) }},
		{"flipped", func(p []byte) {
			for range 40 {
				p[random.IntN(len(p))] ^= byte(1 + random.IntN(255))
			}
		}},
	}
	for _, c := range []struct {
		name   string
		data   []byte
		rows   whole
		copied bool
		all    bool
	}{
		{"made by this program, with a copy", made, rows, true, true},
		{"made by this program, without a copy", made, rows, false, true},
		{"brought up to date, with a copy", older, olderRows, true, true},
		{"brought up to date, without a copy", older, olderRows, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			var copies []string
			if c.copied {
				copies = []string{laid(t, []byte("a copy that is damaged too")), laid(t, c.data)}
			}
			pages := schemaPages(t, c.data)
			saved, there := 0, 0
			try := func(what string, data []byte) {
				s, n, found := rescuedFrom(t, what, data, c.rows, copies...)
				saved, there = saved+s, there+n
				if c.all && s != n {
					t.Errorf("%s: %d rows of %d were saved: %v", what, s, n, strs(found))
				}
				if strings.HasSuffix(what, "zeroed") && s > 0 && !strings.Contains(strings.Join(strs(found), "\n"), "description of its tables was damaged") {
					t.Errorf("%s: the report says %v", what, strs(found))
				}
			}
			for _, way := range ways {
				if way.name == "flipped" && (c.copied || !c.all) {
					continue
				}
				for _, n := range pages {
					data := slices.Clone(c.data)
					way.spoil(data[(n-1)*page : n*page])
					try(fmt.Sprintf("page %d %s", n, way.name), data)
				}
			}
			data := slices.Clone(c.data)
			for _, n := range pages {
				clear(data[(n-1)*page : n*page])
			}
			try("all of them zeroed", data)
			t.Logf("the schema takes %d pages; of %d rows of records %d were saved (%.1f %%)", len(pages), there, saved, 100*float64(saved)/float64(there))
		})
	}
}

// Noise in the place of the description neither stops a rescue nor has it save what never was.
func TestRescueWithASchemaOfNoise(t *testing.T) {
	data, rows := exampleFile(t)
	pages := schemaPages(t, data)
	random := rand.New(rand.NewPCG(41, 42))
	saved, there := 0, 0
	for round := range 4 {
		spoilt := slices.Clone(data)
		for _, n := range pages {
			if n == 1 && round%2 == 0 {
				continue
			}
			p := spoilt[(n-1)*page : n*page]
			for i := range p {
				p[i] = byte(random.Uint32())
			}
			if n > 1 {
				p[0] = []byte{2, 5, 10, 13}[random.IntN(4)]
				clear(p[1:4])
				p[4] = byte(random.IntN(4))
				clear(p[5:7])
				p[5] = 1
			}
		}
		s, n, _ := rescuedFrom(t, fmt.Sprint("round ", round), spoilt, rows)
		saved, there = saved+s, there+n
	}
	t.Logf("of %d rows of records %d were saved (%.1f %%)", there, saved, 100*float64(saved)/float64(there))
	if saved*100 < there*95 {
		t.Errorf("%d of %d rows were saved", saved, there)
	}
}

// Where nothing is left at all it is said so, and no file is made.
func TestRescueOfNothing(t *testing.T) {
	data, _ := exampleFile(t)
	spoilt := make([]byte, len(data))
	copy(spoilt, data[:page])
	to := filepath.Join(t.TempDir(), "saved")
	_, err := shopfile.Rescue(t.Context(), laid(t, spoilt), to, laid(t, data))
	if err == nil || !strings.HasSuffix(err.Error(), "the shop file is damaged, and nothing can be read from it") {
		t.Errorf("a rescue of nothing: %v", err)
	}
	if _, err := os.Stat(to); err == nil {
		t.Error("a file was made of nothing")
	}
}
