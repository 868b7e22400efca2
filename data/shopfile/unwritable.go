package shopfile

import (
	"context"
	"database/sql/driver"
	"strings"

	"github.com/mattn/go-sqlite3"
)

// unwritable says why a file that this user may not write to is refused. SQLite would lay its own two
// files beside one in write-ahead mode before it finds that out, and may not take them away again; so it
// only looks at the first page here, as at a file that nobody changes.
func unwritable(ctx context.Context, path string) error {
	opened, err := lookOnly{path}.Connect(ctx)
	if err != nil {
		return err
	}
	c := opened.(*conn)
	defer c.inner.Close()
	id, err := c.number(ctx, "PRAGMA application_id")
	switch {
	case err != nil:
		return err
	case id != applicationID:
		return ErrNotShopFile
	}
	return ErrReadOnly
}

// lookOnly opens connections that only look at a file, as at one that nobody changes: no lock is taken, no
// journal is read, nothing is laid beside it.
type lookOnly struct{ path string }

// Driver is part of driver.Connector.
func (lookOnly) Driver() driver.Driver { return &sqlite3.SQLiteDriver{} }

// Connect opens one.
func (l lookOnly) Connect(ctx context.Context) (driver.Conn, error) {
	raw, err := (&sqlite3.SQLiteDriver{}).Open(strings.Replace(address(l.path), "mode=rw", "mode=ro&immutable=1", 1))
	if err != nil {
		return nil, err
	}
	c := &conn{inner: raw.(*sqlite3.SQLiteConn)}
	for _, pragma := range []string{"PRAGMA trusted_schema = OFF", "PRAGMA cell_size_check = ON"} {
		if err := c.run(ctx, pragma); err != nil {
			raw.Close()
			return nil, err
		}
	}
	return c, nil
}
