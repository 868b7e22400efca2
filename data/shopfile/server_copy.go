package shopfile

import (
	"context"
	"database/sql"
	"fmt"
)

// copyTo makes an empty file a shop file of all that is on the server at this moment, of the schema that the
// shop has there.
func (d onServerDialect) copyTo(ctx context.Context, f *File, draft string, progress func(done, of int)) error {
	return f.readOnce(ctx, "copy the shop", func(r reader) error {
		if err := f.unhurried(ctx, r); err != nil {
			return err
		}
		var schema int
		if err := r.QueryRowContext(ctx, "SELECT MAX(version_id) FROM goose_db_version WHERE is_applied").Scan(&schema); err != nil {
			return err
		}
		progress(0, 1)
		err := fileOf(ctx, draft, schema, func(db *sql.DB) error {
			_, err := pourAll(ctx, d, r, sqlite, db)
			return err
		})
		progress(1, 1)
		return err
	})
}

// rebuildServer is [Rebuild] on a server.
func rebuildServer(ctx context.Context, where string, schema int, fill func(tables []Kept, put func(table string, values []any) error) error) error {
	a, err := parseAddress(where)
	if err != nil {
		return err
	}
	s := server{config: a.config}
	return explain(fmt.Sprintf("rebuild %q", a.shown), s.shape(ctx, func(db *sql.DB) error {
		if err := emptySchema(ctx, db); err != nil {
			return err
		}
		if err := raiseTo(ctx, db, int64(schema)); err != nil {
			return err
		}
		if err := refill(ctx, db, postgres, fill); err != nil {
			return err
		}
		return raiseTo(ctx, db, schemaVersion)
	}))
}
