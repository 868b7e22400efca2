package shopfile

import (
	"compress/gzip"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// sample is a fresh copy of the sample shop that a program of a schema wrote, see testdata/older/README.md.
func sample(t testing.TB, schema int) string {
	t.Helper()
	packed, err := os.Open(filepath.Join("testdata", "older", fmt.Sprintf("schema%d.skegworth.gz", schema)))
	must(t, err)
	defer packed.Close()
	from, err := gzip.NewReader(packed)
	must(t, err)
	path := filepath.Join(t.TempDir(), "shop.skegworth")
	to, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	must(t, err)
	_, err = io.Copy(to, from)
	must(t, err)
	must(t, to.Close())
	return path
}

// Whoever raises the schema keeps a sample of what it was before, and of what it became.
func TestEverySchemaHasItsSample(t *testing.T) {
	for schema := 1; schema <= schemaVersion; schema++ {
		if got := schemaOf(t, sample(t, schema)); got != schema {
			t.Errorf("the sample of schema %d is of schema %d", schema, got)
		}
	}
}

// What a program of its day wrote is what the migrations of today make of that schema: no migration may be
// changed once a program has gone out with it.
func TestNoMigrationWasChangedSince(t *testing.T) {
	for schema := 1; schema <= schemaVersion; schema++ {
		path := aged(t, schema)
		want, got := partsOf(t, path), partsOf(t, sample(t, schema))
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("schema %d by the migrations of today, and in its sample:\n%s", schema, diff)
		}
	}
}

// A file brought up to date is in every part as one made today.
func TestAnUpgradedFileIsLikeANewOne(t *testing.T) {
	want := partsOf(t, closedShop(t))
	for schema := 1; schema <= schemaVersion; schema++ {
		path := sample(t, schema)
		f, err := Open(t.Context(), path)
		must(t, err)
		must(t, f.Close())
		if diff := cmp.Diff(want, partsOf(t, path)); diff != "" {
			t.Errorf("a new file, and one that was of schema %d:\n%s", schema, diff)
		}
	}
}

// bare opens a file by SQLite alone.
func bare(t testing.TB, path string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite3", strings.Replace(address(path), "mode=rw", "mode=ro", 1))
	must(t, err)
	t.Cleanup(func() { _ = db.Close() })
	return db
}

// partsOf is the text of every table and index of a file, by name.
func partsOf(t testing.TB, path string) map[string]string {
	t.Helper()
	db := bare(t, path)
	defer db.Close()
	rows, err := db.Query("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL AND name <> 'sqlite_sequence'")
	must(t, err)
	defer rows.Close()
	out := map[string]string{}
	for rows.Next() {
		var name, text string
		must(t, rows.Scan(&name, &text))
		out[name] = strings.Join(strings.Fields(text), " ")
	}
	must(t, rows.Err())
	return out
}

// rowsOf is what stands in the columns of every table, row by row in the order of their keys. Columns names
// those asked for; nil are all.
func rowsOf(t testing.TB, path string, columns map[string][]string) (held map[string][]string, named map[string][]string) {
	t.Helper()
	db := bare(t, path)
	defer db.Close()
	if columns == nil {
		columns = map[string][]string{}
		names, err := keys(t.Context(), db, "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!' AND name <> 'goose_db_version'")
		must(t, err)
		for _, name := range names {
			columns[name], err = keys(t.Context(), db, `SELECT name FROM pragma_table_info('`+name+`') ORDER BY cid`)
			must(t, err)
		}
	}
	held = map[string][]string{}
	for name, each := range columns {
		rows, err := db.Query(`SELECT ` + strings.Join(each, ", ") + ` FROM ` + name + ` ORDER BY 1, 2`)
		must(t, err)
		values, targets := make([]any, len(each)), make([]any, len(each))
		for i := range values {
			targets[i] = &values[i]
		}
		held[name] = []string{}
		for rows.Next() {
			must(t, rows.Scan(targets...))
			var row []string
			for i, c := range each {
				row = append(row, fmt.Sprintf("%s %#v", c, values[i]))
			}
			held[name] = append(held[name], strings.Join(row, ", "))
		}
		must(t, rows.Err())
		must(t, rows.Close())
	}
	return held, columns
}

