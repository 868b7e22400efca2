package shopfile

import (
	"crypto/tls"
	"crypto/x509"
	"database/sql"
	"database/sql/driver"
	"errors"
	"io"
	"net"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
)

// sqlState is the code that a server gave with its error, "" where the error is none of a server's.
func sqlState(err error) string {
	var said *pgconn.PgError
	if errors.As(err, &said) {
		return said.Code
	}
	return ""
}

// serverMeaning is what an error of a server means, nil for those that only a mistake in this package can
// cause. The codes are those of appendix A of PostgreSQL's manual.
func serverMeaning(err error) error {
	switch code := sqlState(err); {
	case code == "":
		return connectionMeaning(err)
	case code == "53100", code == "53200":
		return ErrDiskFull
	case code == "53300", code == "53400":
		return errors.New("the server has no room for one more bench, try again in a moment")
	case code == "28P01", code == "28000":
		return ErrLogin
	case code == "3D000":
		return errors.New("the server has no database of that name")
	case code == "42501":
		return ErrForbidden
	case code == "22021", code == "22P05":
		return errors.New("there is text in it that is not Unicode, which a server cannot keep")
	case code == "25006":
		return ErrReadOnly
	case code == "23503":
		return ErrInUse
	case code == "55P03", strings.HasPrefix(code, "40"):
		return ErrBusy
	case ended(code):
		return ErrUnreachable
	case code == "58030":
		return errors.New("the disk of the server does not answer as it should, nothing was changed")
	case strings.HasPrefix(code, "XX"):
		return ErrDamaged
	}
	return nil
}

// connectionMeaning is what an error means that stood in the way of reaching a server.
func connectionMeaning(err error) error {
	var (
		connecting *pgconn.ConnectError
		name       *net.DNSError
		authority  x509.UnknownAuthorityError
		host       x509.HostnameError
		invalid    x509.CertificateInvalidError
		proof      *tls.CertificateVerificationError
	)
	switch {
	case errors.As(err, &host):
		return errors.New("the server's certificate is for another name than the address says")
	case errors.As(err, &authority):
		return errors.New("nobody this computer trusts vouches for the server's certificate: name the file of who does by sslrootcert")
	case errors.As(err, &invalid), errors.As(err, &proof):
		return errors.New("the server's certificate does not hold")
	case errors.As(err, &connecting) && strings.Contains(err.Error(), "server refused TLS connection"):
		return errors.New("the server does not offer an encrypted connection, without which nothing is sent over a network")
	case errors.As(err, &name) && name.IsNotFound:
		return errors.New("there is no server of that name")
	case lost(err):
		return ErrUnreachable
	}
	return nil
}

// ended tells the codes with which a server ends a connection or does not take one just now.
func ended(code string) bool {
	switch code {
	case "57P01", "57P02", "57P03", "57P05", "25P03", "25P04":
		return true
	}
	return strings.HasPrefix(code, "08")
}

// lost tells whether an error means that the connection was lost or not to be had, so that another attempt
// may do better.
func lost(err error) bool {
	if err == nil {
		return false
	}
	if code := sqlState(err); code != "" {
		return ended(code)
	}
	var (
		network    *net.OpError
		connecting *pgconn.ConnectError
		name       *net.DNSError
		proof      *tls.CertificateVerificationError
	)
	switch {
	case errors.As(err, &proof), errors.As(err, &name) && name.IsNotFound:
		return false
	case errors.As(err, &connecting):
		return !strings.Contains(err.Error(), "server refused TLS connection")
	}
	return errors.Is(err, driver.ErrBadConn) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) ||
		errors.Is(err, net.ErrClosed) || errors.Is(err, pgconn.ErrConnClosed) || errors.Is(err, sql.ErrConnDone) || errors.As(err, &network) || pgconn.Timeout(err)
}

// closed tells whether the connection is no more, whatever became of the error that said so.
func closed(c *sql.Conn) bool {
	out := false
	err := c.Raw(func(raw any) error {
		out = raw.(*stdlib.Conn).Conn().IsClosed()
		return nil
	})
	return out || err != nil
}
