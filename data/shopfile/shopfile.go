// Package shopfile keeps one shop's records in one file: motors, what they cost, the hours on them, how
// they sold, the shelf, and the shop's settings.
//
// Every change goes through [File.Write]: one transaction that either happens whole or not at all, and
// that notes in the same breath how to take it back. [File.Undo] takes back the last one, also after the
// program was closed and opened again.
//
// Rows carry versions. Two windows that edit one row do not overwrite each other: the second is told,
// by [ErrConflict], which thing was changed meanwhile.
//
// The file is SQLite. The queries keep to what SQLite and PostgreSQL have in common, and the tests run
// them on both; what only one of them knows (opening, integrity, copying) lives in files of its own.
package shopfile

import (
	"context"
	"database/sql"
	"time"

	"skegworth/costing"
	"skegworth/valuation/say"
)

// File is an open shop file. Its methods may be called from several goroutines; several programs may
// have one file open.
type File struct {
	path    string
	db      *sql.DB
	dialect dialect
	now     func() time.Time
	writing chan struct{} // holds one token; who has it writes
	notes   []say.Sentence
	letGo   func()                 // says that the file on the disk is not open here any more
	there   func() error           // tells whether the file is still at its path: what is written to one that was removed is lost
	distant func(path string) bool // tells whether a file lies on another computer
	server  *server                // nil in a file
	writer  *sql.Conn              // of a file that is watched: all changes of this File go through it

	beforeUpgrade func(ctx context.Context, f *File, from int) error // nil when nobody asked
}

// Option changes how a file is opened.
type Option func(*File)

// WithClock tells the time by now instead of the computer's clock. The time decides which changes are
// merged into one undo step.
func WithClock(now func() time.Time) Option { return func(f *File) { f.now = now } }

// attach makes a File of a database.
func attach(path string, db *sql.DB, d dialect, options []Option) *File {
	f := &File{path: path, db: db, dialect: d, now: time.Now, writing: make(chan struct{}, 1),
		distant: onNetwork, letGo: func() {}, there: func() error { return nil }}
	db.SetMaxIdleConns(4)
	for _, option := range options {
		option(f)
	}
	return f
}

// Contents is everything in a shop file but its preferences and undo log.
type Contents struct {
	Settings costing.Settings
	Records  []costing.Record // in the order of their ids, which is the order they were added in
	Goods    []costing.Good
	Moves    []costing.Move
	Receipts []costing.Receipt
	Items    []costing.Item
	Pieces   []costing.Piece
	Cards    []costing.Card
	Rates    []costing.Rate
	Photos   []costing.Photo
	Bundles  []costing.Bundle // lots that sellers offer

	TaxRules    []costing.TaxRule
	Closings    []costing.Closing // years that were closed, those opened again too
	Settlements []costing.Settlement

	Clock costing.Clock
}

// Path is where the file is: its path, or the address of a server without the password.
func (f *File) Path() string { return f.path }

// Close lets go of the file. What was written is safe already; closing tidies up beside it.
func (f *File) Close() error {
	defer f.letGo()
	if f.server != nil {
		f.farewell()
	}
	if f.writer != nil {
		_ = f.writer.Close()
	}
	return explain("close the shop file", f.db.Close())
}

// reading runs fn in a transaction that sees the shop as it was at one moment. Where a server was lost
// midway, fn is run again, so it must not add to what it found the first time.
func (f *File) reading(ctx context.Context, doing string, fn func(reader) error) error {
	return f.dialect.read(ctx, f, doing, fn)
}

// readOnce is reading for a fn that cannot be run again.
func (f *File) readOnce(ctx context.Context, doing string, fn func(reader) error) error {
	tx, err := f.db.BeginTx(ctx, asOfNow)
	if err != nil {
		return explain(doing, err)
	}
	defer func() { _ = tx.Rollback() }()
	return explain(doing, fn(tx))
}

// reader is what reads rows: a transaction that reads or one that writes.
type reader interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}
