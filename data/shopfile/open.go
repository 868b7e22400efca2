package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/mattn/go-sqlite3"
)

// Open opens a shop file. It refuses what is not one ([ErrNotShopFile]), what a newer program has
// written ([ErrNewer]), what may only be read ([ErrReadOnly]) and what is damaged ([ErrDamaged]), and
// leaves all of these untouched; a file of an older program is brought up to date. A path that leads to
// nothing is a [fs.ErrNotExist].
func Open(ctx context.Context, path string, options ...Option) (*File, error) {
	if IsServer(path) {
		return openServer(ctx, path, options)
	}
	doing := fmt.Sprintf("open %q", path)
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", doing, err)
	}
	about, err := os.Stat(full)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &trouble{doing, errors.New("there is no such file"), err}
	case err != nil:
		return nil, fmt.Errorf("%s: %w", doing, err)
	case !about.Mode().IsRegular():
		return nil, told{fmt.Errorf("%s: %w", doing, ErrNotShopFile)}
	case about.Size() == 0:
		return nil, &trouble{doing, errors.New("this is not a shop file, it is empty"), ErrNotShopFile}
	}
	if !mayWrite(full) {
		return nil, explain(doing, unwritable(ctx, full))
	}
	// The file is looked at through SQLite only: closing a file of our own would let go of the locks
	// that SQLite holds on it in this process.
	f := attach(full, sql.OpenDB(engine{full}), sqlite, options)
	if err := f.admit(ctx, about); err != nil {
		return nil, explain(doing, err)
	}
	SweepDrafts(filepath.Dir(full), draftKind)
	return f, nil
}

// receive finds out what the file is, whether it is whole, and makes it ready.
func (f *File) receive(ctx context.Context) error {
	var id, version int64
	if err := f.db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return err
	}
	if id != applicationID {
		return ErrNotShopFile
	}
	if err := f.db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return err
	}
	if version > schemaVersion {
		return ErrNewer
	}
	if err := strangers(ctx, f.db, version); err != nil {
		return err
	}
	if err := sound(ctx, f.db); err != nil {
		return err
	}
	if err := f.writable(ctx, version); err != nil {
		return err
	}
	if version < schemaVersion {
		if err := migrate(ctx, f.path, f.upgrading); err != nil {
			return err
		}
	}
	if err := tablesThere(ctx, f.db); err != nil {
		return err
	}
	if err := referencesHold(ctx, f.db); err != nil {
		return err
	}
	return f.journal(ctx)
}

// writable makes sure that changes can be saved, by making one that changes nothing and taking it back.
func (f *File) writable(ctx context.Context, version int64) error {
	tx, err := f.db.BeginTx(ctx, nil)
	if isBusy(err) { // somebody else is writing, so it can be written to
		return nil
	}
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	_, err = tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", version))
	return err
}

// sound looks through the file for damage.
func sound(ctx context.Context, db *sql.DB) error {
	found, err := keys(ctx, db, "PRAGMA quick_check(1)")
	if err == nil && (len(found) != 1 || found[0] != "ok") {
		err = &damage{found}
	}
	return err
}

// tablesThere makes sure that every table and column can be asked for.
func tablesThere(ctx context.Context, db *sql.DB) error {
	all := []string{
		"SELECT name, setting FROM preferences",
		"SELECT n, label, merge_key, written_at, undone FROM steps",
		"SELECT step, table_name, row_id, was, became FROM changes",
		"SELECT table_name, row_id, version FROM gone",
	}
	for _, t := range tables {
		all = append(all, t.selects)
	}
	for _, query := range all {
		s, err := db.PrepareContext(ctx, query)
		var engine sqlite3.Error
		if errors.As(err, &engine) && engine.Code == sqlite3.ErrError {
			return &damage{[]string{err.Error()}}
		}
		if err != nil {
			return err
		}
		if err := s.Close(); err != nil {
			return err
		}
	}
	return nil
}

// referencesHold looks for rows that refer to what is not there.
func referencesHold(ctx context.Context, db *sql.DB) error {
	found, err := keys(ctx, db, "SELECT DISTINCT \"table\" || ' -> ' || parent FROM pragma_foreign_key_check")
	if err == nil && len(found) > 0 {
		err = &damage{found}
	}
	return err
}

// damage is what a check of the file found.
type damage struct{ findings []string }

func (d *damage) Error() string {
	words := strings.Fields(strings.Join(d.findings, "; "))
	return ErrDamaged.Error() + " (" + strings.Join(words, " ") + ")"
}

func (d *damage) Is(target error) bool { return target == ErrDamaged }
