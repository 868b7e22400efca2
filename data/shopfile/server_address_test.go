package shopfile

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// nothingSaid takes what the environment says of servers out of a test.
func nothingSaid(t *testing.T) {
	t.Helper()
	for _, each := range os.Environ() {
		if name := strings.SplitN(each, "=", 2)[0]; strings.HasPrefix(name, "PG") {
			t.Setenv(name, "")
		}
	}
	t.Setenv("HOME", t.TempDir())
}

func TestNothingIsSaidOpenlyOverANetwork(t *testing.T) {
	nothingSaid(t)
	for _, c := range []struct {
		address, environment string
		refused, plain       bool // plain: unencrypted connections are possible
		proves               bool // the server has to prove its name
	}{
		{address: "postgres://a@db.example/shop", proves: true},
		{address: "postgresql://a@192.0.2.7:5433/shop", proves: true},
		{address: "postgres://a@[2001:db8::1]/shop", proves: true},
		{address: "postgres://a@db.example/shop?sslmode=verify-full", proves: true},
		{address: "postgres://a@db.example/shop?sslmode=require"},
		{address: "postgres://a@db.example/shop?sslmode=verify-ca"},
		{address: "postgres://a@db.example/shop?sslmode=prefer", refused: true},
		{address: "postgres://a@db.example/shop?sslmode=allow", refused: true},
		{address: "postgres://a@db.example/shop?sslmode=disable", refused: true},
		{address: "postgres://a@db.example/shop", environment: "prefer", refused: true},
		{address: "postgres://a@db.example/shop", environment: "disable", refused: true},
		{address: "postgres://a@db.example/shop", environment: "require"},
		{address: "postgres://a@127.0.0.1,db.example/shop?sslmode=disable", refused: true},
		{address: "postgres://a@localhost,db.example/shop", proves: true},
		{address: "postgres:///shop?host=db.example&sslmode=disable", refused: true},
		{address: "postgres://a@127.0.0.1.example/shop?sslmode=disable", refused: true},
		{address: "postgres://a@localhost.example/shop?sslmode=disable", refused: true},
		{address: "postgres://a@localhost/shop?sslmode=disable", plain: true},
		{address: "postgres://a@127.8.9.10/shop", plain: true},
		{address: "postgres://a@[::1]/shop?sslmode=disable", plain: true},
		{address: "postgres://a@[::ffff:127.0.0.1]/shop?sslmode=disable", plain: true},
		{address: "postgres:///shop?host=/var/run/postgresql", plain: true},
		{address: "postgres://a@127.0.0.1/shop?sslmode=verify-full", proves: true},
	} {
		t.Setenv("PGSSLMODE", c.environment)
		a, err := parseAddress(c.address)
		if c.refused {
			if err == nil || !strings.Contains(err.Error(), "write sslmode=verify-full") || strings.Contains(err.Error(), "\n") {
				t.Errorf("%s with %q: %v", c.address, c.environment, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s with %q: %v", c.address, c.environment, err)
			continue
		}
		plain := a.config.TLSConfig == nil
		proves := !plain && !a.config.TLSConfig.InsecureSkipVerify && a.config.TLSConfig.ServerName != ""
		for _, f := range a.config.Fallbacks {
			plain = plain || f.TLSConfig == nil
			proves = proves && f.TLSConfig != nil && !f.TLSConfig.InsecureSkipVerify
		}
		if plain != c.plain || proves != c.proves {
			t.Errorf("%s with %q: plain %t, want %t; proves its name %t, want %t", c.address, c.environment, plain, c.plain, proves, c.proves)
		}
	}
}

func TestAPasswordIsNeverShown(t *testing.T) {
	nothingSaid(t)
	const secret = "Hs7kq2Zw"
	for _, c := range []struct{ address, shown string }{
		{"postgres://a:" + secret + "@127.0.0.1:1/shop", "postgres://a@127.0.0.1:1/shop"},
		{"postgres://a@127.0.0.1:1/shop?password=" + secret + "&search_path=b", "postgres://a@127.0.0.1:1/shop?search_path=b"},
		{"postgres://a@127.0.0.1:1/shop?%70assword=" + secret, "postgres://a@127.0.0.1:1/shop"},
		{"postgres://a@127.0.0.1:1/shop?sslpassword=" + secret + "&PASSWORD=" + secret, "postgres://a@127.0.0.1:1/shop"},
		{"postgres://a:x%40" + secret + "@127.0.0.1:1/shop", "postgres://a@127.0.0.1:1/shop"},
		{"postgres://a:@" + secret + "@127.0.0.1:1/shop", "postgres://a@127.0.0.1:1/shop"},
		{"postgres://a:12/" + secret + "@127.0.0.1:1/shop", unshown},
		{"postgres://a:12?" + secret + "@127.0.0.1:1/shop", unshown},
		{"postgres://a:12#" + secret + "@127.0.0.1:1/shop", unshown},
		{"postgres://a:" + secret + "/x@127.0.0.1:1/shop", unshown},
		{"postgres://a:" + secret + "%@127.0.0.1:1/shop", unshown},
		{"postgres://a:" + secret + "@127.0.0.1:port/shop", unshown},
		{"postgres://a:" + secret + "@:\x00/shop", unshown},
		{"postgres://a:" + secret + "@127.0.0.1:99999/shop", "postgres://a@127.0.0.1:99999/shop"},
		{"postgres://a:" + secret + "@127.0.0.1:1/shop?sslmode=" + "what", "postgres://a@127.0.0.1:1/shop?sslmode=what"},
		{"postgres://a:" + secret + "@127.0.0.1:1/shop?connect_timeout=soon", "postgres://a@127.0.0.1:1/shop?connect_timeout=soon"},
		{"postgres://a:" + secret + "@db.invalid/shop", "postgres://a@db.invalid/shop"},
		{"postgres://a:" + secret + "@db.example/shop?sslmode=disable", "postgres://a@db.example/shop?sslmode=disable"},
		{"postgres://a:" + secret + "@127.0.0.1/shop?sslmode=verify-full&sslrootcert=/no/file", "postgres://a@127.0.0.1/shop?sslmode=verify-full&sslrootcert=/no/file"},
	} {
		if shown := Shown(c.address); shown != c.shown {
			t.Errorf("%q is shown as %q, want %q", c.address, shown, c.shown)
		}
		f, err := onServer(c.address, nil)
		if err == nil {
			f.server.patience = 1
			err = f.receiveServer(t.Context())
			if f.Path() != c.shown {
				t.Errorf("the path is %q, want %q", f.Path(), c.shown)
			}
			if err == nil {
				t.Errorf("%q leads to a shop", c.address)
			}
			_ = f.Close()
			err = explain("open", err)
		}
		for e := err; e != nil; e = errors.Unwrap(e) {
			if said := e.Error(); strings.Contains(said, secret) {
				t.Errorf("of %q an error says %q", c.address, said)
			}
		}
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("of %q the error is no one sentence: %q", c.address, err)
		}
	}
}

func TestOnlyAnAddressIsOne(t *testing.T) {
	for where, is := range map[string]bool{
		"postgres://a/b": true, "postgresql:///b": true, "shop.skegworth": false, "postgres.skegworth": false,
		"/srv/postgres://a": false, "postgres:/a": false, filepath.Join("a", "b"): false, "": false,
	} {
		if IsServer(where) != is {
			t.Errorf("%q: %t", where, !is)
		}
	}
}
