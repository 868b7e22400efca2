//go:build unix

package intake

import (
	"path/filepath"
	"syscall"
	"testing"
)

// TestPipesAreNotWaitedFor gives a pipe that nobody writes to; opening one would wait for ever.
func TestPipesAreNotWaitedFor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sales.csv")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadFile(path, usual); err == nil {
		t.Error("a pipe was read as sales")
	}
	if _, _, err := ReadMotors(path, usual); err == nil {
		t.Error("a pipe was read as motors")
	}
}
