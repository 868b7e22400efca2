package shopfile

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	bignum "math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"skegworth/data/shopfile/throwaway"
)

func TestWhatIsNoShopOnAServerIsRefusedAndLeftAlone(t *testing.T) {
	empty := throwaway.Shop(t)
	_, err := Open(t.Context(), empty)
	wantError(t, err, fs.ErrNotExist)

	other := throwaway.Shop(t)
	throwaway.Do(t, other, "CREATE TABLE motors (n BIGINT)")
	_, err = Open(t.Context(), other)
	wantError(t, err, ErrNotShopFile)
	_, err = Create(t.Context(), other)
	wantError(t, err, ErrExists)

	for _, open := range []func() (*File, error){
		func() (*File, error) { return Open(t.Context(), throwaway.With(empty, "search_path", "nowhere")) },
		func() (*File, error) { return Create(t.Context(), throwaway.With(empty, "search_path", "nowhere")) },
	} {
		if _, err := open(); err == nil || !strings.Contains(err.Error(), "no schema of the name") {
			t.Errorf("a schema that is not there: %v", err)
		}
	}

	f := freshPostgres(t)
	address := f.server.config.ConnString()
	before := dumped(t, f)
	byHand(t, f, "INSERT INTO goose_db_version (version_id, is_applied) VALUES (999, TRUE)")
	_, err = Open(t.Context(), address)
	wantError(t, err, ErrNewer)
	wantError(t, f.Write(t.Context(), "late", "", func(tx *Tx) error { return tx.PutPreference("a", "b") }), ErrNewer)
	byHand(t, f, "DELETE FROM goose_db_version WHERE version_id = 999")
	sameDump(t, "after a newer program was refused", before, dumped(t, f))

	byHand(t, f, "ALTER TABLE snags DROP COLUMN waits_on")
	_, err = Open(t.Context(), address)
	wantError(t, err, ErrDamaged)
}

func TestProgramsMakingTheSameShopAtOnceShareIt(t *testing.T) {
	for range 2 {
		address := throwaway.Shop(t)
		several(t, 5, func(int) error { return program("intake", address) })
		soundShop(t, address, 5)
	}
}

func TestAWrongPasswordIsToldWithoutIt(t *testing.T) {
	own := throwaway.Own(t, throwaway.Settings{Rules: "local all skegworth trust\nlocal all all scram-sha-256\n"})
	throwaway.Do(t, own.Address(), "CREATE ROLE anna LOGIN PASSWORD 'right one'", "CREATE SCHEMA shop AUTHORIZATION anna")
	address := throwaway.With(throwaway.With(own.Address(), "user", "anna"), "search_path", "shop")
	nothingSaid(t)
	for _, password := range []string{"", "Hs7kq2Zw"} {
		_, err := Create(t.Context(), throwaway.With(address, "password", password))
		wantError(t, err, ErrLogin)
		for e := err; e != nil; e = errors.Unwrap(e) {
			if strings.Contains(e.Error(), "Hs7kq2Zw") || strings.Contains(err.Error(), "\n") {
				t.Errorf("the error says %q", e)
			}
		}
	}
	// A password file, as libpq reads it.
	passwords := filepath.Join(t.TempDir(), "passwords")
	must(t, os.WriteFile(passwords, []byte("localhost:*:*:anna:right one\n"), 0o600))
	t.Setenv("PGPASSFILE", passwords)
	f, err := Create(t.Context(), address)
	must(t, err)
	write(t, f, "a preference", func(tx *Tx) error { return tx.PutPreference("width", "1280") })
	must(t, f.Close())
	t.Setenv("PGPASSFILE", "")
	t.Setenv("PGPASSWORD", "right one")
	f, err = Open(t.Context(), address)
	must(t, err)
	defer f.Close()
	for table, rows := range dumped(t, f) {
		if strings.Contains(strings.Join(rows, ""), "right one") {
			t.Errorf("the password stands in %s", table)
		}
	}
	throwaway.Do(t, own.Address(), "ALTER ROLE anna CONNECTION LIMIT 0")
	_, err = Open(t.Context(), address)
	if err == nil || !strings.Contains(err.Error(), "no room for one more bench") {
		t.Errorf("one bench too many: %v", err)
	}
}