// Every row of an older shop is there after it was brought up to date, each column as it was, and so it is
// in the copy that was made before.
func TestAnOlderFileLosesNothing(t *testing.T) {
	for schema := 1; schema <= schemaVersion; schema++ {
		t.Run(fmt.Sprint(schema), func(t *testing.T) {
			path := sample(t, schema)
			was, columns := rowsOf(t, path, nil)
			if len(was["motors"]) < 15 || len(was["changes"]) < 100 || len(was["clock"]) != 1 || len(was["preferences"]) < 2 {
				t.Fatalf("the sample holds %d motors, %d changes, %d clocks, %d preferences: it is too poor to try anything",
					len(was["motors"]), len(was["changes"]), len(was["clock"]), len(was["preferences"]))
			}
			kept := path + ".copy"
			f, err := Open(t.Context(), path, WithBeforeUpgrade(func(ctx context.Context, f *File, _ int) error { return f.CopyTo(ctx, kept) }))
			must(t, err)
			report, err := f.Check(t.Context())
			must(t, err)
			if !report.OK() {
				t.Errorf("the check says %v", report.Strings())
			}
			must(t, f.Close())
			is, _ := rowsOf(t, path, columns)
			if diff := cmp.Diff(was, is); diff != "" {
				t.Errorf("before and after:\n%s", diff)
			}
			if schema == schemaVersion {
				if _, err := os.Stat(kept); err == nil {
					t.Error("a file that needs no upgrade was copied")
				}
				return
			}
			copied, _ := rowsOf(t, kept, nil)
			if diff := cmp.Diff(was, copied); diff != "" || schemaOf(t, kept) != schema {
				t.Errorf("the copy is of schema %d; before and in the copy:\n%s", schemaOf(t, kept), diff)
			}
		})
	}
}

// versionless compares contents but for the numbers that go up with each change.
var versionless = cmp.Options{cmpopts.EquateEmpty(),
	cmp.FilterPath(func(p cmp.Path) bool { return p.Last().String() == ".Version" }, cmp.Ignore())}

// The undo log of an older shop leads back to its beginning and forth again: what an older program noted
// is read by this one, in rows that have grown columns since.
func TestStepsOfAnOlderFileAreUndone(t *testing.T) {
	for schema := 1; schema <= schemaVersion; schema++ {
		t.Run(fmt.Sprint(schema), func(t *testing.T) {
			f, err := Open(t.Context(), sample(t, schema))
			must(t, err)
			defer f.Close()
			hurried(t, f)
			full := contents(t, f)
			steps := 0
			for {
				_, err := f.Undo(t.Context())
				if errors.Is(err, ErrNothingToUndo) {
					break
				}
				must(t, err)
				if steps++; steps == 1 { // back and forth once near the end, and on
					_, err := f.Redo(t.Context())
					must(t, err)
					if diff := cmp.Diff(full, contents(t, f), versionless); diff != "" {
						t.Errorf("the last step undone and done again:\n%s", diff)
					}
					_, err = f.Undo(t.Context())
					must(t, err)
				}
			}
			if steps < 60 {
				t.Errorf("only %d steps could be undone", steps)
			}
			empty := Contents{Settings: contents(t, f).Settings}
			if diff := cmp.Diff(empty, contents(t, f), versionless); diff != "" {
				t.Errorf("after %d steps back there is left:\n%s", steps, diff)
			}
			for range steps {
				_, err := f.Redo(t.Context())
				must(t, err)
			}
			if diff := cmp.Diff(full, contents(t, f), versionless); diff != "" {
				t.Errorf("%d steps back and forth:\n%s", steps, diff)
			}
			report, err := f.Check(t.Context())
			must(t, err)
			if !report.OK() {
				t.Errorf("the check then says %v", report.Strings())
			}
		})
	}
}
