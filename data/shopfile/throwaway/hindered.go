package throwaway

import (
	"bytes"
	"fmt"
	"net"
	"net/url"
	"path/filepath"
	"sync/atomic"
	"testing"
)

// Hindered is an address that leads to the same server through a passage which never lets a commit through
// at its first attempt: the connection is cut before every other one, so that whatever is written is written
// twice. The number tells how many were cut.
func Hindered(t testing.TB, server string) (address string, cut *atomic.Int64) {
	t.Helper()
	u, err := url.Parse(server)
	if err != nil {
		t.Fatal(err)
	}
	name := fmt.Sprint(".s.PGSQL.", u.Query().Get("port"))
	socket := filepath.Join(u.Query().Get("host"), name)
	folder := t.TempDir()
	l, err := net.Listen("unix", filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	cut = new(atomic.Int64)
	var commits atomic.Int64
	go func() {
		for {
			program, err := l.Accept()
			if err != nil {
				return
			}
			go hinder(program, socket, &commits, cut)
		}
	}()
	return With(server, "host", folder), cut
}

// hinder hands on what the two sides say until one of them ends it or a commit is to be cut.
func hinder(program net.Conn, socket string, commits, cut *atomic.Int64) {
	defer program.Close()
	server, err := net.Dial("unix", socket)
	if err != nil {
		return
	}
	defer server.Close()
	go func() {
		defer program.Close()
		said := make([]byte, 1<<15)
		for {
			n, err := server.Read(said)
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
		if bytes.Contains(said[:n], []byte("commit\x00")) && commits.Add(1)%2 == 1 {
			cut.Add(1)
			return
		}
		if n > 0 {
			if _, err := server.Write(said[:n]); err != nil {
				return
			}
		}
		if err != nil {
			return
		}
	}
}
