package shopfile

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/mattn/go-sqlite3"
)

// ErrForeign is of a file in which somebody has put a part of his own: a trigger that acts whenever
// something is written, a view in place of a table, a table with another rule. Such a part could keep the
// program busy for ever or change what nobody asked it to, and so the file is not opened. It is an
// [ErrDamaged] too: the same helps.
var ErrForeign = errors.New("the shop file has a part that this program never makes")

// foreign is an ErrForeign that names the part.
type foreign struct{ name string }

func (f *foreign) Error() string { return fmt.Sprintf("%v (%.60q)", ErrForeign, f.name) }

func (f *foreign) Is(target error) bool { return target == ErrForeign || target == ErrDamaged }

// strangers looks for parts of the file's schema that the migrations up to a version do not make, or that
// are worded with words of which no migration is. It is asked before anything else is: what a stranger has
// put in acts as soon as a table of his is read.
//
// Words, not the whole text: a table made anew on the way reads otherwise than one that was made so at once.
func strangers(ctx context.Context, db reader, version int64) error {
	all, err := parts(ctx, db)
	if err != nil {
		return err
	}
	known, err := madeBy(ctx, version)
	if err != nil {
		return err
	}
	for _, p := range all {
		if !known[p.called()] || !ownWords(p.text) {
			return &foreign{p.name}
		}
	}
	return nil
}

// part is one entry of a file's schema: a table, an index, a trigger, a view.
type part struct{ kind, name, of, text string }

// called is the part without its text.
func (p part) called() part { return part{p.kind, p.name, p.of, ""} }

// parts are the schema of a file, without what SQLite keeps for itself, its statistics and the indexes that
// keys bring with them, and without the table in which the migrations note how far they have come.
func parts(ctx context.Context, db reader) ([]part, error) {
	rows, err := db.QueryContext(ctx, `SELECT coalesce(type, ''), coalesce(name, ''), coalesce(tbl_name, ''), coalesce(sql, '') FROM sqlite_master`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []part
	for rows.Next() {
		var p part
		if err := rows.Scan(&p.kind, &p.name, &p.of, &p.text); err != nil {
			return nil, err
		}
		plain := p.kind == "table" && p.name == p.of && strings.HasPrefix(strings.ToUpper(p.text), "CREATE TABLE ")
		switch {
		case strings.HasPrefix(p.name, "sqlite_") && (plain || p.kind == "index" && p.text == ""):
		case p.name == "goose_db_version" && plain:
		default:
			out = append(out, p)
		}
	}
	return out, rows.Err()
}

// made are the parts, without their texts, that the migrations up to one give a file.
var made sync.Map // int64 to map[part]bool

// madeBy works them out once for each version.
func madeBy(ctx context.Context, version int64) (map[part]bool, error) {
	if known, ok := made.Load(version); ok {
		return known.(map[part]bool), nil
	}
	db := sql.OpenDB(memory{})
	defer db.Close()
	db.SetMaxOpenConns(1)
	out := map[part]bool{}
	if version > 0 {
		if err := climbTo(ctx, db, int(version)); err != nil {
			return nil, err
		}
	}
	all, err := parts(ctx, db)
	if err != nil {
		return nil, err
	}
	for _, p := range all {
		out[p.called()] = true
	}
	made.Store(version, out)
	return out, nil
}

// vocabulary is every word of the migrations: the names of tables and columns, and of SQL little more than
// it takes to make them.
var vocabulary = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	_ = fs.WalkDir(migrations, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := migrations.ReadFile(path)
		for _, w := range wordsOf(string(text)) {
			out[w] = true
		}
		return err
	})
	return out
})

func ownWords(text string) bool {
	known := vocabulary()
	return !slices.ContainsFunc(wordsOf(text), func(w string) bool { return !known[w] })
}

func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// memory opens an empty database that lies in memory only.
type memory struct{}

// Driver is part of driver.Connector.
func (memory) Driver() driver.Driver { return &sqlite3.SQLiteDriver{} }

// Connect opens it. Each connection has one of its own.
func (memory) Connect(context.Context) (driver.Conn, error) {
	raw, err := (&sqlite3.SQLiteDriver{}).Open(":memory:")
	if err != nil {
		return nil, err
	}
	return &conn{inner: raw.(*sqlite3.SQLiteConn)}, nil
}
