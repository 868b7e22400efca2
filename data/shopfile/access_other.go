//go:build !(darwin || freebsd || linux)

package shopfile

import "os"

// mayWrite tells whether the file is marked as one that may be written to.
func mayWrite(path string) bool {
	about, err := os.Stat(path)
	return err == nil && about.Mode().Perm()&0o200 != 0
}
