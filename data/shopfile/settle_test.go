package shopfile

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// A draft whose log could not be brought into the file must not be given its name: the log stays behind.
func TestNothingIsPublishedWithoutItsLog(t *testing.T) {
	ctx := t.Context()
	path := filepath.Join(t.TempDir(), "draft")
	must(t, os.WriteFile(path, nil, 0o600))
	must(t, mark(ctx, path))
	opened, err := engine{path}.Connect(ctx)
	must(t, err)
	reader := opened.(*conn)
	must(t, reader.run(ctx, "BEGIN"))
	if _, err := reader.number(ctx, "SELECT COUNT(*) FROM sqlite_master"); err != nil {
		t.Fatal(err)
	}
	must(t, migrate(ctx, path, unasked)) // into the log, which the reader holds
	if err := settle(ctx, path); !errors.Is(err, ErrBusy) {
		t.Errorf("with the log held back: %v", err)
	}
	must(t, reader.run(ctx, "COMMIT"))
	must(t, settle(ctx, path))
	if log, err := os.Stat(path + "-wal"); err == nil && log.Size() != 0 {
		t.Errorf("%d bytes are left in the log", log.Size())
	}
	must(t, reader.inner.Close())
	alone := filepath.Join(t.TempDir(), "alone.skegworth")
	data, err := os.ReadFile(path)
	must(t, err)
	must(t, os.WriteFile(alone, data, 0o600))
	f, err := Open(ctx, alone)
	must(t, err)
	must(t, f.Close())
}
