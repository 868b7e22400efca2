package shopfile

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"skegworth/costing"
	"skegworth/valuation/day"
)

// smallShop is the bytes of a shop file with something in every table that a shop fills first, in small
// pages, so that little of it is empty.
func smallShop(t testing.TB) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "small")
	f, err := Create(context.Background(), path)
	must(t, err)
	write(t, f, "a small shop", func(tx *Tx) error {
		settings := costing.DefaultSettings()
		r, sold, g := halvard(), pastSale(1), costing.Good{Name: "gear oil", Unit: "qt"}
		if err := errors.Join(tx.PutSettings(&settings), tx.PutRecord(&r), tx.PutRecord(&sold), tx.PutSale(sold.ID, sold.Sale), tx.PutGood(&g)); err != nil {
			return err
		}
		id, err := tx.KeepPicture("", []byte("a picture"), []byte("small"))
		return errors.Join(err,
			tx.PutPreference("window", `{"width":1200}`),
			tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.Purchase, On: day.Of(2026, 1, 2), Text: "bought", Quantity: 1, Each: 40000, Total: 40000}),
			tx.PutSession(&costing.Session{MotorID: r.ID, Time: 90, Task: "lower unit"}),
			tx.PutMove(&costing.Move{GoodID: g.ID, Kind: costing.Bought, On: day.Of(2026, 1, 3), Quantity: 4, Cost: 3600}),
			tx.PutPhoto(&costing.Photo{Kind: costing.OfMotor, MotorID: r.ID, PictureID: id, On: day.Of(2026, 1, 4)}),
			tx.PutClock(costing.Clock{MotorID: r.ID, Start: 1}))
	})
	write(t, f, "another good", func(tx *Tx) error { return tx.PutGood(&costing.Good{Name: "plugs", Unit: "each"}) })
	must(t, f.Close())
	db, err := sql.Open("sqlite3", address(path))
	must(t, err)
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, s := range []string{"PRAGMA journal_mode = DELETE", "PRAGMA page_size = 512", "VACUUM"} {
		_, err := db.Exec(s)
		must(t, err)
	}
	must(t, db.Close())
	data, err := os.ReadFile(path)
	must(t, err)
	return data
}

