package shopfile

import (
	"context"
	"net"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
)

// silence is after how long a server that has stopped answering in the middle of a connection counts as gone.
const silence = 20 * time.Second

// dialer opens connections that notice when the other side is gone, instead of waiting for as long as the
// system's own patience, which is many minutes.
func dialer(within time.Duration) pgconn.DialFunc {
	d := &net.Dialer{
		Timeout:         within,
		KeepAliveConfig: net.KeepAliveConfig{Enable: true, Idle: silence / 2, Interval: silence / 8, Count: 4},
		Control:         impatient,
	}
	return func(ctx context.Context, network, address string) (net.Conn, error) {
		return d.DialContext(ctx, network, address)
	}
}
