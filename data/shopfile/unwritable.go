package shopfile

import (
	"context"
	"strings"

	"github.com/mattn/go-sqlite3"
)

// unwritable says why a file that this user may not write to is refused. SQLite would lay its own two
// files beside one in write-ahead mode before it finds that out, and may not take them away again; so it
// only looks at the first page here, as at a file that nobody changes.
func unwritable(ctx context.Context, path string) error {
	raw, err := (&sqlite3.SQLiteDriver{}).Open(strings.Replace(address(path), "mode=rw", "mode=ro&immutable=1", 1))
	if err != nil {
		return err
	}
	c := &conn{inner: raw.(*sqlite3.SQLiteConn)}
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
