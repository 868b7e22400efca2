package shopfile

import (
	"context"
	"database/sql/driver"
	"errors"
	"net/url"
	"path/filepath"
	"strings"

	"github.com/mattn/go-sqlite3"
)

// settled are set on every connection. EXTRA makes a commit wait for the disk, its folder too; an untrusted
// schema keeps a file from elsewhere from running functions of its own choice.
var settled = []string{
	"PRAGMA busy_timeout = 10000",
	"PRAGMA foreign_keys = ON",
	"PRAGMA synchronous = EXTRA",
	"PRAGMA trusted_schema = OFF",
	"PRAGMA cell_size_check = ON",
}

// engine opens connections to one SQLite file; it is the driver.Connector of a File.
type engine struct{ path string }

// Driver is part of driver.Connector.
func (e engine) Driver() driver.Driver { return &sqlite3.SQLiteDriver{} }

// Connect opens a connection. It never makes a file.
func (e engine) Connect(ctx context.Context) (driver.Conn, error) {
	raw, err := (&sqlite3.SQLiteDriver{}).Open(address(e.path))
	if err != nil {
		return nil, err
	}
	c := &conn{inner: raw.(*sqlite3.SQLiteConn)}
	bounded(c.inner)
	for _, pragma := range settled {
		if _, err := c.inner.ExecContext(ctx, pragma, nil); err != nil {
			raw.Close()
			return nil, err
		}
	}
	return c, nil
}

// address is the path as a file: URI, in which '?', '#' and '%' of a folder's name cannot be taken for
// options.
func address(path string) string {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") { // C:/shop
		slashed = "/" + slashed
	}
	u := url.URL{Scheme: "file", OmitHost: true, Path: slashed, RawQuery: "mode=rw&_stmt_cache_size=64"}
	return u.String()
}

// conn is a SQLite connection that reads $N parameters as PostgreSQL does, and whose transactions take
// the write lock at once unless they only read. A transaction that reads first and asks for the lock
// later fails when another has written in between.
type conn struct {
	inner  *sqlite3.SQLiteConn
	nested bool // a transaction is open around all others, which become savepoints in it
}

func (c *conn) Prepare(query string) (driver.Stmt, error) {
	return c.PrepareContext(context.Background(), query)
}

func (c *conn) PrepareContext(ctx context.Context, query string) (driver.Stmt, error) {
	return c.inner.PrepareContext(ctx, numbered(query))
}

func (c *conn) ExecContext(ctx context.Context, query string, args []driver.NamedValue) (driver.Result, error) {
	return c.inner.ExecContext(ctx, numbered(query), args)
}

func (c *conn) QueryContext(ctx context.Context, query string, args []driver.NamedValue) (driver.Rows, error) {
	return c.inner.QueryContext(ctx, numbered(query), args)
}

func (c *conn) Ping(ctx context.Context) error { return c.inner.Ping(ctx) }

func (c *conn) Begin() (driver.Tx, error) { return c.BeginTx(context.Background(), driver.TxOptions{}) }

func (c *conn) BeginTx(ctx context.Context, o driver.TxOptions) (driver.Tx, error) {
	t := transaction{c, "BEGIN IMMEDIATE", "COMMIT", "ROLLBACK"}
	switch {
	case c.nested:
		t = transaction{c, "SAVEPOINT nested", "RELEASE nested", "ROLLBACK TO nested"}
	case o.ReadOnly:
		t.begin = "BEGIN"
	}
	if err := c.run(ctx, t.begin); err != nil {
		return nil, err
	}
	return t, nil
}

// Close closes the connection. A nested one belongs to who nested it and stays open.
func (c *conn) Close() error {
	if c.nested {
		return nil
	}
	return c.inner.Close()
}

func (c *conn) run(ctx context.Context, query string) error {
	_, err := c.inner.ExecContext(ctx, query, nil)
	return err
}

// number is the one number that the query answers with.
func (c *conn) number(ctx context.Context, query string) (int64, error) {
	rows, err := c.inner.QueryContext(ctx, query, nil)
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	into := make([]driver.Value, 1)
	if err := rows.Next(into); err != nil {
		return 0, err
	}
	n, ok := into[0].(int64)
	if !ok {
		return 0, errors.New("the answer to " + query + " is not a number")
	}
	return n, nil
}

type transaction struct {
	c                     *conn
	begin, commit, revert string
}

// Commit ends the transaction. One that cannot be committed is taken back, since database/sql hands the
// connection to the next caller either way.
func (t transaction) Commit() error {
	err := t.c.run(context.Background(), t.commit)
	if err != nil {
		_ = t.Rollback()
	}
	return err
}

func (t transaction) Rollback() error {
	err := t.c.run(context.Background(), t.revert)
	if err == nil && t.c.nested {
		err = t.c.run(context.Background(), t.commit) // a savepoint stays after it is rolled back to
	}
	return err
}

// once hands out one connection one time.
type once struct {
	c    *conn
	used bool
}

func (o *once) Driver() driver.Driver { return &sqlite3.SQLiteDriver{} }

func (o *once) Connect(context.Context) (driver.Conn, error) {
	if o.used {
		return nil, errors.New("the connection was lost")
	}
	o.used = true
	return o.c, nil
}

var (
	_ driver.Connector          = engine{}
	_ driver.Connector          = (*once)(nil)
	_ driver.ConnBeginTx        = (*conn)(nil)
	_ driver.ConnPrepareContext = (*conn)(nil)
	_ driver.ExecerContext      = (*conn)(nil)
	_ driver.QueryerContext     = (*conn)(nil)
)
