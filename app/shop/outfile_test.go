package shop

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// What fills a file says itself what failed: it is said once, and nothing half written stays.
func TestAFileThatCannotBeFilled(t *testing.T) {
	full := errors.New("no space left on device")
	folder := t.TempDir()
	err := paperFile.write(filepath.Join(folder, "page.pdf"), func(w io.Writer) error {
		if _, err := io.WriteString(w, "%PDF-1.3 begun"); err != nil {
			t.Fatal(err)
		}
		return fmt.Errorf("write the page: %w", full)
	})
	if !errors.Is(err, full) || err.Error() != "write the page: no space left on device" {
		t.Errorf("%v", err)
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
		t.Errorf("%v is left, %v", left, err)
	}
}
