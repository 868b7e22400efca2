package shop

import (
	"net/url"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"

	"skegworth/data/shopfile"
)

// Shown is where a shop is as it may be shown to anybody: a path, or the address of a server without its
// password.
func Shown(where string) string { return shopfile.Shown(where) }

// FolderFor is the folder in which files beside a shop are looked for first: its own, or the user's documents
// for a shop on a server.
func FolderFor(where string) string {
	if !shopfile.IsServer(where) {
		return filepath.Dir(where)
	}
	if isFolder(xdg.UserDirs.Documents) {
		return xdg.UserDirs.Documents
	}
	return xdg.Home
}

// TitleOf is what a shop is called: by its file without the ending, or by the database on a server, with the
// schema where the address names one.
func TitleOf(where string) string {
	if !shopfile.IsServer(where) {
		return strings.TrimSuffix(filepath.Base(where), filepath.Ext(where))
	}
	u, err := url.Parse(Shown(where))
	if err != nil {
		return Shown(where)
	}
	title := strings.Trim(u.Path, "/")
	if schema := u.Query().Get("search_path"); schema != "" {
		title = strings.TrimPrefix(title+"."+schema, ".")
	}
	if title == "" {
		title = u.Host
	}
	return title
}

// Folder is where files beside this shop are looked for first.
func (s *Shop) Folder() string { return FolderFor(s.path) }

// Title is what this shop is called.
func (s *Shop) Title() string { return TitleOf(s.path) }

// OnServer tells whether a shop is on a server and not in a file.
func OnServer(where string) bool { return shopfile.IsServer(where) }
