package shopfile

import (
	"context"
	"fmt"
)

// CopyTo writes a copy of the file as it is at this moment, while others may go on writing to it. The
// copy is a whole shop file of its own, undo log and preferences included. A file that is there already
// is never replaced: the error is [ErrExists].
func (f *File) CopyTo(ctx context.Context, path string) error {
	doing := fmt.Sprintf("copy the shop file to %q", path)
	err := publish(doing, path, func(draft string) error {
		_, err := f.db.ExecContext(ctx, "VACUUM INTO $1", draft)
		return err
	})
	return explain(doing, err)
}
