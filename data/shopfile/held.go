package shopfile

import (
	"os"
	"slices"
	"sync"
)

// held are the files that this process has open. POSIX lets go of all locks of a process on a file as soon
// as the process closes any handle of it, those of SQLite too; so a handle of our own is closed only when
// no File is open on it any more.
var held struct {
	sync.Mutex
	files []*atHand
}

// atHand is one file on the disk with its open Files counted.
type atHand struct {
	about os.FileInfo
	count int
	late  []*os.File // to be closed when nobody has the file open
}

// hold counts one more open File on the file that about describes; letGo takes it back. The caller holds
// the lock of held.
func hold(about os.FileInfo) (letGo func()) {
	h := atHandOf(about)
	if h == nil {
		h = &atHand{about: about}
		held.files = append(held.files, h)
	}
	h.count++
	return sync.OnceFunc(func() {
		held.Lock()
		defer held.Unlock()
		if h.count--; h.count > 0 {
			return
		}
		for _, f := range h.late {
			f.Close()
		}
		held.files = slices.DeleteFunc(held.files, func(other *atHand) bool { return other == h })
	})
}

// atHandOf is nil for a file that this process does not have open.
func atHandOf(about os.FileInfo) *atHand {
	for _, h := range held.files {
		if os.SameFile(h.about, about) {
			return h
		}
	}
	return nil
}

// closeBeside closes a handle of a shop file, at once or when no File is open on it any more. The caller
// holds the lock of held.
func closeBeside(f *os.File, about os.FileInfo) {
	if h := atHandOf(about); h != nil {
		h.late = append(h.late, f)
		return
	}
	f.Close()
}
