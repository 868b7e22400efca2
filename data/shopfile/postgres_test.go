package shopfile

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"sync/atomic"
	"testing"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver named pgx
	"github.com/pressly/goose/v3"

	"skegworth/valuation/say"
)

// postgres is what PostgreSQL is asked in words of its own.
var postgres = dialect{
	begin: func(tx *sql.Tx) error {
		// Readers go on meanwhile.
		if _, err := tx.Exec("LOCK TABLE steps IN EXCLUSIVE MODE"); err != nil {
			return err
		}
		var version int64
		if err := tx.QueryRow("SELECT MAX(version_id) FROM goose_db_version").Scan(&version); err != nil {
			return err
		}
		if version > schemaVersion {
			return ErrNewer
		}
		return nil
	},
	faults: func(context.Context, reader) ([]say.Sentence, error) { return nil, nil },
}

// openPostgres opens the shop at an address. It needs no server of this program's own, so that several
// programs can open one shop.
func openPostgres(address string, options ...Option) (*File, error) {
	db, err := sql.Open("pgx", address)
	if err != nil {
		return nil, err
	}
	return attach(address, db, postgres, options), nil
}

// shops counts the shops on the server.
var shops atomic.Int64

// freshPostgres is a new shop in a schema of its own, made by the migrations that make a shop file.
func freshPostgres(t testing.TB, options ...Option) *File {
	t.Helper()
	server, err := postgresServer()
	must(t, err)
	schema := fmt.Sprint("shop", shops.Add(1))
	f, err := openPostgres(server+"&search_path="+schema, options...)
	must(t, err)
	t.Cleanup(func() { _ = f.Close() })
	byHand(t, f, "CREATE SCHEMA "+schema)
	must(t, climb(context.Background(), f.db, goose.DialectPostgres))
	return f
}

// serverAddress is where a server listens that has its socket in the folder.
func serverAddress(folder string) string {
	about := url.Values{"host": {folder}, "port": {serverPort}, "user": {serverUser}, "sslmode": {"disable"}}
	return "postgres:///postgres?" + about.Encode()
}
