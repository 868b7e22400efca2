package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"skegworth/valuation/say"
)

// Rescued is what [Rescue] could save of a damaged file.
type Rescued struct {
	Tables  []RescuedTable
	Notes   []say.Sentence // what was done to read it, and what the new file lacks as a whole
	LeftOut []say.Sentence // rows that were read but belong to something that is lost, or cannot be kept
	Report  Report         // what a check of the new file says

	doubt bool // rows are left that no table claims
}

// RescuedTable is what became of the rows of one table.
type RescuedTable struct {
	Name   string
	Saved  int
	Lost   int  // as far as is known
	Unsure bool // more may be lost: nothing tells how many there were
}

// Whole tells whether every row is in the new file.
func (r Rescued) Whole() bool {
	for _, t := range r.Tables {
		if t.Lost > 0 || t.Unsure {
			return false
		}
	}
	return len(r.LeftOut) == 0
}

// Rescue saves what can be read of a damaged shop file into a new one at to, where nothing may be yet. The
// damaged file and its journals are only read. Rows are kept as they are or not at all, but for a reference
// to what is lost, which is emptied where the row means something without it. What was lost from a table and
// still stands whole in the undo log is put back from there.
//
// Where the file's own description of its tables is lost, its copies, the newest first, tell where they lie;
// nothing else is taken from them.
//
// The error is [ErrDamaged] when nothing can be read, and [ErrNotShopFile] where nothing looks like a shop
// file; no file is made then.
func Rescue(ctx context.Context, path, to string, copies ...string) (Rescued, error) {
	var out Rescued
	doing := fmt.Sprintf("rescue %q", path)
	err := out.rescue(ctx, doing, path, to, copies)
	return out, explain(doing, err)
}

func (out *Rescued) rescue(ctx context.Context, doing, path, to string, copies []string) error {
	full, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	about, err := os.Stat(full)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &trouble{doing, errors.New("there is no such file"), err}
	case err != nil:
		return err
	case !about.Mode().IsRegular():
		return ErrNotShopFile
	}
	copied, remove, err := out.specimen(ctx, full, about)
	if err != nil {
		return err
	}
	defer remove()
	if err := notNewer(ctx, copied); err != nil {
		return err
	}
	if err := out.mendSchema(ctx, copied, copies); err != nil {
		return err
	}
	from := sql.OpenDB(broken{copied})
	defer from.Close()
	from.SetMaxOpenConns(1)
	schema, err := shapeOf(ctx, from)
	if err != nil {
		return err
	}
	err = publish(doing, to, func(draft string) error {
		if err := out.fill(ctx, from, draft, schema); err != nil {
			return err
		}
		if err := migrate(ctx, draft, unasked); err != nil {
			return err
		}
		return settle(ctx, draft)
	})
	if err != nil {
		return err
	}
	f, err := Open(ctx, to)
	if err != nil {
		return err
	}
	defer f.Close()
	out.Report, err = f.Check(ctx)
	return err
}

// specimen is a private copy of the file with those of its journals that make the best of it, and with a
// header that SQLite can read.
func (out *Rescued) specimen(ctx context.Context, path string, about os.FileInfo) (string, func(), error) {
	held.Lock()
	defer held.Unlock()
	file, err := os.Open(path)
	if err != nil {
		return "", nil, err
	}
	defer closeBeside(file, about)
	with := leftover(path)
	if len(with) > 0 {
		if s, err := tried(ctx, file, path, with); err == nil && s.fault != nil {
			if s, err := tried(ctx, file, path, nil); err == nil && s.fault == nil {
				with = nil
				out.Notes = append(out.Notes, say.New("rescue.stray", "The journal beside the file does not belong to it and was not read."))
			}
		}
	}
	copied, remove, err := private(file, path, with)
	if err != nil {
		return "", nil, err
	}
	mended, err := mendHeader(ctx, copied)
	if err != nil {
		remove()
		return "", nil, err
	}
	if mended {
		out.Notes = append(out.Notes, say.New("rescue.header", "The file's header was damaged; it was read with that of a new shop file."))
	}
	return copied, remove, nil
}

