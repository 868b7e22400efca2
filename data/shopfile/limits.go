package shopfile

import (
	"database/sql"
	"fmt"

	"github.com/mattn/go-sqlite3"
)

// What a shop file may hold at most. A shop of twenty years lies far below; a file made to fill the
// memory is refused before it does.
const (
	// longestText is of one text, in bytes, as written down by a person.
	longestText = 1 << 20
	// longestPage is of the figures of a closed year.
	longestPage = 32 << 20
	// longestValue is of anything at all, a picture among them.
	longestValue = 64 << 20
	// heaviest is all that is held in memory at once, in bytes of text and of rows.
	heaviest = 512 << 20
	// rowWeight is what one row counts for beside its text, in bytes.
	rowWeight = 256
)

// bounds are what SQLite may be led to do by what stands in a file: https://www.sqlite.org/limits.html.
// Far above what the program itself asks for.
var bounds = map[int]int{
	sqlite3.SQLITE_LIMIT_LENGTH:              longestValue,
	sqlite3.SQLITE_LIMIT_SQL_LENGTH:          1 << 20,
	sqlite3.SQLITE_LIMIT_COLUMN:              300,
	sqlite3.SQLITE_LIMIT_EXPR_DEPTH:          200,
	sqlite3.SQLITE_LIMIT_COMPOUND_SELECT:     50,
	sqlite3.SQLITE_LIMIT_LIKE_PATTERN_LENGTH: 200,
	sqlite3.SQLITE_LIMIT_ATTACHED:            1, // for VACUUM INTO
	sqlite3.SQLITE_LIMIT_WORKER_THREADS:      0,
}

// bounded puts the bounds to a connection.
func bounded(c *sqlite3.SQLiteConn) {
	for what, most := range bounds {
		c.SetLimit(what, most)
	}
}

// scales weigh what is read from a file to be held in memory.
type scales struct {
	reader
	weight int64
}

// weigh has the texts weighed as they are read into the targets.
func (s *scales) weigh(targets []any) {
	for i, t := range targets {
		if f, ok := t.(field); ok {
			targets[i] = weighed{f, s}
		}
	}
}

type weighed struct {
	field
	scales *scales
}

func (w weighed) Scan(src any) error {
	switch v := src.(type) {
	case string:
		w.scales.weight += int64(len(v))
	case []byte:
		w.scales.weight += int64(len(v))
	}
	return w.field.Scan(src)
}

// row counts a row of a key, and tells when there is more than can be held.
func (s *scales) row(key string) error {
	if s.weight += rowWeight + int64(len(key)); s.weight > heaviest {
		return fmt.Errorf("%w (it holds more than any shop writes down, over %d MB)", ErrDamaged, heaviest>>20)
	}
	return nil
}

var (
	_ sql.Scanner = weighed{}
	_ reader      = (*scales)(nil)
)
