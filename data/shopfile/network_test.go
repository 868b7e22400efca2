package shopfile

import (
	"os"
	"path/filepath"
	"testing"
)

// afar has a file taken for one that lies on another computer.
func afar(f *File) { f.distant = func(string) bool { return true } }

func TestAFileOnANetworkKeepsARollbackJournal(t *testing.T) {
	path := closedShop(t)
	f := unsettled(t, path) // a log was left by a crash
	r := saved(t, f)
	left := killed(t, f)
	path = left.laid(t)

	f, err := Open(t.Context(), path, afar)
	must(t, err)
	if n := f.Notes(); len(n) != 1 || n[0].String() != "The shop file lies in a folder on a network: only one computer at a time may have it open. "+
		"For several at once, keep the shop on a server." {
		t.Errorf("it is noted that %v", n)
	}
	got, err := f.Record(t.Context(), r.ID)
	must(t, err)
	same(t, "motor", r, got)
	var mode string
	must(t, f.db.QueryRow("PRAGMA journal_mode").Scan(&mode))
	saved(t, f)
	if found, err := os.ReadDir(filepath.Dir(path)); mode != "delete" || err != nil || len(found) != 1 {
		t.Errorf("the journal is of mode %s, the folder holds %v, %v", mode, found, err)
	}
	must(t, f.Close())
	f, err = Open(t.Context(), path) // and on a disk of its own it is as others are
	must(t, err)
	must(t, f.db.QueryRow("PRAGMA journal_mode").Scan(&mode))
	if mode != "wal" || len(f.Notes()) != 0 {
		t.Errorf("the journal is of mode %s, and it is noted that %v", mode, f.Notes())
	}
	must(t, f.Close())
	soundShop(t, path, 102)
}

func TestADamagedFileOnANetworkIsLeftAsItIs(t *testing.T) {
	path := closedShop(t)
	data, err := os.ReadFile(path)
	must(t, err)
	for at := 4096 * 2; at < len(data); at += 4096 {
		data[at+3] ^= 0xFF
	}
	must(t, os.WriteFile(path, data, 0o600))
	_, err = Open(t.Context(), path, afar)
	wantError(t, err, ErrDamaged)
	if after, err := os.ReadFile(path); err != nil || string(after) != string(data) {
		t.Errorf("the file was changed, %v", err)
	}
}

func TestAFileOnThisComputerIsNotAfar(t *testing.T) {
	if onNetwork(filepath.Join(t.TempDir(), "shop")) {
		t.Error("a folder of this computer is taken for one on a network")
	}
}