// foreignParts are statements with which somebody puts parts and values of his own into a shop file.
var foreignParts = []string{
	"CREATE TRIGGER a AFTER INSERT ON lines BEGIN DELETE FROM motors; END",
	"CREATE TRIGGER a BEFORE UPDATE ON settings BEGIN INSERT INTO preferences WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i, i FROM n; END",
	"CREATE TRIGGER a AFTER INSERT ON changes BEGIN UPDATE changes SET was = 'x'; END",
	"CREATE VIEW a AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i FROM n",
	"DROP TABLE goods; CREATE VIEW goods AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i AS id, 1 AS version, '' AS name, '' AS unit, 0.0 AS reorder, '' AS note FROM n",
	"DROP TABLE goods; CREATE TABLE goods (id TEXT NOT NULL PRIMARY KEY, version BIGINT NOT NULL, name TEXT AS (hex(zeroblob(1 << 29))), unit TEXT, reorder DOUBLE PRECISION, note TEXT)",
	"CREATE VIRTUAL TABLE a USING fts3(x)",
	"CREATE VIRTUAL TABLE a USING rtree(id, low, high)",
	"CREATE INDEX a ON motors (hex(zeroblob(100)))",
	"CREATE INDEX a ON goods (name) WHERE name LIKE '%a%b%'",
	"CREATE TABLE more (x TEXT)",
	"ALTER TABLE goods ADD COLUMN more TEXT NOT NULL DEFAULT 'x' CHECK (length(more) < 100)",
	"ALTER TABLE motors DROP COLUMN note",
	"DROP TABLE gone",
	"DROP TABLE sales",
	"UPDATE sqlite_master SET sql = replace(sql, 'TEXT', 'BLOB') WHERE name = 'motors'",
	"UPDATE sqlite_master SET sql = 'CREATE TABLE goods (' WHERE name = 'goods'",
	"UPDATE sqlite_master SET rootpage = 2 WHERE name = 'goods'",
	"UPDATE sqlite_master SET rootpage = 99999 WHERE name = 'lines'",
	"UPDATE sqlite_master SET name = 'goods' WHERE name = 'moves'",
	"UPDATE sqlite_master SET type = 'view' WHERE name = 'moves'",
	"UPDATE motors SET note = zeroblob(100000)",
	"UPDATE motors SET note = printf('%.*c', 1100000, 'x')",
	"UPDATE motors SET make = X'ff00ff', model = X'80'",
	"UPDATE motors SET make = char(0) || 'b' || char(10) || char(8238)",
	"UPDATE motors SET power = 9e999, year = -9223372036854775808, hours = -1e308",
	"UPDATE motors SET year = 'two thousand', bought_on = '99999-01-01'",
	"UPDATE motors SET bought_on = '0000-00-00', listed_on = '9999-12-31'",
	"UPDATE motors SET compression = '[' || replace(printf('%.*c', 1000, ','), ',', '1e308,') || '1]', how_known = '{\"a\":{}}'",
	"UPDATE motors SET version = 9223372036854775807",
	"UPDATE motors SET id = '', stage = 'nowhere'",
	"UPDATE lines SET total = 9223372036854775807, unit_cost = -9223372036854775808, quantity = 1e308",
	"UPDATE lines SET motor_id = NULL",
	"UPDATE lines SET undoes = id",
	"UPDATE sales SET price = 'free', sold_on = X'00'",
	"INSERT INTO lines SELECT id || 'x', version, motor_id, 'fee', spent_on, '', quantity, unit, unit_cost, total, supplier, good_id, undoes, due_on, origin, job_id, in_kind, from_owner FROM lines",
	"UPDATE settings SET currency = 'nothing', language = '\u202e', fiscal_month = 99, half_life = 0",
	"UPDATE settings SET id = 'other'",
	"UPDATE clock SET started_at = 9223372036854775807",
	"UPDATE changes SET was = '{', became = '[]'",
	"UPDATE changes SET was = '{\"power\":1e400}', became = '{\"name\":{\"a\":[1]}}'",
	"UPDATE changes SET table_name = 'sqlite_master'",
	"UPDATE changes SET row_id = row_id || 'x'",
	"UPDATE steps SET n = 9223372036854775807, label = printf('%.*c', 100000, 'x') || char(10) WHERE n = (SELECT max(n) FROM steps)",
	"UPDATE steps SET undone = 1, label = X'ff', written_at = 'never'",
	"UPDATE preferences SET setting = printf('%.*c', 100000, '[')",
	"UPDATE pictures SET whole = 'no picture at all', small = X'00ff'",
	"DELETE FROM pictures",
	"INSERT INTO gone VALUES ('goods', 'x', 9223372036854775807)",
	"UPDATE goose_db_version SET version_id = 1",
	"DROP TABLE goose_db_version",
	"PRAGMA user_version = -1",
	"PRAGMA user_version = 0",
	"PRAGMA user_version = 3",
	"PRAGMA user_version = 2147483647",
	"PRAGMA application_id = 1",
	"PRAGMA encoding = 'UTF-16'; VACUUM",
	"PRAGMA auto_vacuum = FULL; VACUUM",
	"PRAGMA page_size = 65536; VACUUM",
	"ANALYZE; UPDATE sqlite_stat1 SET stat = '1 1 1 1 1 1 noskipscan'",
}

// spoil changes the bytes of a shop file as a script says: statements first, run by SQLite itself, then
// bytes by place, by page and by cell. The rest of the script is what stands beside the file.
func spoil(t testing.TB, good, script []byte) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "shop")
	must(t, os.WriteFile(path, good, 0o600))
	next := func(n int) []byte {
		out := make([]byte, n)
		script = script[copy(out, script):]
		return out
	}
	statements := int(next(1)[0]) % 4
	if statements > 0 {
		db, err := sql.Open("sqlite3", address(path))
		must(t, err)
		db.SetMaxOpenConns(1)
		for _, s := range []string{"PRAGMA foreign_keys = 0", "PRAGMA ignore_check_constraints = 1", "PRAGMA writable_schema = 1"} {
			_, err := db.Exec(s)
			must(t, err)
		}
		for range statements {
			_, _ = db.Exec(foreignParts[int(next(1)[0])%len(foreignParts)]) // some do not go after others
		}
		must(t, db.Close())
	}
	data, err := os.ReadFile(path)
	must(t, err)
	size := 512
	pages := max(1, len(data)/size)
	for range int(next(1)[0]) % 24 {
		how, at, with := next(1)[0], int(binary.BigEndian.Uint32(append([]byte{0}, next(3)...))), next(2)
		page := data[at%pages*size : min(len(data), (at%pages+1)*size)]
		head := 0
		if at%pages == 0 {
			head = 100
		}
		if len(page) < head+16 {
			continue
		}
		switch how % 8 {
		case 0: // any byte
			data[at%len(data)] = with[0]
		case 1: // of the file's header
			data[at%100] = with[0]
		case 2: // of the page's header
			page[head+int(with[0])%12] = with[1]
		case 3: // where a cell stands
			copy(page[head+8+2*(int(with[0])%8):], with)
		case 4: // the whole page is another one
			copy(page, data[int(binary.BigEndian.Uint16(with))%pages*size:])
		case 5: // a number of the header
			copy(data[16+4*(at%20):], []byte{0, 0, with[0], with[1]})
		case 6: // a text within the page
			copy(page[min(len(page)-2, head+int(with[0])*2):], strings.Repeat(string(rune(with[1])), 8))
		case 7: // cut off
			data = data[:max(512, len(data)-at%len(data))]
			pages = max(1, len(data)/size)
		}
	}
	must(t, os.WriteFile(path, data, 0o600))
	if beside := next(1)[0]; beside%4 > 0 {
		must(t, os.WriteFile(path+[]string{"-wal", "-journal", "-shm"}[beside%4-1], script, 0o600))
	}
	return path
}

