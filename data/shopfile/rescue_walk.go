package shopfile

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/mattn/go-sqlite3"
)

// broken opens connections to a private copy of a damaged file. What of its schema can be read is taken as
// it is.
type broken struct{ path string }

// Driver is part of driver.Connector.
func (broken) Driver() driver.Driver { return &sqlite3.SQLiteDriver{} }

// Connect opens one.
func (b broken) Connect(ctx context.Context) (driver.Conn, error) {
	raw, err := (&sqlite3.SQLiteDriver{}).Open(address(b.path))
	if err != nil {
		return nil, err
	}
	c := &conn{inner: raw.(*sqlite3.SQLiteConn)}
	for _, pragma := range []string{"PRAGMA trusted_schema = OFF", "PRAGMA cell_size_check = ON", "PRAGMA writable_schema = ON"} {
		if err := c.run(ctx, pragma); err != nil {
			raw.Close()
			return nil, err
		}
	}
	return c, nil
}

// walker reads the rows of a damaged table by their row numbers: forward up to a damaged page, backward down
// to one, and what is left between them by the row numbers that the indexes know, or else by halves.
type walker struct {
	ctx     context.Context
	db      *sql.DB
	table   string
	columns string
	width   int

	row    func(values []any) error
	seen   map[int64]bool
	failed error // of row
	probes int
	lost   int
	unsure bool
}

// probeLimit is how many stretches of a table are looked at when nothing tells which rows it had.
const probeLimit = 3000

// walk hands every row that can be read to row, once.
func (w *walker) walk(row func(values []any) error) error {
	w.row, w.seen = row, map[int64]bool{}
	low, high := int64(math.MinInt64), int64(math.MaxInt64)
	read, whole := w.forward(low, high)
	if !whole {
		if read != nil {
			low = *read + 1
		}
		if read, _ = w.backward(low, high); read != nil {
			high = *read - 1
		}
	}
	known, all := w.known()
	for _, n := range known {
		if !w.seen[n] {
			w.forward(n, n)
		}
	}
	if !whole && !all {
		w.unsure = true
		w.halves(low, high)
	}
	for _, n := range known {
		if !w.seen[n] {
			w.lost++
		}
	}
	return errors.Join(w.failed, w.ctx.Err())
}

// halves looks for rows that no index knows of.
func (w *walker) halves(low, high int64) {
	if low > high || w.probes >= probeLimit {
		return
	}
	w.probes++
	read, whole := w.forward(low, high)
	if whole {
		return
	}
	if read != nil {
		low = *read + 1
	}
	if read, _ = w.backward(low, high); read != nil {
		high = *read - 1
	}
	if low >= high {
		return
	}
	middle := low/2 + high/2
	w.halves(low, middle)
	w.halves(max(middle, low)+1, high)
}

func (w *walker) forward(low, high int64) (last *int64, whole bool) {
	return w.scan("ORDER BY rowid", low, high)
}

func (w *walker) backward(low, high int64) (last *int64, whole bool) {
	return w.scan("ORDER BY rowid DESC", low, high)
}

// scan reads rows one by one until a damaged page. It gives the last that was read; whole tells that there
// was no damage.
func (w *walker) scan(order string, low, high int64) (last *int64, whole bool) {
	if w.failed != nil || w.ctx.Err() != nil {
		return nil, true
	}
	rows, err := w.db.QueryContext(w.ctx, fmt.Sprintf(`SELECT rowid, %s FROM "%s" WHERE rowid BETWEEN $1 AND $2 %s`, w.columns, w.table, order), low, high)
	if err != nil {
		return nil, false
	}
	defer rows.Close()
	values := make([]any, w.width+1)
	targets := make([]any, len(values))
	for i := range values {
		targets[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(targets...); err != nil {
			return last, false
		}
		n, ok := values[0].(int64)
		if !ok || n < low || n > high || last != nil && (order == "ORDER BY rowid" && n <= *last || order != "ORDER BY rowid" && n >= *last) {
			return last, false // a damaged page can lead in a circle
		}
		last = &n
		if w.seen[n] {
			continue
		}
		w.seen[n] = true
		if w.failed = w.row(values[1:]); w.failed != nil {
			return last, false
		}
	}
	return last, rows.Err() == nil
}

// known are the numbers of rows that the table's indexes hold; all tells that one of them could be read
// whole.
func (w *walker) known() (out []int64, all bool) {
	indexes, err := keys(w.ctx, w.db, "SELECT name FROM pragma_index_list($1) WHERE partial = 0", w.table)
	if err != nil {
		return nil, false
	}
	for _, index := range indexes {
		columns, err := keys(w.ctx, w.db, "SELECT name FROM pragma_index_info($1) ORDER BY seqno", index)
		if err != nil || len(columns) == 0 {
			continue
		}
		for _, order := range []string{"", " DESC"} {
			found, whole := w.numbers(index, columns, order)
			out = append(out, found...)
			if whole {
				all = true
				break
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out), all
}

func (w *walker) numbers(index string, columns []string, order string) (out []int64, whole bool) {
	by := make([]string, len(columns))
	for i, c := range columns {
		by[i] = `"` + c + `"` + order
	}
	rows, err := w.db.QueryContext(w.ctx, fmt.Sprintf(`SELECT rowid FROM "%s" INDEXED BY "%s" ORDER BY %s`, w.table, index, strings.Join(by, ", ")))
	if err != nil {
		return nil, false
	}
	defer rows.Close()
	seen := map[int64]bool{}
	for rows.Next() {
		var n int64
		if rows.Scan(&n) != nil || seen[n] {
			return out, false
		}
		seen[n] = true
		out = append(out, n)
	}
	return out, rows.Err() == nil
}

// ofTheRow tells an error that one row causes from one that the whole undertaking has.
func ofTheRow(err error) bool {
	var engine sqlite3.Error
	return errors.As(err, &engine) && (engine.Code == sqlite3.ErrConstraint || engine.Code == sqlite3.ErrMismatch || engine.Code == sqlite3.ErrTooBig)
}
