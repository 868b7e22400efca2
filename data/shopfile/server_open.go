package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/pressly/goose/v3"
)

// commitsTable is what a shop on a server has beside the tables of every shop; see server_write.go.
const commitsTable = `CREATE TABLE commits (
	program TEXT NOT NULL PRIMARY KEY,
	last TEXT NOT NULL,
	at TIMESTAMPTZ NOT NULL
)`

// found makes the tables of a new shop where no tables are.
func (f *File) found(ctx context.Context) error {
	return f.server.shape(ctx, func(db *sql.DB) error {
		if err := emptySchema(ctx, db); err != nil {
			return err
		}
		return raiseTo(ctx, db, schemaVersion)
	})
}

// emptySchema makes sure that a shop can be made: an [ErrExists] says that something is there already.
func emptySchema(ctx context.Context, db *sql.DB) error {
	about, err := lookAt(ctx, db)
	switch {
	case err != nil:
		return err
	case about.schema == "":
		return told{errNoSchema}
	case about.tables > 0:
		return &trouble{"make a shop", errors.New("there are tables in this database already, and a new shop needs a place of its own: " +
			"name an empty database, or an empty schema by search_path"), ErrExists}
	case about.encoding != "UTF8":
		return told{fmt.Errorf("the database keeps text as %s, and a shop needs one made with ENCODING 'UTF8'", about.encoding)}
	}
	return nil
}

var errNoSchema = errors.New("the database has no schema of the name that the address or the login's search_path says")

// raiseTo brings the tables from nothing or from an older schema to the one of that number.
func raiseTo(ctx context.Context, db *sql.DB, schema int64) error {
	var there bool
	if err := db.QueryRowContext(ctx, inSchema("commits")).Scan(&there); err != nil {
		return err
	}
	if !there {
		if _, err := db.ExecContext(ctx, commitsTable); err != nil {
			return err
		}
	}
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	provider, err := goose.NewProvider(goose.DialectPostgres, db, files, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	if _, err = provider.UpTo(ctx, schema); err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, onlyRead)
	return err
}

// inSchema asks whether the schema of this connection has a table.
func inSchema(table string) string {
	return "SELECT to_regclass(quote_ident(CAST(current_schema() AS TEXT)) || '." + table + "') IS NOT NULL"
}

// place is what an address leads to.
type place struct {
	schema   string // "" where there is none
	tables   int64
	ours     int64 // of them those of which a shop is known
	encoding string
	standby  bool // nothing can be written
	version  int64
}

// shopTables are those by which a shop is known for one.
const shopTables = "('goose_db_version', 'commits', 'steps', 'changes', 'gone', 'preferences', 'motors', 'settings')"

func lookAt(ctx context.Context, r reader) (place, error) {
	var p place
	err := r.QueryRowContext(ctx, `SELECT COALESCE(CAST(current_schema() AS TEXT), ''), current_setting('server_encoding'),
			pg_is_in_recovery() OR current_setting('default_transaction_read_only') = 'on',
			COUNT(c.oid), COUNT(c.oid) FILTER (WHERE c.relkind = 'r' AND c.relname IN `+shopTables+`)
		FROM pg_namespace n LEFT JOIN pg_class c ON c.relnamespace = n.oid AND c.relkind IN ('r', 'p', 'v', 'm', 'f')
		WHERE n.nspname = current_schema()`).Scan(&p.schema, &p.encoding, &p.standby, &p.tables, &p.ours)
	if errors.Is(err, sql.ErrNoRows) {
		return p, nil
	}
	if err != nil || p.ours < int64(strings.Count(shopTables, ",")+1) {
		return p, err
	}
	return p, r.QueryRowContext(ctx, "SELECT COALESCE(MAX(version_id), 0) FROM goose_db_version WHERE is_applied").Scan(&p.version)
}