// FuzzOpen opens shop files that were spoiled and does with them all that a program does. Whatever is in
// a file, there is a sentence or it works: soon, and without a trace anywhere but in the file itself.
func FuzzOpen(f *testing.F) {
	good := smallShop(f)
	f.Add([]byte{})
	f.Add([]byte{3, 21, 22, 23})
	for i := range 8 {
		f.Add([]byte{0, 3, byte(i), 0, 3, 7, 1, 9, byte(i), 0, 0, 20, 255, 255, byte(i), 0, 40, 2, 0, 1})
	}
	f.Add(append([]byte{0, 0, 1}, "\x37\x7f\x06\x82\x00\x2d\xe2\x18\x00\x00\x02\x00"...))
	f.Add(append([]byte{0, 0, 2}, "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7\x00\x00\x00\x01"...))
	f.Fuzz(func(t *testing.T, script []byte) { bears(t, spoil(t, good, script)) })
}

// bears does with a file all that a program does, and fails where the file has not borne it.
func bears(t testing.TB, path string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	before, err := os.ReadFile(path)
	must(t, err)
	alone := len(besides(t, path)) == 1
	sentence := func(doing string, err error) bool {
		t.Helper()
		if err == nil {
			return false
		}
		if s := err.Error(); errors.Is(err, context.DeadlineExceeded) || len(s) > 2000 || strings.ContainsAny(s, "\n\r\x00") || !utf8.ValidString(s) {
			t.Fatalf("%s: it answers %.300q", doing, s)
		}
		return true
	}
	f, err := Open(ctx, path)
	if sentence("open", err) {
		after, _ := os.ReadFile(path)
		if alone && !errors.Is(err, ErrBusy) && !bytes.Equal(after, before) {
			t.Fatalf("it was refused, and yet changed: %v", err)
		}
		return
	}
	defer f.Close()
	c, err := f.Read(ctx)
	sentence("read", err)
	for _, r := range c.Records {
		_ = r.Name()
	}
	report, err := f.Check(ctx)
	sentence("check", err)
	for _, s := range report.Strings() {
		if strings.ContainsAny(s, "\n\r\x00") || strings.Contains(s, "{{") || len(s) > 2000 {
			t.Fatalf("the check says %.300q", s)
		}
	}
	good := costing.Good{Name: "rags", Unit: "each"}
	wrote := !sentence("write", f.Write(ctx, "rags", "", func(tx *Tx) error { return tx.PutGood(&good) }))
	if wrote {
		got, err := f.Read(ctx)
		if !sentence("read again", err) && len(got.Goods) != len(c.Goods)+1 {
			t.Fatalf("%d goods became %d", len(c.Goods), len(got.Goods))
		}
	}
	for range 4 {
		_, err := f.Undo(ctx)
		if sentence("undo", err) {
			break
		}
	}
	_, err = f.Redo(ctx)
	sentence("redo", err)
	_, err = f.UndoLabel(ctx)
	sentence("what is undone", err)
	_, err = f.Preference(ctx, "window")
	sentence("a preference", err)
	_, err = f.SweepPictures(ctx)
	sentence("sweep", err)
	for _, p := range c.Photos {
		_, err := f.Picture(ctx, p.PictureID, true)
		sentence("a picture", err)
	}
	sentence("read all", f.ReadWhole(ctx, func(Kept) (func([]any) error, error) { return func([]any) error { return nil }, nil }))
	copied := filepath.Join(filepath.Dir(path), "copy")
	if !sentence("copy", f.CopyTo(ctx, copied)) {
		must(t, os.Remove(copied))
	}
	sentence("close", f.Close())
	for _, name := range besides(t, path) {
		if !strings.HasPrefix(name, "shop") {
			t.Fatalf("it has left %s", name)
		}
	}
}

