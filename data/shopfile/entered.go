package shopfile

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Entered tells when each of the rows was last changed, as far as the undo log goes back, or else when it was
// made, which its key says. Rows that nothing is known of are left out.
func (f *File) Entered(ctx context.Context, ids []string) (map[string]time.Time, error) {
	out := make(map[string]time.Time, len(ids))
	for _, id := range ids {
		if key, err := uuid.Parse(id); err == nil && key.Version() == 7 {
			out[id] = time.Unix(key.Time().UnixTime())
		}
	}
	wanted := make(map[string]bool, len(ids))
	for _, id := range ids {
		wanted[id] = true
	}
	err := f.reading(ctx, "read the undo log", func(r reader) error {
		rows, err := r.QueryContext(ctx, `SELECT c.row_id, CAST(MAX(s.written_at) AS BIGINT) FROM changes c JOIN steps s ON s.n = c.step
			WHERE s.undone = 0 GROUP BY c.row_id`)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			var id string
			var at int64
			if err := rows.Scan(&id, &at); err != nil {
				return err
			}
			if wanted[id] {
				out[id] = time.UnixMilli(at)
			}
		}
		return rows.Err()
	})
	return out, err
}
