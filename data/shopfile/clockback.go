package shopfile

import (
	"context"
	"database/sql"
	"time"

	"skegworth/valuation/say"
)

// clockOff is by how much the clocks of two computers may differ without anybody being told.
const clockOff = 5 * time.Minute

// clockNote notes that the computer's clock stands before the last change in the file: it was set back, or
// its battery is empty. Nothing is lost by that, but what day is today.
func (f *File) clockNote(ctx context.Context) error {
	var at sql.NullInt64
	if err := f.db.QueryRowContext(ctx, "SELECT MAX(written_at) FROM steps").Scan(&at); err != nil {
		return err
	}
	if last := time.UnixMilli(at.Int64); at.Valid && last.Sub(f.now()) > clockOff {
		f.notes = append(f.notes, say.New("open.clock",
			"The computer's clock stands before the last change in the shop file, made on {{.Day}} at {{.Time}}: days and hours may be wrong until it is put right.",
			"Day", last.Format(time.DateOnly), "Time", last.Format("15:04")))
	}
	return nil
}
