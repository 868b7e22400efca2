package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// A change on a server is saved once, whatever becomes of the connection. Where it is lost before the commit
// was sent nothing has happened, and the whole change is made again. Where it is lost after that and before
// the answer, the change may be saved or not, and doing it again could double it. So each transaction also
// writes a key of its own into the row that this File has in the table of commits, and the next attempt, once
// it holds the lock that the first one held to its end, reads there what became of it.
//
// PostgreSQL could be asked by the number of the transaction instead (pg_xact_status), without a table. But
// a number is given out again where a server crashes before the log that names it was on its disk, and the
// answer would then be about somebody else's change. A row says the same after a crash, on a server that took
// over from another and in a database restored from a copy.

// patience is how long a server may not answer before a change or a question is given up.
const patience = 8 * time.Second

// pauses between attempts; the last one is repeated.
var pauses = []time.Duration{0, 50 * time.Millisecond, 100 * time.Millisecond, 200 * time.Millisecond, 400 * time.Millisecond}

// persist makes attempts until one is no matter of the connection or of patience. The last attempt's error is
// given back, and whether another one could have helped.
func (s *server) persist(ctx context.Context, attempt func(ctx context.Context) (again bool, err error)) (gaveUp bool, err error) {
	until := time.Now().Add(s.patience)
	bounded, stop := context.WithDeadline(ctx, until)
	defer stop()
	for n := 0; ; n++ {
		again, err := attempt(bounded)
		if !again {
			return false, err
		}
		pause := pauses[min(n, len(pauses)-1)]
		if time.Now().Add(pause).After(until) {
			return true, err
		}
		select {
		case <-ctx.Done():
			return true, err
		case <-time.After(pause):
		}
	}
}

func (onServerDialect) write(ctx context.Context, f *File, doing string, fn func(*sql.Tx) error) error {
	var sent string // the key of an attempt whose commit was sent and not answered
	gaveUp, err := f.server.persist(context.WithoutCancel(ctx), func(connecting context.Context) (again bool, err error) {
		if err := ctx.Err(); err != nil && sent == "" {
			return false, err
		}
		c, err := f.db.Conn(connecting)
		if err != nil {
			return lost(err) || errors.Is(err, context.DeadlineExceeded), err
		}
		defer c.Close()
		defer func() { again = again || err != nil && closed(c) }()
		tx, err := c.BeginTx(context.WithoutCancel(ctx), nil)
		if err != nil {
			return false, err
		}
		defer func() { _ = tx.Rollback() }()
		if err := lockSteps(tx); err != nil {
			return transient(err), err
		}
		if sent != "" {
			if saved, err := f.server.saved(tx, sent); err != nil || saved {
				return false, err
			}
			sent = "" // it was not, and never will be
		}
		key := fmt.Sprint(f.server.writes.Add(1))
		if err := f.server.sign(tx, key); err != nil {
			return transient(err), err
		}
		if err := fn(tx); err != nil {
			return transient(err), err
		}
		err = tx.Commit()
		if unanswered(err) {
			sent = key
		}
		return transient(err), err
	})
	switch {
	case err == nil:
		return nil
	case sent != "":
		return &trouble{doing, ErrUncertain, err}
	case gaveUp && !transient(err):
		return &trouble{doing, errors.New(ErrUnreachable.Error() + ", nothing was saved"), errors.Join(ErrUnreachable, err)}
	}
	return explain(doing, err)
}

// lockSteps keeps others from writing until the transaction ends. They go on reading meanwhile.
func lockSteps(tx *sql.Tx) error {
	_, err := tx.Exec("LOCK TABLE steps IN EXCLUSIVE MODE")
	return err
}

// sign writes the key of the transaction, tells the other benches of it once it is saved, and makes sure that
// no newer program has migrated the shop meanwhile.
func (s *server) sign(tx *sql.Tx, key string) error {
	var version int64
	var notified any
	err := tx.QueryRow(`INSERT INTO commits (program, last, at) VALUES ($1, $2, now())
		ON CONFLICT (program) DO UPDATE SET last = excluded.last, at = excluded.at
		RETURNING (SELECT MAX(version_id) FROM goose_db_version), CAST(pg_notify($3, $1 || ' ' || current_schema()) AS TEXT)`,
		s.program, key, channel).Scan(&version, &notified)
	if err != nil {
		return err
	}
	if version > schemaVersion {
		return ErrNewer
	}
	return nil
}

// saved tells whether the transaction of that key was committed. It must hold the lock of [lockSteps], which
// it gets only after that transaction has ended.
func (s *server) saved(tx *sql.Tx, key string) (bool, error) {
	var last string
	err := tx.QueryRow("SELECT last FROM commits WHERE program = $1", s.program).Scan(&last)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	return last == key, err
}

// unanswered tells whether the error of a commit leaves open what became of it.
func unanswered(err error) bool {
	if err == nil || errors.Is(err, pgx.ErrTxCommitRollback) {
		return false
	}
	code := sqlState(err)
	return code == "" || ended(code)
}

// transient tells whether the server has undone a transaction only because it got into another's way.
func transient(err error) bool {
	switch sqlState(err) {
	case "40001", "40P01":
		return true
	}
	return false
}
