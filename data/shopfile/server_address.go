package shopfile

import (
	"errors"
	"fmt"
	"net/netip"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// serverAddress is an address understood: how to connect, and how it may be shown.
type serverAddress struct {
	config *pgx.ConnConfig
	shown  string // without its password
}

// Shown is where a shop is, as it may be shown to anybody: the path of a file, or an address without its
// password.
func Shown(where string) string {
	if !IsServer(where) {
		return where
	}
	shown, _, err := withoutPassword(where)
	if err != nil {
		return unshown
	}
	return shown
}

// unshown stands for an address of which nobody can say what in it is the password.
const unshown = "postgres://..."

// connectWithin is how long one address of a server has to answer, where the address does not say.
const connectWithin = 5 * time.Second

// parseAddress understands an address as libpq does: PGPASSWORD, a password file, certificates and the rest
// count where the address is silent. What libpq would do but this program does not is to speak openly over a
// network: where the server is not this machine the connection is encrypted and the server has to prove who
// it is, unless the address says require, which only encrypts.
func parseAddress(where string) (serverAddress, error) {
	shown, about, err := withoutPassword(where)
	if err != nil {
		return serverAddress{}, told{fmt.Errorf("open %q: %w", unshown, err)}
	}
	out := serverAddress{shown: shown}
	fail := func(err error) (serverAddress, error) {
		return serverAddress{}, told{fmt.Errorf("open %q: %w", shown, err)}
	}
	if out.config, err = pgx.ParseConfig(where); err != nil {
		return fail(misread(err))
	}
	if host := openly(out.config); host != "" {
		said := about.Query().Get("sslmode")
		if said == "" {
			said = os.Getenv("PGSSLMODE")
		}
		if said != "" {
			return fail(fmt.Errorf("sslmode=%s would let what is sent to %s be read on the way: write sslmode=verify-full, "+
				"with sslrootcert=FILE where the server's certificate is your own", said, host))
		}
		if out.config, err = pgx.ParseConfig(with(about, "sslmode", "verify-full")); err != nil {
			return fail(misread(err))
		}
		if host := openly(out.config); host != "" {
			return fail(fmt.Errorf("the way to %s is not encrypted: write sslmode=verify-full", host))
		}
	}
	if out.config.ConnectTimeout == 0 || out.config.ConnectTimeout > connectWithin && about.Query().Get("connect_timeout") == "" &&
		os.Getenv("PGCONNECT_TIMEOUT") == "" {
		out.config.ConnectTimeout = connectWithin
	}
	out.config.DialFunc = dialer(out.config.ConnectTimeout)
	settle := out.config.RuntimeParams
	for name, value := range sessionSettings {
		if settle[name] == "" {
			settle[name] = value
		}
	}
	return out, nil
}

// sessionSettings are asked of the server for each connection: that a wait for another bench ends, and that
// the server soon lets go of what a bench held that has fallen silent.
var sessionSettings = map[string]string{
	"application_name":                    "skegworth",
	"lock_timeout":                        "10s",
	"idle_in_transaction_session_timeout": "60s",
	"tcp_keepalives_idle":                 "15",
	"tcp_keepalives_interval":             "5",
	"tcp_keepalives_count":                "3",
	"client_min_messages":                 "warning",
}

// withoutPassword is the address as it may be shown, and its parts. An address that can be read in two ways
// is refused, since a piece of the password could be shown.
func withoutPassword(where string) (string, *url.URL, error) {
	u, err := url.Parse(where)
	if err != nil { // its words would repeat the address
		return "", nil, errAddress
	}
	rest := *u
	rest.User = nil
	if u.Fragment != "" || strings.Contains(rest.Host+rest.Path, "@") || u.User == nil && strings.Contains(rest.RawQuery, "@") {
		return "", nil, errAddress
	}
	shown := *u
	if u.User != nil {
		shown.User = url.User(u.User.Username())
	}
	var kept []string
	for _, each := range strings.Split(u.RawQuery, "&") {
		name, err := url.QueryUnescape(strings.SplitN(each, "=", 2)[0])
		if err != nil {
			return "", nil, errAddress
		}
		if each != "" && !strings.Contains(strings.ToLower(name), "password") {
			kept = append(kept, each)
		}
	}
	shown.RawQuery = strings.Join(kept, "&")
	return shown.String(), u, nil
}

var errAddress = errors.New("this is not an address such as postgres://name@server/shop, " +
	"in which the signs : / ? # @ of a password are written %3A %2F %3F %23 %40")

// misread says why an address was not understood, in words that do not repeat it.
func misread(err error) error {
	var about *pgconn.ParseConfigError
	if errors.As(err, &about) {
		if path := (*os.PathError)(nil); errors.As(err, &path) {
			return fmt.Errorf("%s cannot be read: %w", path.Path, path.Err)
		}
		if reason := errors.Unwrap(about); reason != nil && strings.Contains(about.Error(), "failed to configure TLS") {
			return fmt.Errorf("its certificates cannot be used: %w", reason)
		}
	}
	return errAddress
}

// with is the address with one more thing said in it.
func with(u *url.URL, name, value string) string {
	more := *u
	if more.RawQuery != "" {
		more.RawQuery += "&"
	}
	more.RawQuery += url.QueryEscape(name) + "=" + url.QueryEscape(value)
	return more.String()
}

// openly is a server on a network that would be spoken to openly, "" when there is none.
func openly(c *pgx.ConnConfig) string {
	hosts := append([]*pgconn.FallbackConfig{{Host: c.Host, Port: c.Port, TLSConfig: c.TLSConfig}}, c.Fallbacks...)
	for _, h := range hosts {
		if h.TLSConfig == nil && !here(h.Host, h.Port) {
			return h.Host
		}
	}
	return ""
}

// here tells whether a server is on this machine: a socket in a folder, or a loopback address.
func here(host string, port uint16) bool {
	if network, _ := pgconn.NetworkAddress(host, port); network == "unix" || host == "localhost" {
		return true
	}
	ip, err := netip.ParseAddr(host)
	return err == nil && ip.Unmap().IsLoopback()
}
