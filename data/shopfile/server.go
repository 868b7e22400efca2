package shopfile

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
)

// IsServer tells the address of a shop on a PostgreSQL server from the path of a shop file.
func IsServer(where string) bool {
	return strings.HasPrefix(where, "postgres://") || strings.HasPrefix(where, "postgresql://")
}

// A pool is small: a bench does one thing at a time, and a server counts its guests.
const (
	poolOpen = 8
	poolIdle = 2
	poolRest = 5 * time.Minute // before a connection nobody needs is given back
)

// pool opens connections to the server as they are needed, none yet.
func pool(config *pgx.ConnConfig) *sql.DB {
	db := stdlib.OpenDB(*config)
	db.SetMaxOpenConns(poolOpen)
	db.SetConnMaxIdleTime(poolRest)
	return db
}

// onServer makes a File of an address, without asking the server anything yet.
func onServer(where string, options []Option) (*File, error) {
	a, err := parseAddress(where)
	if err != nil {
		return nil, err
	}
	f := attach(a.shown, pool(a.config), postgres, options)
	f.db.SetMaxIdleConns(poolIdle)
	f.server = &server{config: a.config, program: NewID(), patience: patience}
	return f, nil
}

// server is what a File on a server keeps beside its pool.
type server struct {
	config   *pgx.ConnConfig
	program  string        // names this File to the others and in the table of commits
	writes   atomic.Int64  // attempts so far, each under its number there
	patience time.Duration // for a server that does not answer
}

// openServer is [Open] of a shop on a server.
func openServer(ctx context.Context, where string, options []Option) (*File, error) {
	f, err := onServer(where, options)
	if err != nil {
		return nil, err
	}
	if err := f.receiveServer(ctx); err != nil {
		_ = f.db.Close()
		return nil, explain(fmt.Sprintf("open %q", f.path), err)
	}
	return f, nil
}

// createServer is [Create] of a shop on a server.
func createServer(ctx context.Context, where string, options []Option) (*File, error) {
	f, err := onServer(where, options)
	if err != nil {
		return nil, err
	}
	if err := f.found(ctx); err != nil {
		_ = f.db.Close()
		return nil, explain(fmt.Sprintf("make %q", f.path), err)
	}
	return f, nil
}

// onServerDialect is the dialect of a shop on a server: PostgreSQL.
type onServerDialect struct{}

var postgres dialect = onServerDialect{}

// farewellWithin is how long closing waits for the server.
const farewellWithin = time.Second
