package shop

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	_ "github.com/mattn/go-sqlite3"

	"skegworth/costing"
	"skegworth/data/example"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
)

// odd are values that no shop writes down, by what a column holds.
var odd = map[string][]any{
	"BIGINT":           {int64(-9223372036854775808), int64(9223372036854775807), int64(-1), int64(0), int64(1), int64(13), int64(1 << 53), int64(-1 << 40), int64(1_000_000_000)},
	"DOUBLE PRECISION": {1e308, -1e308, 5e-324, -1.0, 0.0, 1.0, 1e15, 0.1, -1e-9},
	"TEXT": {"", "nowhere", "=1+1", "two\nlines\r", "\u202egnol", strings.Repeat("long ", 30_000), "a\x00b", "\xff\xfe", "9999-12-31", "0001-01-01", "1970-01-01", "2026-02-30",
		"[1e308,-1,0]", `{"hours":"told"}`, `{"hours":"guessed"}`, "[", "sold", "prospect", "two", "four", "bench", "-1", "{{.Name}}", "%s%n%x", strings.Repeat("é", 5000)},
}

// hostileBase is the example shop, as the bytes of its file.
func hostileBase(t testing.TB) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "example.skegworth")
	f, err := shopfile.Create(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	if err := example.Fill(context.Background(), f, day.Of(2026, 5, 20)); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// columns are the tables and columns of a shop file in a settled order, with what each holds.
func columnsOf(t testing.TB, db *sql.DB) (out [][3]string) {
	t.Helper()
	rows, err := db.Query(`SELECT m.name, c.name, c.type FROM sqlite_master m, pragma_table_info(m.name) c
		WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite%' AND m.name NOT IN ('goose_db_version', 'pictures') ORDER BY m.name, c.cid`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var c [3]string
		if err := rows.Scan(&c[0], &c[1], &c[2]); err != nil {
			t.Fatal(err)
		}
		out = append(out, c)
	}
	return out
}

// FuzzOddShop opens a shop file with values in it that no shop writes down, past every rule of the schema, and
// asks it all that the screens ask: there is an answer or a sentence, soon.
func FuzzOddShop(f *testing.F) {
	good := hostileBase(f)
	f.Add([]byte{0})
	f.Add([]byte{40, 1, 7, 3})
	f.Add([]byte{20, 0, 0, 0, 33, 3, 3, 255})
	path := filepath.Join(f.TempDir(), "good.skegworth")
	if err := os.WriteFile(path, good, 0o600); err != nil {
		f.Fatal(err)
	}
	amiss := map[string]bool{} // what is only ever asked of motors at other stages
	askEverything(f, path, "", amiss, true)
	if len(amiss) > 30 {
		f.Fatalf("of a sound shop these cannot be asked: %v", amiss)
	}
	f.Fuzz(func(t *testing.T, script []byte) {
		path := filepath.Join(t.TempDir(), "odd.skegworth")
		if err := os.WriteFile(path, good, 0o600); err != nil {
			t.Fatal(err)
		}
		said := spoilt(t, path, script)
		began := time.Now()
		askEverything(t, path, said, amiss, false)
		if took := time.Since(began); took > time.Minute {
			t.Fatalf("it took %s: %s", took, said)
		}
	})
}

// spoilt sets values by fours of bytes: which column, of which row or of every, to what. It says what it set.
func spoilt(t testing.TB, path string, script []byte) (said string) {
	t.Helper()
	db, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, pragma := range []string{"PRAGMA foreign_keys = 0", "PRAGMA ignore_check_constraints = 1", "PRAGMA synchronous = OFF"} {
		if _, err := db.Exec(pragma); err != nil {
			t.Fatal(err)
		}
	}
	all := columnsOf(t, db)
	for ; len(script) >= 4; script = script[4:] {
		c := all[(int(script[0])<<3+int(script[1])%8)%len(all)]
		from := odd[c[2]]
		if len(from) == 0 || c[1] == "id" {
			continue
		}
		v := from[int(script[2])%len(from)]
		query := fmt.Sprintf("UPDATE OR IGNORE %s SET %s = $1", c[0], c[1])
		if script[3] < 200 {
			query += fmt.Sprintf(" WHERE rowid = (SELECT rowid FROM %s LIMIT 1 OFFSET (SELECT %d %% max(1, count(*)) FROM %s))", c[0], script[3], c[0])
		}
		_, _ = db.Exec(query, v)
		said += fmt.Sprintf("%s.%s = %.40v (%d); ", c[0], c[1], v, script[3])
	}
	return said
}

// never are methods that change, wait or close.
var never = []string{"Close", "Delete", "Describe", "Set", "Save", "Add", "Start", "Stop", "Keep", "Undo", "Redo", "OnChange", "Follow", "Watch", "Export", "Year", "Write", "Take", "Put",
	"Buy", "Pass", "Back", "Reconsider", "Unlist", "Scrap", "Share", "Remove", "Clear", "Settle", "Reopen", "Answer", "Finish", "Move", "Open", "Restore", "Copy", "Sell", "Book", "Withdraw", "Forget", "File"}

// askEverything opens a shop and calls whatever can be asked of it by nothing, by a motor's id or by a motor.
func askEverything(t testing.TB, path, said string, amiss map[string]bool, learn bool) {
	t.Helper()
	s, err := Open(path)
	if err != nil {
		if e := err.Error(); len(e) > 2000 || strings.ContainsAny(e, "\n\r\x00") {
			t.Fatalf("%s: it answers %.300q", said, e)
		}
		return
	}
	defer s.Close()
	s.AsOf(day.Of(2026, 5, 20))
	ids := map[costing.Stage]string{}
	for _, r := range s.contents.Records {
		ids[r.Stage] = r.ID
	}
	v := reflect.ValueOf(s)
	for i := range v.NumMethod() {
		m, name := v.Method(i), v.Type().Method(i).Name
		if slices.ContainsFunc(never, func(start string) bool { return strings.HasPrefix(name, start) }) {
			continue
		}
		call := func(of costing.Stage, in ...reflect.Value) {
			key := name + " " + string(of)
			if amiss[key] {
				return
			}
			defer func() {
				if r := recover(); r != nil {
					if amiss[key] = learn; !learn {
						panic(fmt.Sprintf("%s: %s: %v", said, key, r))
					}
				}
			}()
			m.Call(in)
		}
		switch in := m.Type(); {
		case in.NumIn() == 0:
			call("")
		case in.NumIn() == 1 && in.In(0) == reflect.TypeFor[string]() && !in.IsVariadic():
			for stage, id := range ids {
				call(stage, reflect.ValueOf(id))
			}
		case in.NumIn() == 1 && in.In(0) == reflect.TypeFor[costing.Record]():
			for stage, id := range ids {
				r, err := s.Record(id)
				if err == nil {
					call(stage, reflect.ValueOf(r))
				}
			}
		}
	}
	var out bytes.Buffer
	if err := s.Workbook(2026, &out); err != nil && strings.ContainsAny(err.Error(), "\n\r\x00") {
		t.Fatalf("%s: the workbook answers %.300q", said, err)
	}
	_, _ = s.Export(filepath.Join(filepath.Dir(path), "open"))
	_ = s.YearCSV(2026, filepath.Join(filepath.Dir(path), "csv"))
	for _, id := range ids {
		r, err := s.Record(id)
		if err != nil {
			continue
		}
		for _, kind := range s.PapersOf(r) {
			_ = s.PaperTo(Paper{Kind: kind, MotorID: id}, io.Discard)
		}
	}
}
