package shopfile

import (
	"bytes"
	"fmt"
	"net"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"

	"skegworth/data/shopfile/throwaway"
)

// moment is when a connection is cut.
type moment int

const (
	never          moment = iota
	beforeCommit          // the server never gets it
	afterCommit           // the server gets it, and nobody waits for its answer
	answerWithheld        // the server has answered, and nobody is told
	atOnce                // whatever is under way
)

// cutter stands between the program and a server and cuts connections where it is told to.
type cutter struct {
	folder string // of the socket it listens on
	server string // the socket of the server

	mu      sync.Mutex
	pick    func(commit bool) moment // asked for everything that the program sends
	barred  bool                     // nobody gets through any more
	cuts    map[moment]int
	between map[net.Conn]bool
}

// cutting puts a cutter before a server, and gives the address that leads through it.
func cutting(t *testing.T, address string, pick func(commit bool) moment) (*cutter, string) {
	t.Helper()
	a, err := parseAddress(address)
	must(t, err)
	name := fmt.Sprintf(".s.PGSQL.%d", a.config.Port)
	c := &cutter{folder: t.TempDir(), server: filepath.Join(a.config.Host, name), pick: pick,
		cuts: map[moment]int{}, between: map[net.Conn]bool{}}
	l, err := net.Listen("unix", filepath.Join(c.folder, name))
	must(t, err)
	t.Cleanup(func() { l.Close(); c.cutAll() })
	go func() {
		for {
			program, err := l.Accept()
			if err != nil {
				return
			}
			go c.pass(program)
		}
	}()
	return c, throwaway.With(address, "host", c.folder)
}

// pass hands on what the two sides say until one ends it or it is cut.
func (c *cutter) pass(program net.Conn) {
	defer program.Close()
	server, err := net.Dial("unix", c.server)
	if err != nil {
		return
	}
	defer server.Close()
	c.mu.Lock()
	barred := c.barred
	c.between[program], c.between[server] = true, true
	c.mu.Unlock()
	if barred {
		return
	}
	var withheld atomic.Bool // answers are kept back
	over := make(chan struct{})
	go func() { // answers
		defer close(over)
		defer program.Close()
		said := make([]byte, 1<<15)
		for {
			n, err := server.Read(said)
			if withheld.Load() && n > 0 {
				return
			}
			if n > 0 {
				if _, err := program.Write(said[:n]); err != nil {
					return
				}
			}
			if err != nil {
				return
			}
		}
	}()
	said := make([]byte, 1<<15)
	for {
		n, err := program.Read(said)
		if n > 0 {
			c.mu.Lock()
			when := atOnce
			if !c.barred {
				when = c.pick(bytes.Contains(said[:n], []byte("commit\x00")))
			}
			c.cuts[when]++
			c.mu.Unlock()
			switch when {
			case beforeCommit, atOnce:
				return
			case answerWithheld:
				withheld.Store(true)
				_, _ = server.Write(said[:n])
				<-over
				return
			}
			if _, err := server.Write(said[:n]); err != nil || when == afterCommit {
				return
			}
		}
		if err != nil {
			return
		}
	}
}

func (c *cutter) cutAll() {
	c.mu.Lock()
	defer c.mu.Unlock()
	for each := range c.between {
		each.Close()
	}
}

// bar lets nobody through from now on.
func (c *cutter) bar() {
	c.mu.Lock()
	c.barred = true
	c.mu.Unlock()
	c.cutAll()
}

// count is how often connections were cut at a moment.
func (c *cutter) count(when moment) int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.cuts[when]
}