// receiveServer finds out what stands at the address and makes it ready.
func (f *File) receiveServer(ctx context.Context) error {
	doing := fmt.Sprintf("open %q", f.path)
	var p place
	if err := f.reading(ctx, doing, func(r reader) (err error) { p, err = lookAt(ctx, r); return err }); err != nil {
		return err
	}
	switch {
	case p.schema == "":
		return told{fmt.Errorf("%s: %w", doing, errNoSchema)}
	case p.tables == 0:
		return &trouble{doing, errors.New("there is no shop in this database yet"), fs.ErrNotExist}
	case p.version == 0:
		return &trouble{doing, errors.New("the tables in this database are not those of a shop"), ErrNotShopFile}
	case p.version > schemaVersion:
		return ErrNewer
	case p.standby:
		return ErrReadOnly
	case p.version < schemaVersion:
		if err := f.upgradeServer(ctx); err != nil {
			return err
		}
	}
	if err := f.reading(ctx, doing, func(r reader) error { return wholeServer(ctx, r) }); err != nil {
		return err
	}
	if err := countOn(ctx, f.db); err != nil {
		return err
	}
	return f.clockNote(ctx)
}

// upgradeServer brings a shop of an older program up to date, unless another bench was faster.
func (f *File) upgradeServer(ctx context.Context) error {
	err := f.server.shape(ctx, func(db *sql.DB) error {
		if _, err := db.ExecContext(ctx, "LOCK TABLE steps IN EXCLUSIVE MODE"); err != nil { // who reads goes on
			return err
		}
		p, err := lookAt(ctx, db)
		if err != nil || p.version >= schemaVersion {
			return err
		}
		if err := mayRaise(ctx, db); err != nil {
			return err
		}
		if err := f.upgrading(ctx, p.version); err != nil {
			return told{err}
		}
		return raiseTo(ctx, db, schemaVersion)
	})
	if sqlState(err) == "42501" {
		return &trouble{fmt.Sprintf("open %q", f.path), errors.New("the shop was made by an older version of the program, and this login " +
			"may not bring it up to date: have it opened once by the login that owns its tables"), errors.Join(ErrForbidden, err)}
	}
	return err
}

// mayRaise asks before anybody copies a shop for nothing whether this login may change its tables.
func mayRaise(ctx context.Context, db *sql.DB) error {
	_, err := db.ExecContext(ctx, "COMMENT ON TABLE steps IS 'what was done, to be undone'")
	return err
}

// wholeServer makes sure that every table and column is there, and that this login may read and write them.
func wholeServer(ctx context.Context, r reader) error {
	there, err := keys(ctx, r, `SELECT c.relname || '.' || a.attname FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid
		WHERE c.relnamespace = CAST(quote_ident(CAST(current_schema() AS TEXT)) AS regnamespace) AND c.relkind = 'r'
			AND a.attnum > 0 AND NOT a.attisdropped`)
	if err != nil {
		return err
	}
	known := make(map[string]bool, len(there))
	for _, each := range there {
		known[each] = true
	}
	wanted := map[string][]string{
		"preferences": {"name", "setting"},
		"steps":       {"n", "label", "merge_key", "written_at", "undone"},
		"changes":     {"step", "table_name", "row_id", "was", "became"},
		"gone":        {"table_name", "row_id", "version"},
		"pictures":    {"id", "whole", "small"},
		"commits":     {"program", "last", "at"},
	}
	for _, t := range tables {
		wanted[t.name] = append([]string{"id", "version"}, t.columns...)
	}
	var missing []string
	for table, columns := range wanted {
		for _, column := range columns {
			if !known[table+"."+column] {
				missing = append(missing, "no "+column+" in "+table)
			}
		}
	}
	if len(missing) > 0 {
		return &damage{missing[:1]}
	}
	barred, err := keys(ctx, r, `SELECT relname FROM pg_class
		WHERE relnamespace = CAST(quote_ident(CAST(current_schema() AS TEXT)) AS regnamespace) AND relkind = 'r'
			AND NOT CASE WHEN relname = 'goose_db_version' THEN has_table_privilege(oid, 'SELECT')
				ELSE has_table_privilege(oid, 'SELECT') AND has_table_privilege(oid, 'INSERT')
					AND has_table_privilege(oid, 'UPDATE') AND has_table_privilege(oid, 'DELETE') END
		ORDER BY relname`)
	if err == nil && len(barred) > 0 {
		err = ErrForbidden
	}
	return err
}

// farewell takes the row of this File out of the table of commits, and those of programs that ended without,
// as far as the server can be reached.
func (f *File) farewell() {
	ctx, stop := context.WithTimeout(context.Background(), farewellWithin)
	defer stop()
	if f.server.writes.Load() > 0 {
		_, _ = f.db.ExecContext(ctx, "DELETE FROM commits WHERE program = $1 OR at < now() - INTERVAL '30 days'", f.server.program)
	}
}
