package shopfile

import (
	"context"
	"database/sql"
	"errors"
)

func (onServerDialect) read(ctx context.Context, f *File, doing string, fn func(reader) error) error {
	gaveUp, err := f.server.persist(ctx, func(connecting context.Context) (again bool, err error) {
		c, err := f.db.Conn(connecting)
		if err != nil {
			return ctx.Err() == nil && (lost(err) || errors.Is(err, context.DeadlineExceeded)), err
		}
		defer c.Close()
		defer func() { again = err != nil && ctx.Err() == nil && (transient(err) || closed(c)) }()
		tx, err := c.BeginTx(ctx, asOfNow)
		if err != nil {
			return false, err
		}
		defer func() { _ = tx.Rollback() }()
		return false, fn(tx)
	})
	switch {
	case err == nil:
		return nil
	case ctx.Err() != nil:
		return ctx.Err()
	case gaveUp && !transient(err):
		return &trouble{doing, ErrUnreachable, err}
	}
	return explain(doing, err)
}

// asOfNow is a transaction that sees the shop as it was at one moment: what SQLite gives anyway and
// PostgreSQL must be asked for.
var asOfNow = &sql.TxOptions{ReadOnly: true, Isolation: sql.LevelRepeatableRead}
