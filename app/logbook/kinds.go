package logbook

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"reflect"
	"regexp"
	"strconv"
	"syscall"

	"github.com/mattn/go-sqlite3"

	"skegworth/data/shopfile"
)

// known are the conditions that a log calls by name.
var known = []struct {
	name string
	err  error
}{
	{"not a shop file", shopfile.ErrNotShopFile},
	{"newer shop file", shopfile.ErrNewer},
	{"damaged", shopfile.ErrDamaged},
	{"exists", shopfile.ErrExists},
	{"read only", shopfile.ErrReadOnly},
	{"busy", shopfile.ErrBusy},
	{"disk full", shopfile.ErrDiskFull},
	{"not found", shopfile.ErrNotFound},
	{"in use", shopfile.ErrInUse},
	{"conflict", shopfile.ErrConflict},
	{"nothing to undo", shopfile.ErrNothingToUndo},
	{"nothing to redo", shopfile.ErrNothingToRedo},
	{"no such file", fs.ErrNotExist},
	{"file exists", fs.ErrExist},
	{"no permission", fs.ErrPermission},
	{"closed", fs.ErrClosed},
	{"too late", context.DeadlineExceeded},
	{"given up", context.Canceled},
	{"too late", os.ErrDeadlineExceeded},
	{"end of file", io.EOF},
	{"end of file", io.ErrUnexpectedEOF},
	{"short write", io.ErrShortWrite},
}

// dull types say nothing: they carry a text and that alone.
var dull = map[string]bool{"*fmt.wrapError": true, "*fmt.wrapErrors": true, "*errors.errorString": true, "*errors.joinError": true}

// most is how many errors of one chain are looked at.
const most = 64

var sqlState = regexp.MustCompile(`^[0-9A-Z]{5}$`)

// Kinds says what an error is without a letter of its text: the conditions known by name, the types in its
// chain, and the numbers that the system, SQLite or a server gave it.
func Kinds(err error) []string {
	var out []string
	add := func(kind string) {
		for _, had := range out {
			if had == kind {
				return
			}
		}
		out = append(out, kind)
	}
	all := chain(err, nil)
	for _, e := range all {
		for _, k := range known {
			if is(e, k.err) {
				add(k.name)
			}
		}
	}
	for _, e := range all {
		if name := fmt.Sprintf("%T", e); !dull[name] {
			add(name)
		}
		switch e := e.(type) {
		case syscall.Errno:
			add("errno " + strconv.Itoa(int(e)))
		case sqlite3.Error:
			add(fmt.Sprintf("sqlite %d/%d", int(e.Code), int(e.ExtendedCode)))
		case interface{ SQLState() string }:
			if state := e.SQLState(); sqlState.MatchString(state) {
				add("sqlstate " + state)
			}
		}
	}
	if len(out) == 0 {
		add("other")
	}
	return out
}

// is tells whether an error by itself, not through what it wraps, is a target. Errors of a type that Go
// cannot compare are none of those known by name.
func is(err, target error) bool {
	if reflect.TypeOf(err).Comparable() && err == target {
		return true
	}
	x, ok := err.(interface{ Is(error) bool })
	return ok && x.Is(target)
}

// chain is the error and all that it wraps, the outermost first.
func chain(err error, sofar []error) []error {
	if err == nil || len(sofar) >= most {
		return sofar
	}
	sofar = append(sofar, err)
	switch x := err.(type) {
	case interface{ Unwrap() []error }:
		for _, inner := range x.Unwrap() {
			sofar = chain(inner, sofar)
		}
	default:
		sofar = chain(errors.Unwrap(err), sofar)
	}
	return sofar
}
