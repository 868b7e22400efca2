package backup

import (
	"crypto/sha256"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"
)

// longest name of a file or folder that the usual file systems take, in bytes.
const longest = 255

// Folder is where the copies of a shop are kept: for a shop file a folder beside it, named for it; for a
// shop on a server, given by its postgres:// address, one on this computer, named for the server and the
// database and for nothing secret in the address. It need not be there yet.
func Folder(shopPath string) string {
	if u, onServer := server(shopPath); onServer {
		return filepath.Join(xdg.DataHome, "skegworth", folderName(serverName(u)))
	}
	full, err := filepath.Abs(shopPath)
	if err != nil { // the folder one is in was removed
		full = filepath.Clean(shopPath)
	}
	return filepath.Join(filepath.Dir(full), folderName(filepath.Base(full)))
}

// folderName says what is in the folder. A name too long for a folder is cut, and told apart from others
// cut alike by a piece of its checksum.
func folderName(of string) string {
	name := "copies of " + of
	if len(name) <= longest {
		return name
	}
	mark := fmt.Sprintf(" %x", sha256.Sum256([]byte(of)))[:17]
	return strings.ToValidUTF8(name[:longest-len(mark)], "") + mark
}

// server reads the address of a shop on a server; false for the path of a file.
func server(where string) (*url.URL, bool) {
	if !strings.HasPrefix(where, "postgres://") && !strings.HasPrefix(where, "postgresql://") {
		return nil, false
	}
	u, err := url.Parse(where)
	if err != nil { // still no path; nothing of it may be shown
		return &url.URL{Host: "unreadable"}, true
	}
	return u, true
}

// serverName names a shop on a server by host, port, database and, where the address names one, the schema:
// several shops may be in one database. A server on a local socket has its host among the options.
func serverName(u *url.URL) string {
	options := u.Query()
	host, database := u.Hostname(), strings.Trim(u.Path, "/")
	if host == "" {
		host = options.Get("host")
	}
	if host == "" {
		host = "localhost"
	}
	if database == "" {
		database = options.Get("dbname")
	}
	port := u.Port()
	if port == "" {
		port = options.Get("port")
	}
	name := host
	if port != "" && port != "5432" {
		name += "_" + port
	}
	return strings.Join(strings.Fields(plain(name)+" "+plain(database)+" "+plain(options.Get("search_path"))), " ")
}

// plain has only what every file system takes in a name.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return '_'
		}
		return r
	}, strings.Trim(s, "/ "))
}
