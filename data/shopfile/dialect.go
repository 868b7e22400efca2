package shopfile

import (
	"context"
	"database/sql"

	"skegworth/valuation/say"
)

// dialect is what one engine does in a way of its own for code that serves every engine. All else that
// such code asks is said alike to each.
type dialect interface {
	// write runs fn in a transaction in which nobody else writes, from its start to its end, which the
	// numbers of undo steps rely on, and commits it when fn returns nil. A schema that a newer program has
	// migrated meanwhile is an [ErrNewer]. Where the connection can be lost, fn is run again in a
	// transaction of its own after an attempt that came to nothing.
	write(ctx context.Context, f *File, doing string, fn func(*sql.Tx) error) error
	// read runs fn in a transaction that sees the shop as it was at one moment, and runs it again where the
	// connection was lost midway. A file that a newer program has migrated meanwhile is an [ErrNewer].
	read(ctx context.Context, f *File, doing string, fn func(reader) error) error
	// faults are what the engine itself finds wrong with what it keeps.
	faults(ctx context.Context, r reader) ([]say.Sentence, error)
	// kept are all tables but those the engine and the migrations keep for themselves.
	kept(ctx context.Context, r reader) ([]Kept, error)
	// watch is [File.Watch].
	watch(ctx context.Context, f *File, changed func()) error
}

// inFile is the dialect of a shop file: SQLite.
type inFile struct{}

// sqlite is the dialect of a shop file.
var sqlite dialect = inFile{}

func (inFile) faults(ctx context.Context, r reader) ([]say.Sentence, error) { return integrity(ctx, r) }

func (inFile) kept(ctx context.Context, r reader) ([]Kept, error) { return keptTables(ctx, r) }

// write needs no lock beside: a transaction that writes has taken it already, see [conn.BeginTx].
func (inFile) write(ctx context.Context, f *File, doing string, fn func(*sql.Tx) error) error {
	begin := f.db.BeginTx
	if f.writer != nil {
		begin = f.writer.BeginTx
	}
	tx, err := begin(context.WithoutCancel(ctx), nil)
	if err != nil {
		return explain(doing, err)
	}
	defer func() { _ = tx.Rollback() }()
	if err := sameSchema(context.WithoutCancel(ctx), tx); err != nil {
		return explain(doing, err)
	}
	if err := fn(tx); err != nil {
		return err
	}
	return explain(doing, tx.Commit())
}

func (inFile) read(ctx context.Context, f *File, doing string, fn func(reader) error) error {
	return f.readOnce(ctx, doing, func(r reader) error {
		if err := sameSchema(ctx, r); err != nil {
			return err
		}
		return fn(r)
	})
}
