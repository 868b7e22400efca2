//go:build linux && amd64

package main

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"net/url"
	"os"
	"path/filepath"

	"skegworth/data/shopfile"
)

// sight is what plain SQLite, without any of our code, reads in a shop file.
type sight struct {
	rows   map[string]int64 // in each table
	spent  int64            // all cost lines together
	digest [sha256.Size]byte
}

// alike tells whether two files hold as many rows of everything and as much money. Keys and times differ from
// one run to the next.
func (s sight) alike(o sight) bool { return s.spent == o.spent && maps.Equal(s.rows, o.rows) }

// unlisted are tables that an opening may write to by itself, or that follow from others.
var unlisted = map[string]bool{"preferences": true}

// plain looks a shop file over with SQLite alone. It must be a copy: a log that was left is taken in by it.
func plain(path string) (s sight, err error) {
	db, err := sql.Open("sqlite3", plainAddress(path))
	if err != nil {
		return s, err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for query, good := range map[string]string{"PRAGMA integrity_check": "ok", "SELECT COUNT(*) FROM pragma_foreign_key_check": "0"} {
		var said string
		if err := db.QueryRow(query).Scan(&said); err != nil {
			return s, fmt.Errorf("%s: %w", query, err)
		}
		if said != good {
			return s, fmt.Errorf("%s: %s", query, said)
		}
	}
	names, err := column(db, "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT LIKE 'goose%' ORDER BY name")
	if err != nil {
		return s, err
	}
	s.rows = map[string]int64{}
	sum := sha256.New()
	for _, name := range names {
		if unlisted[name] {
			continue
		}
		rows, err := db.Query(fmt.Sprintf("SELECT * FROM %q ORDER BY 1, 2", name))
		if err != nil {
			return s, err
		}
		columns, err := rows.Columns()
		if err != nil {
			return s, err
		}
		cells, into := make([]any, len(columns)), make([]any, len(columns))
		for i := range cells {
			into[i] = &cells[i]
		}
		n := int64(0)
		for ; rows.Next(); n++ {
			if err := rows.Scan(into...); err != nil {
				return s, err
			}
			fmt.Fprintf(sum, "%s %#v\n", name, cells)
		}
		if err := rows.Err(); err != nil {
			return s, err
		}
		s.rows[name] = n
	}
	sum.Sum(s.digest[:0])
	if s.rows["lines"] > 0 {
		err = db.QueryRow("SELECT SUM(total) FROM lines").Scan(&s.spent)
	}
	return s, err
}

// plainAddress opens a file that is there, with none of our own settings.
func plainAddress(path string) string {
	u := url.URL{Scheme: "file", OmitHost: true, Path: path, RawQuery: "mode=rw&_busy_timeout=10000"}
	return u.String()
}

func column(db *sql.DB, query string, args ...any) (out []string, err error) {
	rows, err := db.Query(query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, rows.Err()
}

// ends are what SQLite may leave beside a shop file. The shared memory is no part of what was saved.
var ends = []string{"", "-wal", "-journal"}

// copyShop copies a shop file and the log beside it, untouched by any engine.
func copyShop(from, to string) error {
	for _, end := range ends {
		data, err := os.ReadFile(from + end)
		if errors.Is(err, fs.ErrNotExist) {
			if err := os.Remove(to + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
			continue
		}
		if err == nil {
			err = os.WriteFile(to+end, data, 0o600)
		}
		if err != nil {
			return err
		}
	}
	if err := os.Remove(to + "-shm"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// overlook looks a shop file over twice: a copy of it by plain SQLite, then itself by our own opening and check.
// At the end it must take a change.
func overlook(path string) (sight, error) {
	aside := filepath.Join(filepath.Dir(filepath.Dir(path)), filepath.Base(filepath.Dir(path))+".copy")
	defer func() {
		for _, end := range append(ends, "-shm") {
			os.Remove(aside + end)
		}
	}()
	if err := copyShop(path, aside); err != nil {
		return sight{}, err
	}
	s, err := plain(aside)
	if err != nil {
		return s, fmt.Errorf("plain SQLite: %w", err)
	}
	return s, accepts(path)
}

// accepts opens, checks and changes a shop file.
func accepts(path string) error {
	ctx := context.Background()
	f, err := shopfile.Open(ctx, path)
	if err != nil {
		return fmt.Errorf("opening: %w", err)
	}
	defer f.Close()
	report, err := f.Check(ctx)
	if err != nil {
		return fmt.Errorf("checking: %w", err)
	}
	if !report.OK() {
		return fmt.Errorf("the check finds %v", report.Faults)
	}
	if err := f.Write(ctx, "a choice", "", func(tx *shopfile.Tx) error { return tx.PutPreference("safe", "again") }); err != nil {
		return fmt.Errorf("the next change: %w", err)
	}
	return nil
}
