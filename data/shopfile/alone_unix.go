//go:build darwin || freebsd || linux

package shopfile

import (
	"os"
	"syscall"
)

// The bytes that SQLite locks in a database file, whether or not the file is that long: whoever has one open
// in write-ahead mode, or is reading or writing it in any other, holds a lock on some of them.
const (
	firstLocked = 0x40000000
	lockedBytes = 512
)

// alone takes the locks of SQLite on a file that this process has not opened in any other way, so that no
// other process can open it until the handle is closed. It tells whether that could be done.
func alone(f *os.File) bool {
	return syscall.FcntlFlock(f.Fd(), syscall.F_SETLK,
		&syscall.Flock_t{Type: syscall.F_WRLCK, Start: firstLocked, Len: lockedBytes}) == nil
}
