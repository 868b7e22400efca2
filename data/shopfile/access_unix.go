//go:build darwin || freebsd || linux

package shopfile

import "syscall"

// mayWrite tells whether this user may write to the file, without opening it.
func mayWrite(path string) bool {
	const write = 2 // W_OK of POSIX access()
	return syscall.Access(path, write) == nil
}
