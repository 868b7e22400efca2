// Package throwaway starts PostgreSQL servers for tests, from the programs of Debian's package, in folders
// that are gone afterwards. A test that needs one and cannot have it fails.
package throwaway

import (
	"context"
	"fmt"
	"net/url"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// shared is the server of all tests of one program that ask for no more than a shop. It lives as long as the
// program.
var shared = sync.OnceValues(func() (*Server, error) {
	s, err := start(Settings{Set: []string{"fsync=off", "synchronous_commit=off", "full_page_writes=off"}})
	running.Store(s)
	return s, err
})

var running atomic.Pointer[Server]

// Address is that of a server that all tests of this program share. It listens on a socket only, and nothing
// it is told is kept for long.
func Address(t testing.TB) string {
	t.Helper()
	s, err := shared()
	if err != nil {
		t.Fatal(err)
	}
	return s.Address()
}

// Shop is the address of an empty schema of its own on the shared server.
func Shop(t testing.TB) string {
	t.Helper()
	return Schema(t, Address(t))
}

// Schema makes an empty schema on a server and gives its address.
func Schema(t testing.TB, server string) string {
	t.Helper()
	name := fmt.Sprint("shop", schemas.Add(1))
	Do(t, server, "CREATE SCHEMA "+name)
	return With(server, "search_path", name)
}

var schemas atomic.Int64

// Do has a server do statements.
func Do(t testing.TB, address string, statements ...string) {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	c, err := pgx.Connect(ctx, address)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close(ctx)
	for _, s := range statements {
		if _, err := c.Exec(ctx, s); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
	}
}

// With is an address with one more thing said in it, or said otherwise.
func With(address, name, value string) string {
	u, err := url.Parse(address)
	if err != nil {
		panic(err)
	}
	said := u.Query()
	said.Set(name, value)
	u.RawQuery = said.Encode()
	return u.String()
}

// Own is a server of one test.
func Own(t testing.TB, about Settings) *Server {
	t.Helper()
	s, err := start(about)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.end(); err != nil {
			t.Errorf("end the server: %v", err)
		}
	})
	return s
}

// End ends the shared server, if there is one, and waits until nothing of it is left. Without it the server
// ends a moment after the program.
func End() error {
	s := running.Load()
	if s == nil {
		return nil
	}
	return s.end()
}

// Settings are what a server of one's own is started with.
type Settings struct {
	Set   []string          // of postgresql.conf, as name=value
	Files map[string]string // written into the server's folder, for it alone to read
	Rules string            // of pg_hba.conf in place of trust for everybody
	TCP   bool              // it listens on 127.0.0.1 too
}

// Address is where the server listens: its socket.
func (s *Server) Address() string {
	about := url.Values{"host": {s.folder}, "port": {fmt.Sprint(s.port)}, "user": {owner}, "sslmode": {"disable"}}
	return "postgres:///postgres?" + about.Encode()
}

// Port is that of the network and of the socket's name.
func (s *Server) Port() int { return s.port }

// Folder is where the socket is.
func (s *Server) Folder() string { return s.folder }

// Stop has the server end what it does and stop.
func (s *Server) Stop(t testing.TB) { t.Helper(); s.must(t, "stop") }

// Crash has the server die as if it were killed: what it had not written is lost.
func (s *Server) Crash(t testing.TB) { t.Helper(); s.must(t, "crash") }

// Start starts the server again.
func (s *Server) Start(t testing.TB) { t.Helper(); s.must(t, "start") }

func (s *Server) must(t testing.TB, what string) {
	t.Helper()
	if err := s.tell(what); err != nil {
		t.Fatalf("%s the server: %v", what, err)
	}
}

// owner owns all that is on a server.
const owner = "skegworth"

func words(s string) string { return strings.Join(strings.Fields(s), " ") }
