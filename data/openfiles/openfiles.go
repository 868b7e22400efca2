// Package openfiles writes a whole shop file as a folder of plain files, one CSV a table and the pictures
// beside them, that any program can read and from which the shop file is rebuilt exactly.
//
// The tables are those the shop file itself names, so that none is forgotten. README.txt explains every
// column; manifest.json lists the files with their rows, sizes and SHA-256.
package openfiles

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// Names in the folder.
const (
	manifestName = "manifest.json"
	readmeName   = "README.txt"
	picturesName = "pictures" // the folder of pictures, and the table that names them
)

// format is the number of the way these files are written.
const format = 1

// manifest tells what belongs into the folder.
type manifest struct {
	Format   int     `json:"format"`
	Program  string  `json:"program"`
	Schema   int     `json:"schema"`
	MadeOn   string  `json:"made_on"`
	Tables   []sheet `json:"tables"`
	Pictures []piece `json:"pictures"`
	Readme   piece   `json:"readme"`
}

// sheet is a table's CSV.
type sheet struct {
	Name    string   `json:"name"`
	Rows    int      `json:"rows"`
	Columns []string `json:"columns"`
	piece
}

// piece is one file, by its path inside the folder.
type piece struct {
	File   string `json:"file"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

var (
	// ErrThere is returned when the folder to write holds something already.
	ErrThere = errors.New("there is something of that name already")
	// ErrNotOpenFiles is returned when a folder was not written by [Export].
	ErrNotOpenFiles = errors.New("this is not a folder of open files")
	// ErrNewer is returned when a newer program wrote the folder.
	ErrNewer = errors.New("the open files were written by a newer version of the program, which is needed to read them")
	// ErrNotWhole is returned when a file of the folder is missing or is not as it was written.
	ErrNotWhole = errors.New("the open files are not whole")
)

// notWhole is an ErrNotWhole that names the file.
func notWhole(file, what string, more ...any) error {
	return fmt.Errorf("%w: %s %s", ErrNotWhole, file, fmt.Sprintf(what, more...))
}

// tally counts and sums what is written or read.
type tally struct {
	hash.Hash
	bytes int64
}

func newTally() *tally { return &tally{Hash: sha256.New()} }

func (t *tally) Write(p []byte) (int, error) {
	t.bytes += int64(len(p))
	return t.Hash.Write(p)
}

func (t *tally) piece(file string) piece {
	return piece{File: file, Bytes: t.bytes, SHA256: hex.EncodeToString(t.Sum(nil))}
}

// plainName is a name that every file system takes and that leads nowhere else.
var plainName = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]{0,99}$`)

// safe tells whether a path of a manifest lies inside the folder and is one that [Export] can have given.
func safe(path string) bool {
	name, inside := strings.CutPrefix(path, picturesName+"/")
	if !inside {
		name = path
	}
	return plainName.MatchString(name) || !inside && path == readmeName
}

// Limits of what is read before it is known to be right.
const (
	longestManifest = 64 << 20
	longestPicture  = 48 << 20 // what is kept of it in base64 is as long as a value may be
)

// readManifest reads what belongs into the folder.
func readManifest(folder string) (manifest, error) {
	var m manifest
	f, err := os.Open(filepath.Join(folder, manifestName))
	if errors.Is(err, os.ErrNotExist) {
		return m, fmt.Errorf("%w: it has no %s", ErrNotOpenFiles, manifestName)
	}
	if err != nil {
		return m, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, longestManifest+1))
	if err != nil {
		return m, err
	}
	return parseManifest(data)
}

func parseManifest(data []byte) (manifest, error) {
	var m manifest
	if len(data) > longestManifest {
		return m, fmt.Errorf("%w: its %s is longer than any", ErrNotOpenFiles, manifestName)
	}
	if err := json.Unmarshal(data, &m); err != nil || m.Format < 1 || m.Schema < 1 {
		return m, fmt.Errorf("%w: its %s does not say what one says", ErrNotOpenFiles, manifestName)
	}
	if m.Format > format {
		return m, ErrNewer
	}
	seen := make(map[string]bool)
	for _, p := range m.pieces() {
		key := strings.ToLower(p.File)
		if !safe(p.File) || seen[key] || p.Bytes < 0 || len(p.SHA256) != 2*sha256.Size {
			return m, fmt.Errorf("%w: its %s lists a file %.60q", ErrNotOpenFiles, manifestName, p.File)
		}
		seen[key] = true
	}
	return m, nil
}

// pieces are all the files it lists.
func (m manifest) pieces() []piece {
	out := make([]piece, 0, len(m.Tables)+len(m.Pictures)+1)
	out = append(out, m.Readme)
	for _, t := range m.Tables {
		out = append(out, t.piece)
	}
	return append(out, m.Pictures...)
}

// whole makes sure that a file is there and is as it was written.
func whole(folder string, p piece) error {
	path := filepath.Join(folder, filepath.FromSlash(p.File))
	about, err := os.Lstat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return notWhole(p.File, "is missing")
	case err != nil:
		return err
	case !about.Mode().IsRegular():
		return notWhole(p.File, "is not a file")
	case about.Size() != p.Bytes:
		return notWhole(p.File, "has %d bytes and was written with %d", about.Size(), p.Bytes)
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	t := newTally()
	if _, err := io.Copy(t, f); err != nil {
		return err
	}
	if t.piece(p.File) != p {
		return notWhole(p.File, "was changed since it was written")
	}
	return nil
}
