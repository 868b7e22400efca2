//go:build unix

package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"skegworth/app/shop"
)

// Whatever the umask, all that the program makes is its user's alone: it tells of customers and of money.
func TestWhatIsWrittenIsTheOwnersAlone(t *testing.T) {
	for _, mask := range []int{0o000, 0o077} {
		before := syscall.Umask(mask)
		defer syscall.Umask(before)
		home := t.TempDir()
		at := func(name string) string { return filepath.Join(home, name) }
		if err := os.WriteFile(at("past.csv"), []byte(pastSales), 0o600); err != nil {
			t.Fatal(err)
		}
		path := at("shop.skegworth")
		must(t, home, "example", path, "--on", "2026-11-25")
		must(t, home, "intake", at("new.skegworth"), at("past.csv"))
		must(t, home, "review", path, "--year", "2026", "--on", "2026-11-25", "--out", at("year.xlsx"), "--csv", at("year"))
		must(t, home, "paper", "schedule", path, "2026", "--out", at("year.pdf"))
		must(t, home, "export", path, at("open"))
		must(t, home, "rebuild", at("open"), at("rebuilt.skegworth"))
		must(t, home, "open", "--example") // without a display: pictures, in the user's own folder
		s, err := shop.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.SetPreference("mode", "dark"); err != nil {
			t.Fatal(err)
		}
		if err := s.CopyTo(at("copy.skegworth")); err != nil {
			t.Fatal(err)
		}
		kinds := map[string]int{}
		for _, folder := range []string{home, stateHome()} {
			err := filepath.WalkDir(folder, func(name string, e fs.DirEntry, err error) error {
				if err != nil || name == folder {
					return err
				}
				if name == at(".cache") {
					return fs.SkipDir // the window library's list of the system's fonts
				}
				info, err := e.Info()
				if err != nil {
					return err
				}
				kinds[filepath.Ext(name)]++
				if want := map[bool]fs.FileMode{false: 0o600, true: 0o700}[e.IsDir()]; info.Mode().Perm() != want {
					t.Errorf("under umask %03o, %s has mode %o, want %o", mask, strings.TrimPrefix(name, home), info.Mode().Perm(), want)
				}
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
		}
		for _, kind := range []string{".skegworth", ".skegworth-wal", ".skegworth-shm", ".xlsx", ".csv", ".pdf", ".png", ".log"} {
			if kinds[kind] == 0 {
				t.Errorf("no %s was made, only %v", kind, kinds)
			}
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		// Who opened a workbook to others has it stay so when it is written anew.
		if err := os.Chmod(at("year.xlsx"), 0o640); err != nil {
			t.Fatal(err)
		}
		must(t, home, "review", path, "--year", "2026", "--on", "2026-11-25", "--out", at("year.xlsx"))
		if info, err := os.Stat(at("year.xlsx")); err != nil || info.Mode().Perm() != 0o640 {
			t.Errorf("a workbook written anew has mode %o, %v", info.Mode().Perm(), err)
		}
	}
}