// authority makes an own certificate authority, and a certificate of a server that it vouches for.
func authority(t *testing.T, host string) (root, certificate, key string) {
	t.Helper()
	made := func(template, parent *x509.Certificate, signer *ecdsa.PrivateKey) ([]byte, *ecdsa.PrivateKey) {
		own, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
		must(t, err)
		if signer == nil {
			signer = own
		}
		der, err := x509.CreateCertificate(rand.Reader, template, parent, &own.PublicKey, signer)
		must(t, err)
		return der, own
	}
	written := func(kind string, der []byte) string {
		return string(pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: der}))
	}
	ca := &x509.Certificate{SerialNumber: bignum.NewInt(1), Subject: pkix.Name{CommonName: "Harbour"}, IsCA: true, BasicConstraintsValid: true,
		KeyUsage: x509.KeyUsageCertSign, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour)}
	der, signer := made(ca, ca, nil)
	leaf := &x509.Certificate{SerialNumber: bignum.NewInt(2), Subject: pkix.Name{CommonName: "server"}, NotBefore: ca.NotBefore, NotAfter: ca.NotAfter,
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}}
	if ip := net.ParseIP(host); ip != nil {
		leaf.IPAddresses = []net.IP{ip}
	} else {
		leaf.DNSNames = []string{host}
	}
	signed, own := made(leaf, ca, signer)
	private, err := x509.MarshalPKCS8PrivateKey(own)
	must(t, err)
	return written("CERTIFICATE", der), written("CERTIFICATE", signed), written("PRIVATE KEY", private)
}

func TestTheServerProvesWhoItIs(t *testing.T) {
	nothingSaid(t)
	folder := t.TempDir()
	kept := func(name, text string) string {
		path := filepath.Join(folder, name)
		must(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	root, certificate, key := authority(t, "127.0.0.1")
	another, _, _ := authority(t, "127.0.0.1")
	own := throwaway.Own(t, throwaway.Settings{TCP: true, Rules: "local all all trust\nhostssl all all 127.0.0.1/32 trust\n",
		Set: []string{"ssl=on", "ssl_cert_file=server.crt", "ssl_key_file=server.key"},
		// Names of files are the data folder's.
		Files: map[string]string{"data/server.crt": certificate, "data/server.key": key}})
	schema := throwaway.With(throwaway.Schema(t, own.Address()), "host", "")
	at := func(host, root, mode string) string {
		return fmt.Sprintf("postgres://skegworth@%s:%d/postgres?sslmode=%s&sslrootcert=%s&search_path=%s", host, own.Port(), mode, root,
			strings.SplitN(strings.SplitN(schema, "search_path=", 2)[1], "&", 2)[0])
	}
	f, err := Create(t.Context(), at("127.0.0.1", kept("root", root), "verify-full"))
	must(t, err)
	defer f.Close()
	var encrypted bool
	must(t, f.db.QueryRow("SELECT ssl FROM pg_stat_ssl WHERE pid = pg_backend_pid()").Scan(&encrypted))
	if !encrypted {
		t.Error("the connection is not encrypted")
	}
	for what, c := range map[string]struct{ address, says string }{
		"an authority nobody trusts": {at("127.0.0.1", kept("another", another), "verify-full"), "vouches"},
		"another name":               {at("localhost", kept("root", root), "verify-full"), "another name"},
		"no file":                    {at("127.0.0.1", filepath.Join(folder, "nothing"), "verify-full"), "cannot be read"},
		"no certificate in it":       {at("127.0.0.1", kept("empty", ""), "verify-full"), "certificates cannot be used"},
	} {
		if _, err := Open(t.Context(), c.address); err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", what, err)
		}
	}
}
