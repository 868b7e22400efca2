//go:build darwin || freebsd || linux

package backup

import "syscall"

// freeBytes is how much this user can still write to the disk of a folder; false where that cannot be told.
func freeBytes(folder string) (int64, bool) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(folder, &s); err != nil {
		return 0, false
	}
	return int64(s.Bavail) * int64(s.Bsize), true
}

// SameDisk tells whether two folders lie on one disk; false where that cannot be told.
func SameDisk(a, b string) bool {
	var x, y syscall.Stat_t
	return syscall.Stat(a, &x) == nil && syscall.Stat(b, &y) == nil && x.Dev == y.Dev
}
