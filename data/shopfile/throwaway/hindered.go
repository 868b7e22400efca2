package throwaway

import (
	"sync/atomic"
	"testing"
)

// Hindered is an address that leads to the same server through a passage which never lets a commit through
// at its first attempt: the connection is cut before every other one, so that whatever is written is written
// twice. The number tells how many were cut.
func Hindered(t testing.TB, server string) (address string, cut *atomic.Int64) {
	t.Helper()
	cut = new(atomic.Int64)
	commits := 0
	_, address = Through(t, server, func(commit bool) Cut {
		if !commit {
			return Never
		}
		if commits++; commits%2 == 0 {
			return Never
		}
		cut.Add(1)
		return BeforeCommit
	})
	return address, cut
}
