// Package logbook keeps the program's log: what a person who helps with a fault needs to know, and nothing
// about the shop.
//
// A line says when the program started and ended, which word it was given, how long it took, and of what
// kind a failure was. It never holds the text of an error, a path, a name, an amount or an address: only
// words that stand in this program's own source, and numbers of the system's.
package logbook

import (
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"time"

	"github.com/adrg/xdg"
	"gopkg.in/natefinch/lumberjack.v2"

	"skegworth/data/shopfile"
)

// The log takes at most so many files of so many megabytes: the one written to and older ones.
const (
	megabytes = 1
	older     = 3
)

// Place is where the log is kept: one file in the user's state folder.
func Place() string { return filepath.Join(xdg.StateHome, "skegworth", "skegworth.log") }

// Book is an open log.
type Book struct {
	path    string
	to      io.Closer
	log     *slog.Logger
	started time.Time
	word    atomic.Pointer[string]
	stopped bool // the run before this one ended in a crash
}

// current is the log of this process, nil before it is opened: then nothing is written.
var current atomic.Pointer[Book]

// Open opens the log at path for this process and notes the start, in a folder only its owner can look into. Where that cannot
// be, on a full disk for one, nothing is logged and the work goes on.
func Open(path, version string) *Book {
	b := &Book{path: path, started: time.Now(), stopped: endsInCrash(path)}
	b.log, b.to = slog.New(slog.DiscardHandler), io.NopCloser(nil)
	if os.MkdirAll(filepath.Dir(path), 0o700) == nil && private(path) {
		file := &lumberjack.Logger{Filename: path, MaxSize: megabytes, MaxBackups: older}
		b.log, b.to = slog.New(slog.NewJSONHandler(file, nil)), file
	}
	current.Store(b)
	b.log.Info("started", "version", version, "schema", shopfile.Schema(), "system", runtime.GOOS+"/"+runtime.GOARCH,
		"go", runtime.Version(), "process", os.Getpid())
	return b
}

// private makes sure that the file is there, is a file and not a link to one, and is the owner's alone.
func private(path string) bool {
	info, err := os.Lstat(path)
	if err == nil {
		return info.Mode().IsRegular() && (info.Mode().Perm()&0o077 == 0 || os.Chmod(path, 0o600) == nil)
	}
	file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return os.IsExist(err) // another window made it in this moment
	}
	return file.Close() == nil
}

// Close ends the log with the exit code.
func (b *Book) Close(code int) {
	b.log.Info("ended", "word", b.said(), "code", code, "took", b.took(), "process", os.Getpid())
	current.CompareAndSwap(b, nil)
	b.to.Close()
}

func (b *Book) said() string {
	if word := b.word.Load(); word != nil {
		return *word
	}
	return ""
}

// took is how long the program has run, in milliseconds.
func (b *Book) took() int64 { return time.Since(b.started).Milliseconds() }

// Word notes which word the program was given: the name of the word itself, none of what follows it.
func Word(name string) {
	if b := current.Load(); b != nil {
		b.word.Store(&name)
		b.log.Info("word", "word", name, "process", os.Getpid())
	}
}

// Failed notes of what kind a failure was that the user has been told of in full.
func Failed(err error) {
	if b := current.Load(); b != nil && err != nil {
		b.log.Warn("failed", "word", b.said(), "kinds", Kinds(err), "process", os.Getpid())
	}
}

// StoppedBefore tells whether the run before this one ended in a crash, and where the log is that says more.
func StoppedBefore() (path string, stopped bool) {
	b := current.Load()
	if b == nil {
		return "", false
	}
	return b.path, b.stopped
}

// Keep runs the program with a log: it notes the start and the end, and a panic anywhere in do. That ends
// with one sentence on errs and the code [Crashed].
func Keep(path, version string, errs io.Writer, do func() int) (code int) {
	b := Open(path, version)
	defer func() { b.Close(code) }()
	defer func() {
		if r := recover(); r != nil {
			b.crashed(r)
			fmt.Fprintln(errs, b.sorry())
			code = Crashed
		}
	}()
	return do()
}
