package shopfile

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// What a killed program left is removed a day later, and nothing that is younger or somebody else's.
func TestSweepDrafts(t *testing.T) {
	folder := t.TempDir()
	yesterday, lately := time.Now().Add(-25*time.Hour), time.Now().Add(-23*time.Hour)
	elsewhere := filepath.Join(t.TempDir(), "letter")
	must(t, os.WriteFile(elsewhere, nil, 0o600))
	goes := map[string]bool{
		".skegworth-1234": true, ".skegworth-1234-wal": true, ".skegworth-1234-shm": true, ".skegworth-9-journal": true,
		".skegworth-": false, ".skegworth-mine": false, "skegworth-12": false, ".skegworth-12.txt": false, ".workbook-12": false,
		"shop.skegworth": false, "shop.skegworth-wal": false,
	}
	for name := range goes {
		path := filepath.Join(folder, name)
		must(t, os.WriteFile(path, []byte("x"), 0o600))
		must(t, os.Chtimes(path, yesterday, yesterday))
	}
	young, dir, link := filepath.Join(folder, ".skegworth-77"), filepath.Join(folder, ".skegworth-78"), filepath.Join(folder, ".skegworth-79")
	must(t, os.WriteFile(young, nil, 0o600))
	must(t, os.Chtimes(young, lately, lately))
	must(t, os.Mkdir(dir, 0o700))
	must(t, os.WriteFile(filepath.Join(dir, "inside"), nil, 0o600))
	must(t, os.Chtimes(dir, yesterday, yesterday))
	must(t, os.Symlink(elsewhere, link))
	// The next draft in the folder is the occasion.
	f, err := Create(t.Context(), filepath.Join(folder, "new.skegworth"))
	must(t, err)
	must(t, f.Close())
	for name, goes := range goes {
		if _, err := os.Lstat(filepath.Join(folder, name)); os.IsNotExist(err) != goes {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, path := range []string{young, filepath.Join(dir, "inside"), link, elsewhere} {
		if _, err := os.Lstat(path); err != nil {
			t.Errorf("%s is gone: %v", path, err)
		}
	}
	// So is the next opening.
	must(t, os.WriteFile(filepath.Join(folder, ".skegworth-5"), nil, 0o600))
	must(t, os.Chtimes(filepath.Join(folder, ".skegworth-5"), yesterday, yesterday))
	f, err = Open(t.Context(), filepath.Join(folder, "new.skegworth"))
	must(t, err)
	must(t, f.Close())
	if _, err := os.Lstat(filepath.Join(folder, ".skegworth-5")); !os.IsNotExist(err) {
		t.Errorf("opening left a draft: %v", err)
	}
	SweepDraftFolders(folder, "skegworth")
	if _, err := os.Lstat(dir); !os.IsNotExist(err) {
		t.Errorf("the folder is still there: %v", err)
	}
	if _, err := os.Lstat(young); err != nil {
		t.Errorf("sweeping folders took a file: %v", err)
	}
}
