package shopfile

import (
	"context"
	"database/sql"
	"encoding/binary"
	"sync"

	"github.com/google/uuid"
)

// NewID is a fresh key, for rows that must share one or be referred to before they are put. Keys sort in the
// order they were made in (UUID version 7, RFC 9562), those of the files open here too: where the computer's
// clock was set back, they go on counting from the newest key.
func NewID() string {
	id := uuid.Must(uuid.NewV7())
	newest.Lock()
	defer newest.Unlock()
	at := stampOf(id)
	if at <= newest.stamp {
		at = newest.stamp + 1
		stamp(&id, at)
	}
	newest.stamp = at
	return id.String()
}

// newest is the stamp of the newest key known here.
var newest struct {
	sync.Mutex
	stamp uint64
}

// lastStamp is one of the year 6429. A key beyond it was not made by a clock.
const lastStamp = 1 << 59

// stampOf is what a key of version 7 sorts by: 48 bits of milliseconds and 12 bits below them.
func stampOf(id uuid.UUID) uint64 {
	return binary.BigEndian.Uint64(id[:8])>>16<<12 | uint64(binary.BigEndian.Uint16(id[6:8])&0xFFF)
}

func stamp(id *uuid.UUID, at uint64) {
	binary.BigEndian.PutUint64(id[:8], at>>12<<16|0x7000|at&0xFFF)
}

// countOn has fresh keys sort after all in the file.
func countOn(ctx context.Context, db *sql.DB) error {
	for _, t := range tables {
		// Keys of version 7 begin with a 0 until the year 2527; some rows have a word for a key.
		var last sql.NullString
		if err := db.QueryRowContext(ctx, "SELECT MAX(id) FROM "+t.name+" WHERE id < '1'").Scan(&last); err != nil {
			return err
		}
		if len(last.String) < 36 { // some end in more than the key they share
			continue
		}
		id, err := uuid.Parse(last.String[:36])
		if err != nil || id.Version() != 7 || stampOf(id) > lastStamp {
			continue
		}
		newest.Lock()
		newest.stamp = max(newest.stamp, stampOf(id))
		newest.Unlock()
	}
	return nil
}
