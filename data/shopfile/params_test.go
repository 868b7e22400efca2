package shopfile

import (
	"database/sql"
	"path/filepath"
	"testing"

	_ "github.com/mattn/go-sqlite3" // the driver without our wrapper, to show what it does
)

func TestNumberedRewritesParametersOnly(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"none", "SELECT 1", "SELECT 1"},
		{"in order", "VALUES ($1, $2)", "VALUES (?1, ?2)"},
		{"two digits", "VALUES ($10,$2)", "VALUES (?10,?2)"},
		{"text", "SELECT '$1', $1", "SELECT '$1', ?1"},
		{"doubled quote", "SELECT 'it''s $1', $1", "SELECT 'it''s $1', ?1"},
		{"name", `SELECT "$1", $1`, `SELECT "$1", ?1`},
		{"line comment", "SELECT $1 -- costs $2\n, $2", "SELECT ?1 -- costs $2\n, ?2"},
		{"comment", "SELECT /* $1 */ $1", "SELECT /* $1 */ ?1"},
		{"comment that never ends", "SELECT $1 /* $2", "SELECT ?1 /* $2"},
		{"text that never ends", "SELECT $1, '$2", "SELECT ?1, '$2"},
		{"sign alone", "SELECT '$', $, $a, $1", "SELECT '$', $, $a, ?1"},
		{"last", "WHERE id = $", "WHERE id = $"},
		{"division and minus", "SELECT $1 / $2 - $3", "SELECT ?1 / ?2 - ?3"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := numbered(c.in); got != c.want {
				t.Errorf("numbered(%q) = %q, want %q", c.in, got, c.want)
			}
		})
	}
}

func FuzzNumbered(f *testing.F) {
	f.Add("UPDATE motors SET make = $2 WHERE id = $1 -- $3")
	f.Add("'$1' /* $2 */ \"$3\" $4")
	f.Fuzz(func(t *testing.T, query string) {
		got := numbered(query)
		if len(got) != len(query) {
			t.Fatalf("%q became %q: of another length", query, got)
		}
		for i := range query {
			if got[i] != query[i] && !(query[i] == '$' && got[i] == '?') {
				t.Fatalf("%q became %q: changed more than parameters", query, got)
			}
		}
		if again := numbered(got); again != got {
			t.Fatalf("%q became %q and then %q", query, got, again)
		}
	})
}

// An UPDATE that names $2 before $1 must change the row asked for. Without the wrapper SQLite counts
// parameters by where they first stand and changes another; the test shows both, so that it would notice
// if the danger, or the cure, went away.
func TestParametersOutOfOrder(t *testing.T) {
	for _, c := range []struct {
		name string
		open func(path string) (*sql.DB, error)
		want map[string]string
	}{
		{"bare driver", func(path string) (*sql.DB, error) { return sql.Open("sqlite3", address(path)) },
			map[string]string{"Halvard": "old", "Corvane": "Halvard"}},
		{"shop file", func(path string) (*sql.DB, error) { return sql.OpenDB(engine{path}), nil },
			map[string]string{"Halvard": "Corvane", "Corvane": "old"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := fresh(t)
			path := filepath.Join(t.TempDir(), "copy")
			must(t, f.CopyTo(t.Context(), path))
			db, err := c.open(path)
			must(t, err)
			defer db.Close()
			for _, name := range []string{"Halvard", "Corvane"} {
				_, err = db.Exec("INSERT INTO preferences (name, setting) VALUES ('" + name + "', 'old')")
				must(t, err)
			}
			_, err = db.Exec("UPDATE preferences SET setting = $2 WHERE name = $1", "Halvard", "Corvane")
			must(t, err)
			for name, want := range c.want {
				var got string
				must(t, db.QueryRow("SELECT setting FROM preferences WHERE name = '"+name+"'").Scan(&got))
				if got != want {
					t.Errorf("the row of %s holds %q, want %q", name, got, want)
				}
			}
		})
	}
}
