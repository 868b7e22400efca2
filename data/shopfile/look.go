package shopfile

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/mattn/go-sqlite3"
)

// Look opens a copy of a shop file to look at it and no more: it is not brought up to date, nothing in it or
// beside it is changed, and all that would write to it fails. Whether it is sound is for [File.Check] to
// say, if it is of this program's schema. What is no shop file is an [ErrNotShopFile], what a newer program
// has written an [ErrNewer].
func Look(ctx context.Context, path string) (*File, error) {
	doing := fmt.Sprintf("look at %q", path)
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", doing, err)
	}
	switch about, err := os.Stat(full); {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &trouble{doing, errors.New("there is no such file"), err}
	case err != nil:
		return nil, fmt.Errorf("%s: %w", doing, err)
	case !about.Mode().IsRegular(), about.Size() == 0:
		return nil, told{fmt.Errorf("%s: %w", doing, ErrNotShopFile)}
	}
	from := glass{full, atRest(full)}
	f := attach(full, sql.OpenDB(from), lookedAt{from: from}, nil)
	if _, err := f.SchemaOf(ctx); err != nil {
		_ = f.db.Close()
		return nil, explain(doing, err)
	}
	return f, nil
}

// SchemaOf is the number of the schema that the shop file is of.
func (f *File) SchemaOf(ctx context.Context) (int, error) {
	if f.server != nil {
		return schemaVersion, nil
	}
	var id, version int64
	if err := f.db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return 0, explain("look at the shop file", err)
	}
	if id != applicationID {
		return 0, ErrNotShopFile
	}
	if err := f.db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return 0, explain("look at the shop file", err)
	}
	if version > schemaVersion {
		return 0, ErrNewer
	}
	return int(version), nil
}

// atRest tells whether nobody works with the file: whoever does has a journal beside it, or memory shared
// with others.
func atRest(path string) bool {
	for _, end := range []string{"-wal", "-shm", "-journal"} {
		if _, err := os.Lstat(path + end); err == nil {
			return false
		}
	}
	return true
}

// glass opens connections that only look. On a file at rest they take no locks and lay nothing beside it,
// so that a copy on a disk that may only be read can be looked at too.
type glass struct {
	path string
	rest bool
}

// Driver is part of driver.Connector.
func (g glass) Driver() driver.Driver { return &sqlite3.SQLiteDriver{} }

// Connect opens a connection.
func (g glass) Connect(ctx context.Context) (driver.Conn, error) {
	mode := "mode=ro"
	if g.rest {
		mode += "&immutable=1"
	}
	raw, err := (&sqlite3.SQLiteDriver{}).Open(strings.Replace(address(g.path), "mode=rw", mode, 1))
	if err != nil {
		return nil, err
	}
	c := &conn{inner: raw.(*sqlite3.SQLiteConn)}
	for _, pragma := range settled {
		if err := c.run(ctx, pragma); err != nil {
			raw.Close()
			return nil, err
		}
	}
	return c, nil
}

// lookedAt is the dialect of a file that is only looked at.
type lookedAt struct {
	inFile
	from glass
}

func (l lookedAt) copyTo(ctx context.Context, _ *File, draft string, progress func(done, of int)) error {
	return copyPages(ctx, l.from, draft, progress)
}

var _ driver.Connector = glass{}

// Sound looks through the file for damage and for references to nothing, which is less than [File.Check] does
// and can be done with a file of an older program too. What it finds is an [ErrDamaged].
func (f *File) Sound(ctx context.Context) error {
	if f.server != nil {
		return nil
	}
	err := sound(ctx, f.db)
	if err == nil {
		err = referencesHold(ctx, f.db)
	}
	return explain("look through the shop file", err)
}
