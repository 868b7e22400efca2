package shopfile

import (
	"context"
	"errors"
	"fmt"

	"github.com/mattn/go-sqlite3"
)

// What can be wrong, for [errors.Is]. The errors returned say it in one sentence that names the file or
// the thing.
var (
	ErrNotShopFile   = errors.New("this is not a shop file")
	ErrNewer         = errors.New("the shop file was written by a newer version of the program, which is needed to open it")
	ErrDamaged       = errors.New("the shop file is damaged")
	ErrExists        = errors.New("there is a file of that name already")
	ErrReadOnly      = errors.New("the shop file may only be read, not written to")
	ErrBusy          = errors.New("another program is busy with the shop file, try again in a moment")
	ErrMoved         = errors.New("the shop file is not where it was opened, its folder or its disk is gone: nothing was changed")
	ErrDiskFull      = errors.New("there is no room left on the disk, nothing was changed")
	ErrUnreachable   = errors.New("the server does not answer")
	ErrUncertain     = errors.New("the server stopped answering while it was being saved: look whether it is there before you do it again")
	ErrLogin         = errors.New("the server does not take this name and password")
	ErrForbidden     = errors.New("the server does not let this login do that, ask who looks after it")
	ErrNotFound      = errors.New("it is not in the shop file")
	ErrInUse         = errors.New("something else in the shop file needs it")
	ErrConflict      = errors.New("it was changed elsewhere meanwhile")
	ErrNothingToUndo = errors.New("there is nothing to undo")
	ErrNothingToRedo = errors.New("there is nothing to redo")
)

const (
	changedElsewhere = "was changed elsewhere meanwhile: look at it again before changing it"
	removedElsewhere = "was removed elsewhere meanwhile"
	alreadyThere     = "is in the shop file already"
)

// trouble is a failure of the store said in words. The engine's own words stay reachable by unwrapping.
type trouble struct {
	doing string
	kind  error
	cause error
}

func (t *trouble) Error() string   { return t.doing + ": " + t.kind.Error() }
func (t *trouble) Unwrap() []error { return []error{t.kind, t.cause} }

// told marks the errors of this package that are sentences already.
type told struct{ error }

func (t told) Unwrap() error { return t.error }

// explain says what was being done and, where the engine's error is a known one, what that means.
// An error that is a sentence already is left as it is.
func explain(doing string, err error) error {
	if err == nil {
		return nil
	}
	var (
		said     told
		conflict *Conflict
		known    *trouble
		engine   sqlite3.Error
	)
	switch {
	case errors.As(err, &said), errors.As(err, &conflict), errors.As(err, &known),
		errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.As(err, &engine):
		if kind := meaning(engine); kind != nil {
			return &trouble{doing, kind, err}
		}
	default:
		if kind := serverMeaning(err); kind != nil {
			return &trouble{doing, kind, err}
		}
	}
	return fmt.Errorf("%s: %w", doing, err)
}

// meaning of an error code of SQLite, nil for those that only a mistake in this package can cause.
func meaning(e sqlite3.Error) error {
	switch e.Code {
	case sqlite3.ErrBusy, sqlite3.ErrLocked, sqlite3.ErrProtocol:
		return ErrBusy
	case sqlite3.ErrFull:
		return ErrDiskFull
	case sqlite3.ErrReadonly, sqlite3.ErrPerm:
		return ErrReadOnly
	case sqlite3.ErrCorrupt, sqlite3.ErrTooBig:
		return ErrDamaged
	case sqlite3.ErrNotADB:
		return ErrNotShopFile
	case sqlite3.ErrCantOpen:
		return errors.New("the shop file cannot be opened, its folder is gone or may not be written to")
	case sqlite3.ErrIoErr:
		return errors.New("the disk does not answer as it should, nothing was changed")
	case sqlite3.ErrConstraint:
		if e.ExtendedCode == sqlite3.ErrConstraintForeignKey {
			return ErrInUse
		}
	}
	return nil
}

// isBusy tells whether somebody else holds a lock that was needed.
func isBusy(err error) bool {
	var engine sqlite3.Error
	return errors.As(err, &engine) && meaning(engine) == ErrBusy
}