// besides are the names in the folder of a file.
func besides(t testing.TB, path string) []string {
	t.Helper()
	found, err := os.ReadDir(filepath.Dir(path))
	must(t, err)
	var out []string
	for _, d := range found {
		out = append(out, d.Name())
	}
	return out
}

// Every part and value that a stranger could put in is refused or does no harm.
func TestForeignParts(t *testing.T) {
	good := smallShop(t)
	for i, statement := range foreignParts {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			path := spoil(t, good, []byte{1, byte(i)})
			f, err := Open(t.Context(), path)
			if err == nil {
				f.Close()
			}
			made := strings.HasPrefix(statement, "CREATE ") || strings.HasPrefix(statement, "ALTER TABLE goods") || strings.HasPrefix(statement, "DROP TABLE goods")
			switch {
			case made && !errors.Is(err, ErrForeign):
				t.Errorf("%s: %v", statement, err)
			case strings.HasPrefix(statement, "DROP TABLE") && !errors.Is(err, ErrDamaged) && !strings.Contains(statement, "goose"):
				t.Errorf("%s: %v", statement, err)
			}
			bears(t, path)
		})
	}
}

// FuzzShown: whatever an address of a server looks like, its password is in nothing that is shown.
func FuzzShown(f *testing.F) {
	const secret = "s3cr3tZq9"
	f.Add("bench:", "@localhost/shop")
	f.Add("bench@localhost/shop?password=", "&sslmode=require")
	f.Add("bench:", "#%zz@[::1]:5432/%00")
	f.Add("", "")
	f.Fuzz(func(t *testing.T, before, after string) {
		where := "postgres://" + before + secret + after
		if !IsServer(where) {
			t.Fatalf("%q is no server", where)
		}
		about, err := url.Parse(where)
		is := false // where the secret stands for a password, and not for a user, a host or a shop
		if err == nil {
			given, _ := about.User.Password()
			is = given == secret || strings.HasPrefix(strings.ToLower(after), "@") && strings.HasSuffix(before, ":") || about.Query().Get("password") == secret
			rest := *about
			rest.User, rest.RawQuery = url.User(about.User.Username()), ""
			is = is && !strings.Contains(rest.String(), secret)
		}
		shown := Shown(where)
		if is && strings.Contains(shown, secret) {
			t.Fatalf("%q is shown as %q", where, shown)
		}
		if strings.Contains(where, "cert") || strings.Contains(where, "file") || strings.Contains(where, "key") || strings.Contains(where, "service") {
			return // which would be read
		}
		if _, err := parseAddress(where); err != nil && (is && strings.Contains(err.Error(), secret) || strings.ContainsAny(err.Error(), "\n\r\x00")) {
			t.Fatalf("%q answers %q", where, err)
		}
	})
}

// FuzzRestore: what stands in the undo log for a row of any table is a row that can be written down as it
// stands there, or is refused in one line.
func FuzzRestore(f *testing.F) {
	for i := range tables {
		f.Add(byte(i), `{"make":"Halvard","power":90,"year":2003}`)
		f.Add(byte(i), `{"name":{"a":[1]},"quantity":1e400,"version":9223372036854775808}`)
	}
	f.Fuzz(func(t *testing.T, which byte, image string) {
		table := tables[int(which)%len(tables)]
		r := table.fresh()
		if err := r.restore(image); err != nil {
			if strings.ContainsAny(err.Error(), "\n\r\x00") || len(err.Error()) > 1000 {
				t.Fatalf("%q: %.300q", image, err)
			}
			return
		}
		values, err := r.tryValues()
		if err != nil {
			return // a word that is none
		}
		first, err := table.image(values)
		must(t, err)
		again := table.fresh()
		must(t, again.restore(first))
		values, err = again.tryValues()
		must(t, err)
		if second, err := table.image(values); err != nil || second != first {
			t.Fatalf("%s: %q became %q and then %q (%v)", table.name, image, first, second, err)
		}
	})
}
