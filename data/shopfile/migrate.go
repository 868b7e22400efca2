package shopfile

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"

	"github.com/pressly/goose/v3"
)

const (
	// applicationID marks a SQLite file as a shop file: "Skeg" in ASCII.
	applicationID = 0x536B6567
	// schemaVersion is the number of the newest migration, kept in the file as user_version.
	schemaVersion = 7
)

//go:embed migrations/*.sql
var migrations embed.FS

// migrate brings the file to the newest schema. Everything happens in one transaction that holds the
// file's write lock from the start: of several programs that open an old file at once, one migrates and
// the others find it done, and a program that dies midway leaves the file as it was. Before is told the
// schema of a file that is to be migrated, under that lock; its error leaves the file as it was.
func migrate(ctx context.Context, path string, before func(ctx context.Context, from int64) error) error {
	opened, err := engine{path}.Connect(ctx)
	if err != nil {
		return err
	}
	c := opened.(*conn)
	defer c.inner.Close()
	if err := c.run(ctx, "BEGIN IMMEDIATE"); err != nil {
		return err
	}
	if err := migrateLocked(ctx, c, before); err != nil {
		_ = c.run(context.WithoutCancel(ctx), "ROLLBACK")
		return err
	}
	return c.run(ctx, "COMMIT")
}

func migrateLocked(ctx context.Context, c *conn, before func(ctx context.Context, from int64) error) error {
	version, err := c.number(ctx, "PRAGMA user_version")
	if err != nil || version >= schemaVersion {
		return err
	}
	if err := before(ctx, version); err != nil {
		return err
	}
	c.nested = true
	db := sql.OpenDB(&once{c: c})
	db.SetMaxOpenConns(1)
	defer db.Close()
	if err := climb(ctx, db, goose.DialectSQLite3); err != nil {
		return fmt.Errorf("bring it up to date: %w", err)
	}
	return c.run(ctx, fmt.Sprintf("PRAGMA user_version = %d", schemaVersion))
}

// unasked is for files that nobody else knows of yet.
func unasked(context.Context, int64) error { return nil }

// climb runs the migrations that a database has not had yet.
func climb(ctx context.Context, db *sql.DB, d goose.Dialect) error {
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	provider, err := goose.NewProvider(d, db, files, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	_, err = provider.Up(ctx)
	return err
}

// sameSchema refuses a file that a newer program has migrated while it was open here.
func sameSchema(ctx context.Context, r reader) error {
	var version int64
	if err := r.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return err
	}
	if version > schemaVersion {
		return ErrNewer
	}
	return nil
}