// mendHeader gives a file whose header is not that of a shop file the one that all shop files share: the
// first hundred bytes say how large a page is and how text is written, and nothing of what is in it.
func mendHeader(ctx context.Context, path string) (bool, error) {
	const size = 100
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return false, err
	}
	defer file.Close()
	is := make([]byte, size)
	if _, err := file.ReadAt(is, 0); err != nil {
		return false, ErrDamaged
	}
	folder, err := os.MkdirTemp("", "skegworth-*")
	if err != nil {
		return false, err
	}
	defer os.RemoveAll(folder)
	fresh := filepath.Join(folder, "fresh")
	if err := pour(fresh, strings.NewReader("")); err != nil {
		return false, err
	}
	if err := mark(ctx, fresh); err != nil {
		return false, err
	}
	if err := settle(ctx, fresh); err != nil {
		return false, err
	}
	ought, err := os.ReadFile(fresh)
	if err != nil || len(ought) < size {
		return false, err
	}
	// The format of SQLite's file header: magic, page size and fractions; schema format; encoding; id.
	shared := [][2]int{{0, 18}, {20, 24}, {44, 48}, {56, 60}, {68, 72}}
	right := true
	for _, s := range shared {
		right = right && string(is[s[0]:s[1]]) == string(ought[s[0]:s[1]])
	}
	// A rollback journal is 1, a write-ahead log 2; which of them matters little here.
	right = right && (is[18] == 1 || is[18] == 2) && is[18] == is[19]
	if right {
		return false, nil
	}
	for _, s := range shared {
		copy(is[s[0]:s[1]], ought[s[0]:s[1]])
	}
	is[18], is[19] = ought[18], ought[19]
	clear(is[28:40]) // pages in all and free ones: by the size of the file, and unused here
	if _, err := file.WriteAt(is, 0); err != nil {
		return false, err
	}
	return true, nil
}

// notNewer refuses a file of a newer program, whose tables this one would take for spoilt. What cannot be read
// tells nothing of it.
func notNewer(ctx context.Context, path string) error {
	from := sql.OpenDB(broken{path})
	defer from.Close()
	var version int
	if err := from.QueryRowContext(ctx, "SELECT MAX(version_id) FROM goose_db_version").Scan(&version); err == nil && version > schemaVersion {
		return ErrNewer
	}
	return nil
}

// shapeOf is the number of the shape that the tables have. A header may be wrong about it.
func shapeOf(ctx context.Context, from *sql.DB) (int, error) {
	var tables, version int
	if err := from.QueryRowContext(ctx, "SELECT COUNT(*) FROM sqlite_master WHERE type = 'table' AND name IN ('motors', 'lines', 'settings', 'steps')").Scan(&tables); err != nil {
		return 0, err
	}
	if tables == 0 {
		return 0, errNothing
	}
	_ = from.QueryRowContext(ctx, "SELECT MAX(version_id) FROM goose_db_version").Scan(&version)
	if version < 1 {
		_ = from.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version)
	}
	switch {
	case version > schemaVersion:
		return 0, ErrNewer
	case version < 1:
		return schemaVersion, nil
	}
	return version, nil
}

// fill puts all that can be read into a new file of the same shape.
func (out *Rescued) fill(ctx context.Context, from *sql.DB, draft string, schema int) error {
	if err := mark(ctx, draft); err != nil {
		return err
	}
	db := sql.OpenDB(engine{draft})
	defer db.Close()
	db.SetMaxOpenConns(1)
	if err := climbTo(ctx, db, schema); err != nil {
		return err
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	kept, err := keptTables(ctx, tx)
	if err != nil {
		return err
	}
	for _, t := range kept {
		if _, err := tx.ExecContext(ctx, `DELETE FROM "`+t.Name+`"`); err != nil {
			return err
		}
		saved, err := out.move(ctx, from, tx, t)
		if err != nil {
			return err
		}
		out.Tables = append(out.Tables, saved)
	}
	if schema == schemaVersion {
		if err := out.byLog(ctx, tx); err != nil {
			return err
		}
	}
	if err := out.mendReferences(ctx, tx, kept); err != nil {
		return err
	}
	if err := out.endLog(ctx, tx); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	return sound(ctx, db)
}

// move brings the rows of one table over.
func (out *Rescued) move(ctx context.Context, from *sql.DB, tx *sql.Tx, t Kept) (RescuedTable, error) {
	saved := RescuedTable{Name: t.Name}
	names, params := make([]string, len(t.Columns)), make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i], params[i] = `"`+c.Name+`"`, fmt.Sprintf("$%d", i+1)
	}
	insert, err := tx.PrepareContext(ctx, fmt.Sprintf(`INSERT INTO "%s" (%s) VALUES (%s)`, t.Name, strings.Join(names, ", "), strings.Join(params, ", ")))
	if err != nil {
		return saved, err
	}
	defer insert.Close()
	w := walker{ctx: ctx, db: from, table: t.Name, columns: strings.Join(names, ", "), width: len(names)}
	refused := 0
	err = w.walk(func(values []any) error {
		for i, c := range t.Columns {
			if !c.takes(values[i]) || unreadable(values[i]) {
				refused++
				return nil
			}
		}
		if _, err := insert.ExecContext(ctx, values...); err != nil {
			if !ofTheRow(err) {
				return err
			}
			refused++
			return nil
		}
		saved.Saved++
		return nil
	})
	saved.Lost, saved.Unsure = w.lost+refused, w.unsure || out.doubt && saved.Saved == 0
	return saved, err
}

// unreadable tells of a text that nobody can have written: it lay over a part of the disk that was lost.
func unreadable(v any) bool {
	s, ok := v.(string)
	return ok && (strings.ContainsRune(s, 0) || !utf8.ValidString(s))
}
