package shopfile

import (
	"context"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
)

// channel is what the benches tell each other of changes on. All shops of a database share it; each message
// says of which schema it is, and who changed something.
const channel = "skegworth"

const (
	// hush is how long a message waits for others that come with it.
	hush = 20 * time.Millisecond
	// quietFor is how long a connection that only listens may be still before it is asked whether it is there.
	quietFor = 15 * time.Second
)

func (onServerDialect) watch(ctx context.Context, f *File, changed func()) error {
	heard := false // whether it was listened before, so that something can have been missed
	for n := 0; ctx.Err() == nil; n++ {
		err := f.server.listen(ctx, func() {
			if n = 0; heard {
				changed()
			}
			heard = true
		}, changed)
		if err != nil && !lost(err) && !heard {
			return err
		}
		select {
		case <-ctx.Done():
		case <-time.After(max(pauses[min(n, len(pauses)-1)], hush)):
		}
	}
	return nil
}

// listen calls listening once nothing more is missed, and changed after others changed the shop, until the
// connection is lost or ctx ends.
func (s *server) listen(ctx context.Context, listening, changed func()) error {
	c, err := pgx.ConnectConfig(ctx, s.config)
	if err != nil {
		return err
	}
	defer func() {
		ending, stop := context.WithTimeout(context.Background(), farewellWithin)
		defer stop()
		_ = c.Close(ending)
	}()
	var schema string
	if err := c.QueryRow(ctx, "SELECT CAST(current_schema() AS TEXT)").Scan(&schema); err != nil {
		return err
	}
	if _, err := c.Exec(ctx, "LISTEN "+channel); err != nil {
		return err
	}
	listening()
	var due time.Time // when to tell of what was heard, zero when nothing was
	for {
		patience := quietFor
		if !due.IsZero() {
			patience = max(time.Until(due), time.Millisecond)
		}
		waiting, stop := context.WithTimeout(ctx, patience)
		said, err := c.WaitForNotification(waiting)
		over := waiting.Err() != nil
		stop()
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err == nil:
			who, where, _ := strings.Cut(said.Payload, " ")
			if due.IsZero() && where == schema && who != s.program {
				due = time.Now().Add(hush)
			}
		case !over || c.IsClosed():
			return err
		case !due.IsZero():
			due = time.Time{}
			changed()
		default:
			asking, stop := context.WithTimeout(ctx, connectWithin)
			err := c.Ping(asking)
			stop()
			if err != nil {
				return err
			}
		}
	}
}
