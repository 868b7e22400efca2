//go:build !darwin && !freebsd && !linux

package backup

// freeBytes cannot tell here: a full disk shows when it is written to.
func freeBytes(string) (int64, bool) { return 0, false }

// SameDisk cannot tell here.
func SameDisk(a, b string) bool { return false }
