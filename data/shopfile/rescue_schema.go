package shopfile

import (
	"context"
	"database/sql"
	"encoding/binary"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"skegworth/valuation/say"
)

// entry is a table or an index of a schema with the page that it begins on.
type entry struct {
	part
	root int64
}

// guess is a schema that a damaged file may have had: the tables of a version, and where they begin by some
// source.
type guess struct {
	version int
	entries []entry
	copied  string // name of the copy that it is taken from, "" for a new shop file
	own     bool   // what is left of the file's own goes before
	rows    int    // that can be read with it
	doubt   bool   // rows are left that no table claims
	perfect bool
}

// copiesTried is how many copies, the newest first, are asked where the tables of a damaged file begin.
const copiesTried = 8

// mendSchema gives a private copy of a damaged file a description of its tables where its own cannot be read.
// The tables are those that the migrations make; where each begins is told by what is left of the file's own
// description, by its copies, whose tables begin on the same pages, or by a new shop file, whose tables do
// unless the file is one that was brought up to date. A table whose rows do not fit its columns is left out.
// Nothing that lies in the file is written over but its first page: the new description is put at its end.
func (out *Rescued) mendSchema(ctx context.Context, path string, copies []string) error {
	s, err := surveyOf(path)
	if err != nil {
		return err
	}
	is, schema, readable := described(ctx, path)
	if readable {
		if doubts, err := s.doubts(ctx, is, schema); err != nil || len(doubts) == 0 {
			return err
		}
	}
	_ = os.Remove(path + "-wal") // closing has put into the file what can be read of it
	_ = os.Remove(path + "-shm")
	guesses, err := guessesFor(ctx, s, schema, copies)
	if err != nil {
		return err
	}
	var best *guess
	for i := range guesses {
		g := &guesses[i]
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := g.try(ctx, s, path); err != nil {
			return err
		}
		if g.rows > 0 && (best == nil || g.rows > best.rows) {
			best = g
		}
		if g.perfect {
			best = g
			break
		}
	}
	if best == nil {
		return errNothing
	}
	if err := describe(ctx, path, s.pages, best.version, best.entries); err != nil {
		return err
	}
	out.doubt = best.doubt
	if best.copied != "" {
		out.Notes = append(out.Notes, say.New("rescue.schema.copy", "The file's own description of its tables was damaged; where they lie was taken from the copy {{.Copy}}.", "Copy", best.copied))
	} else if best.own {
		out.Notes = append(out.Notes, say.New("rescue.schema.left", "The file's own description of its tables was damaged; where they lie was taken from what is left of it and from a new shop file."))
	} else {
		out.Notes = append(out.Notes, say.New("rescue.schema.fresh", "The file's own description of its tables was damaged; where they lie was taken from a new shop file."))
	}
	return nil
}

// errNothing is of a file that is damaged all over.
var errNothing = fmt.Errorf("%w, and nothing can be read from it", ErrDamaged)

// described is the schema of a file and its number, as far as it can be told; the number is 0 otherwise.
// Closing it brings what its journals hold into the file.
func described(ctx context.Context, path string) (found []entry, version int, readable bool) {
	db := sql.OpenDB(broken{path})
	defer db.Close()
	db.SetMaxOpenConns(1)
	version, err := shapeOf(ctx, db)
	if err == nil {
		found, err = entriesOf(ctx, db)
	}
	if err != nil {
		version = headerVersion(path)
	}
	return found, version, err == nil
}

// headerVersion is the number that the header of a file has; 0 where it is none that is known.
func headerVersion(path string) int {
	file, err := os.Open(path)
	if err != nil {
		return 0
	}
	defer file.Close()
	var b [4]byte
	if _, err := file.ReadAt(b[:], 60); err != nil {
		return 0
	}
	if v := binary.BigEndian.Uint32(b[:]); v <= schemaVersion {
		return int(v)
	}
	return 0
}

