package throwaway

import (
	"bytes"
	"fmt"
	"net"
	"net/url"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
)

// Cut is when a connection is cut.
type Cut int

const (
	Never          Cut = iota
	BeforeCommit       // the server never gets it
	AfterCommit        // the server gets it, and nobody waits for its answer
	AnswerWithheld     // the server has answered, and nobody is told
	AtOnce             // whatever is under way
)

// Passage stands between programs and a server and cuts connections where it is told to.
type Passage struct {
	server string // the socket of the server

	mu      sync.Mutex
	pick    func(commit bool) Cut
	cuts    map[Cut]int
	between map[net.Conn]bool
}

// Through puts a passage before a server, and gives the address that leads through it. Pick is asked of
// everything that a program sends, by one at a time: whether it is a commit, and when to cut it off.
func Through(t testing.TB, server string, pick func(commit bool) Cut) (p *Passage, address string) {
	t.Helper()
	u, err := url.Parse(server)
	if err != nil {
		t.Fatal(err)
	}
	name, folder := fmt.Sprint(".s.PGSQL.", u.Query().Get("port")), t.TempDir()
	p = &Passage{server: filepath.Join(u.Query().Get("host"), name), pick: pick, cuts: map[Cut]int{}, between: map[net.Conn]bool{}}
	l, err := net.Listen("unix", filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close(); p.cutAll() })
	go func() {
		for {
			program, err := l.Accept()
			if err != nil {
				return
			}
			go p.pass(program)
		}
	}()
	return p, With(server, "host", folder)
}

// Count is how often connections were cut at a moment.
func (p *Passage) Count(when Cut) int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.cuts[when]
}

// pass hands on what the two sides say until one ends it or it is cut.
func (p *Passage) pass(program net.Conn) {
	defer program.Close()
	server, err := net.Dial("unix", p.server)
	if err != nil {
		return
	}
	defer server.Close()
	p.mu.Lock()
	p.between[program], p.between[server] = true, true
	p.mu.Unlock()
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
			p.mu.Lock()
			when := p.pick(bytes.Contains(said[:n], []byte("commit\x00")))
			p.cuts[when]++
			p.mu.Unlock()
			switch when {
			case BeforeCommit, AtOnce:
				return
			case AnswerWithheld:
				withheld.Store(true)
				_, _ = server.Write(said[:n])
				<-over
				return
			}
			if _, err := server.Write(said[:n]); err != nil || when == AfterCommit {
				return
			}
		}
		if err != nil {
			return
		}
	}
}

func (p *Passage) cutAll() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for each := range p.between {
		each.Close()
	}
}
