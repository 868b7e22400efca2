package shopfile

import (
	"strings"
	"syscall"
)

// impatient gives up a connection on which what was sent is not acknowledged: probes that keep it alive are
// sent only while nothing is under way.
func impatient(network, _ string, raw syscall.RawConn) error {
	if !strings.HasPrefix(network, "tcp") {
		return nil
	}
	const userTimeout = 18 // TCP_USER_TIMEOUT of linux/tcp.h, in milliseconds
	return raw.Control(func(fd uintptr) {
		_ = syscall.SetsockoptInt(int(fd), syscall.IPPROTO_TCP, userTimeout, int(silence.Milliseconds()))
	})
}