// entriesOf is everything in a schema that begins on a page.
func entriesOf(ctx context.Context, r reader) ([]entry, error) {
	rows, err := r.QueryContext(ctx, "SELECT type, name, tbl_name, rootpage, coalesce(sql, '') FROM sqlite_master WHERE type IN ('table', 'index')")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []entry
	for rows.Next() {
		var e entry
		if err := rows.Scan(&e.kind, &e.name, &e.of, &e.root, &e.text); err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	return out, rows.Err()
}

// shape is the schema of a new file of a version, in the order in which it was made, and its tables.
type shape struct {
	entries []entry
	kept    []Kept
}

// shapes are worked out once for each version.
var shapes sync.Map // int to shape

func shapeMade(ctx context.Context, version int) (shape, error) {
	if known, ok := shapes.Load(version); ok {
		return known.(shape), nil
	}
	db := sql.OpenDB(memory{})
	defer db.Close()
	db.SetMaxOpenConns(1)
	var out shape
	err := climbTo(ctx, db, version)
	if err == nil {
		out.entries, err = entriesOf(ctx, db)
	}
	if err == nil {
		out.kept, err = keptTables(ctx, db)
	}
	if err == nil {
		shapes.Store(version, out)
	}
	return out, err
}

// copyEntries is the schema of a sound shop file, which is not changed, nor is anything put beside it.
func copyEntries(ctx context.Context, path string) (found []entry, version int, err error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, 0, err
	}
	u, err := url.Parse(address(full))
	if err != nil {
		return nil, 0, err
	}
	u.RawQuery = "mode=ro&immutable=1"
	db, err := sql.Open("sqlite3", u.String())
	if err != nil {
		return nil, 0, err
	}
	defer db.Close()
	if found, err = entriesOf(ctx, db); err != nil {
		return nil, 0, err
	}
	version, err = shapeOf(ctx, db)
	return found, version, err
}

// doubts are the parts of a version's schema that a file's own lacks, words otherwise, or begins where
// they cannot.
func (s *survey) doubts(ctx context.Context, is []entry, version int) ([]string, error) {
	ought, err := shapeMade(ctx, version)
	if err != nil {
		return nil, err
	}
	plain := func(text string) string { return strings.Join(strings.Fields(text), " ") }
	known := map[part]entry{}
	claimed := map[int64]int{}
	for _, e := range is {
		known[e.called()] = e
		claimed[e.root]++
	}
	var out []string
	for _, o := range ought.entries {
		e, there := known[o.called()]
		_, wrong := s.bears(e.kind, e.root)
		if !there || plain(e.text) != plain(o.text) || wrong || claimed[e.root] > 1 {
			out = append(out, o.name)
		}
	}
	return out, nil
}

