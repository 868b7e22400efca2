package shopfile

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"

	"github.com/jackc/pgx/v5/stdlib"
)

// shape changes the tables of the shop, whole or not at all: fn gets a database whose transactions are
// savepoints in one around them, which is committed when fn returns nil. Of several programs that make or
// upgrade a shop at once one does it and the others wait for it, and whoever dies midway leaves nothing.
func (s *server) shape(ctx context.Context, fn func(*sql.DB) error) error {
	opened, err := stdlib.GetConnector(*s.config).Connect(ctx)
	if err != nil {
		return err
	}
	c := &within{opened.(*stdlib.Conn)}
	defer c.Conn.Close()
	db := sql.OpenDB(&onlyOnce{c: c})
	db.SetMaxOpenConns(1)
	defer db.Close()
	steps := []func() error{
		// It may stand still for as long as what is to be written takes to read.
		func() error { return c.run(ctx, "BEGIN; SET LOCAL idle_in_transaction_session_timeout = 0") },
		func() error {
			_, err := db.ExecContext(ctx, "SELECT pg_advisory_xact_lock(hashtext('skegworth'), hashtext(CAST(current_schema() AS TEXT)))")
			return err
		},
		func() error { return fn(db) },
		func() error { return c.run(ctx, "SET CONSTRAINTS ALL IMMEDIATE") },
		func() error { return c.run(ctx, "COMMIT") },
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return err // closing the connection takes all of it back
		}
	}
	return nil
}

// within is a connection with a transaction open around all others, which become savepoints in it.
type within struct{ *stdlib.Conn }

func (c *within) Begin() (driver.Tx, error) {
	return c.BeginTx(context.Background(), driver.TxOptions{})
}

func (c *within) BeginTx(ctx context.Context, _ driver.TxOptions) (driver.Tx, error) {
	if err := c.run(ctx, "SAVEPOINT nested"); err != nil {
		return nil, err
	}
	return savepoint{c}, nil
}

// ResetSession is called between uses. The connection's own would end one that is in a transaction.
func (c *within) ResetSession(context.Context) error { return nil }

// Close leaves the connection to [server.shape].
func (c *within) Close() error { return nil }

func (c *within) run(ctx context.Context, query string) error {
	_, err := c.Conn.Conn().Exec(ctx, query)
	return err
}

type savepoint struct{ c *within }

// Commit checks what a commit of its own would: a reference left unchecked bars changes of its table later.
func (s savepoint) Commit() error {
	return s.c.run(context.Background(), "SET CONSTRAINTS ALL IMMEDIATE; SET CONSTRAINTS ALL DEFERRED; RELEASE nested")
}

func (s savepoint) Rollback() error {
	if err := s.c.run(context.Background(), "ROLLBACK TO nested"); err != nil {
		return err
	}
	return s.c.run(context.Background(), "RELEASE nested") // it stays after it is rolled back to
}

// onlyOnce hands out one connection one time.
type onlyOnce struct {
	c    *within
	used bool
}

func (o *onlyOnce) Driver() driver.Driver { return stdlib.GetDefaultDriver() }

func (o *onlyOnce) Connect(context.Context) (driver.Conn, error) {
	if o.used {
		return nil, errors.New("the connection was lost")
	}
	o.used = true
	return o.c, nil
}
