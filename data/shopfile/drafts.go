package shopfile

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"time"
)

// draftKind names the drafts of shop files.
const draftKind = "skegworth"

// draftRest is how long after its last change a draft is surely nobody's any more.
const draftRest = 24 * time.Hour

// SweepDrafts removes from a folder the passing files of a kind that were left by a program which was killed
// while it wrote: ".kind-" and a number, unchanged for a day. They hold what the shop knows of its customers,
// and take room. Nothing else is touched, links neither; what cannot be removed stays.
func SweepDrafts(folder, kind string) {
	sweep(folder, kind, fs.FileMode.IsRegular, os.Remove)
}

// SweepDraftFolders is [SweepDrafts] for passing folders, which go with all that is in them.
func SweepDraftFolders(folder, kind string) {
	sweep(folder, kind, fs.FileMode.IsDir, os.RemoveAll)
}

func sweep(folder, kind string, is func(fs.FileMode) bool, remove func(string) error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	name := regexp.MustCompile(`^\.` + regexp.QuoteMeta(kind) + `-[0-9]+(-wal|-shm|-journal)?$`)
	for _, e := range entries {
		if !name.MatchString(e.Name()) || !is(e.Type()) {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > draftRest {
			_ = remove(filepath.Join(folder, e.Name()))
		}
	}
}