// guessesFor are the schemas that are worth trying, the likeliest first.
func guessesFor(ctx context.Context, s *survey, version int, copies []string) ([]guess, error) {
	var out []guess
	add := func(version int, roots map[part]int64, copied string) error {
		made, err := shapeMade(ctx, version)
		if err != nil {
			return err
		}
		fresh, over := slices.Clone(made.entries), slices.Clone(made.entries)
		differs := false
		for i, e := range fresh {
			if roots != nil {
				fresh[i].root = roots[e.called()]
			}
			over[i].root = fresh[i].root
			if own := s.own[e.called()]; own != 0 {
				differs = differs || own != fresh[i].root
				over[i].root = own
			}
		}
		out = append(out, guess{version: version, entries: over, copied: copied, own: len(s.own) > 0})
		if differs {
			out = append(out, guess{version: version, entries: fresh, copied: copied})
		}
		return nil
	}
	for _, path := range copies[:min(len(copies), copiesTried)] {
		found, v, err := copyEntries(ctx, path)
		if err != nil {
			continue // a copy that is damaged too
		}
		roots := map[part]int64{}
		for _, e := range found {
			roots[e.called()] = e.root
		}
		if err := add(v, roots, filepath.Base(path)); err != nil {
			return nil, err
		}
	}
	versions := []int{}
	if version > 0 {
		versions = append(versions, version)
	}
	for v := schemaVersion; v > 0; v-- {
		if v != version {
			versions = append(versions, v)
		}
	}
	for _, v := range versions {
		if err := add(v, nil, ""); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// try counts the rows that can be read with a guess, and takes out of it the tables whose rows do not fit.
func (g *guess) try(ctx context.Context, s *survey, path string) error {
	var entries []entry
	claimed := map[int64]bool{}
	right, off := 0, 0
	for _, e := range g.entries {
		is, wrong := s.bears(e.kind, e.root)
		if wrong || claimed[e.root] {
			off++
			continue
		}
		if is {
			right++
		}
		if e.root > s.pages {
			continue
		}
		claimed[e.root] = true
		entries = append(entries, e)
	}
	g.entries = entries
	if right <= off {
		return nil
	}
	made, err := shapeMade(ctx, g.version)
	if err != nil {
		return err
	}
	if err := describe(ctx, path, s.pages, g.version, g.entries); err != nil {
		return err
	}
	db := sql.OpenDB(broken{path})
	defer db.Close()
	db.SetMaxOpenConns(1)
	var came int
	if err := db.QueryRowContext(ctx, "SELECT MAX(version_id) FROM goose_db_version").Scan(&came); err == nil && came != g.version {
		return nil
	}
	rows, odd := 0, map[string]bool{}
	for _, t := range made.kept {
		fit, unfit := fitting(ctx, db, t)
		root := g.rootOf(t.Name)
		if unfit > fit || root > 0 && s.kind[root] == tableLeaf && s.columns[root] > uint64(len(t.Columns)) {
			odd[t.Name] = true
			continue
		}
		rows += fit
	}
	g.entries = slices.DeleteFunc(g.entries, func(e entry) bool { return odd[e.of] })
	g.rows = rows
	g.doubt = g.copied == "" && s.unclaimed(g.entries)
	g.perfect = off == 0 && len(odd) == 0 && !g.doubt
	return nil
}

func (g *guess) rootOf(table string) int64 {
	for _, e := range g.entries {
		if e.kind == "table" && e.name == table {
			return e.root
		}
	}
	return 0
}

// fitting counts the rows of a table, up to the first damage, by whether its columns can hold what they have.
func fitting(ctx context.Context, db *sql.DB, t Kept) (fit, unfit int) {
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = `"` + c.Name + `"`
	}
	w := walker{ctx: ctx, db: db, table: t.Name, columns: strings.Join(names, ", "), width: len(names), seen: map[int64]bool{}}
	w.row = func(values []any) error {
		for i, c := range t.Columns {
			if !c.takes(values[i]) || unreadable(values[i]) {
				unfit++
				return nil
			}
		}
		fit++
		return nil
	}
	w.forward(-1<<63, 1<<63-1)
	return fit, unfit
}

// describe makes the first page of a private copy that of an empty schema, keeping what its header says about
// the rest, and puts the entries into it. SQLite takes new pages for them at the end of what the file had.
func describe(ctx context.Context, path string, pages int64, version int, entries []entry) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	err = blank(file, pages)
	if closed := file.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	db := sql.OpenDB(broken{path})
	defer db.Close()
	db.SetMaxOpenConns(1)
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	for _, e := range entries {
		var text any
		if e.text != "" {
			text = e.text
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO sqlite_master (type, name, tbl_name, rootpage, sql) VALUES ($1, $2, $3, $4, $5)", e.kind, e.name, e.of, e.root, text); err != nil {
			return err
		}
	}
	if _, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", version)); err != nil {
		return err
	}
	return tx.Commit()
}

func blank(file *os.File, pages int64) error {
	if err := file.Truncate(pages * pageSize); err != nil {
		return err
	}
	page := make([]byte, pageSize)
	if _, err := file.ReadAt(page[:headerSize], 0); err != nil {
		return err
	}
	clear(page[headerSize:])
	page[18], page[19] = 1, 1                            // a rollback journal
	binary.BigEndian.PutUint32(page[28:], uint32(pages)) // in all
	clear(page[32:40])                                   // and none of them free
	clear(page[52:56])                                   // none of them moves
	clear(page[64:68])
	copy(page[92:96], page[24:28])                            // the number of pages is of the last change
	page[headerSize] = tableLeaf                              // without rows
	binary.BigEndian.PutUint16(page[headerSize+5:], pageSize) // which begin at its end
	_, err := file.WriteAt(page, 0)
	return err
}
