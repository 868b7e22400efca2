package shopfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"skegworth/valuation/say"
)

// A program that was killed leaves its journal beside the file, and SQLite takes what is in it into the
// file at the next opening: nothing that was saved is lost. But SQLite cannot tell a journal of another
// shop, or of an older state of this one, which somebody's copying put there, and would ruin the file with
// it. So a journal that was left is first tried on a copy.

// journals are the ends of the names under which SQLite looks for journals.
var journals = []string{"-wal", "-journal"}

// leftover are the journals that lie beside a file with something in them.
func leftover(path string) []string {
	var out []string
	for _, end := range journals {
		if about, err := os.Stat(path + end); err == nil && about.Mode().IsRegular() && about.Size() > 0 {
			out = append(out, end)
		}
	}
	return out
}

// withoutStrays sets journals aside with which the file would be damaged, or would be another shop or an older
// one, and without which it is sound. They are never deleted. What was done comes back in words. A file that
// is damaged either way is left as it is: the error says so. The caller holds the lock of held, and nobody in
// this process has the file open.
func withoutStrays(ctx context.Context, path string) ([]say.Sentence, error) {
	found := leftover(path)
	if len(found) == 0 {
		return nil, nil
	}
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return nil, nil // SQLite will find the same, and has the words for it
	}
	defer file.Close()
	if !alone(file) {
		return nil, nil // whoever has it open is working with that journal
	}
	stray, err := strays(ctx, file, path, found)
	if err != nil || len(stray) == 0 {
		return nil, err
	}
	var notes []say.Sentence
	for _, end := range stray {
		name, err := setAside(path + end)
		if err != nil {
			return nil, &trouble{fmt.Sprintf("open %q", path),
				fmt.Errorf("beside it lies a journal that does not belong to it, %q, which could not be set aside", filepath.Base(path+end)), err}
		}
		notes = append(notes, say.New("open.stray",
			"Beside the shop file lay a journal that does not belong to it. It was set aside as {{.Name}}, and nothing in the file was changed.",
			"Name", filepath.Base(name)))
	}
	_ = flush(filepath.Dir(path), os.O_RDONLY) // not every system can flush a folder
	return notes, nil
}

// strays are those of the journals that must be set aside. Where no copy can be made to try them on, or the
// copy cannot be judged for another reason than damage, there are none, as ever.
func strays(ctx context.Context, file *os.File, path string, found []string) ([]string, error) {
	with, err := tried(ctx, file, path, found)
	if err != nil {
		return nil, ctx.Err()
	}
	if with.fault == nil {
		without, err := tried(ctx, file, path, nil)
		if err != nil || without.fault != nil { // mostly the journal is half of the way into a file that needs it
			return nil, ctx.Err()
		}
		// A log leads on to a later state. A rollback journal leads back from one that was never reached.
		if with.follows(without) || slices.Contains(found, "-journal") && with.akin(without) {
			return nil, ctx.Err()
		}
		return found, nil
	}
	kept := [][]string{nil}
	if len(found) == 2 {
		kept = [][]string{found[:1], found[1:], nil}
	}
	for _, some := range kept {
		without, err := tried(ctx, file, path, some)
		if err != nil {
			return nil, ctx.Err()
		}
		if without.fault == nil {
			return slices.DeleteFunc(slices.Clone(found), func(end string) bool { return slices.Contains(some, end) }), nil
		}
	}
	return nil, explain(fmt.Sprintf("open %q", path), with.fault)
}

// setAside gives a journal another name that nothing has yet.
func setAside(path string) (string, error) {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s.set-aside-%d", path, n)
		if _, err := os.Lstat(name); !errors.Is(err, fs.ErrNotExist) {
			if err != nil {
				return "", err
			}
			continue
		}
		return name, os.Rename(path, name)
	}
}

// tried is what a copy of the file comes to with some of its journals.
func tried(ctx context.Context, file *os.File, path string, with []string) (state, error) {
	var out state
	copied, remove, err := private(file, path, with)
	if err != nil {
		return out, err
	}
	defer remove()
	db := sql.OpenDB(engine{copied})
	defer db.Close()
	db.SetMaxOpenConns(1)
	switch err := out.learn(ctx, db); {
	case ctx.Err() != nil:
		return out, ctx.Err()
	case errors.Is(explain("", err), ErrDamaged), errors.Is(explain("", err), ErrNotShopFile):
		out.fault = err
	case err != nil:
		return out, err
	}
	return out, nil
}

// private copies the file and some of its journals into a folder that nobody else may look into, which
// remove takes away.
func private(file *os.File, path string, with []string) (copied string, remove func(), err error) {
	folder, err := os.MkdirTemp("", "skegworth-*")
	if err != nil {
		return "", nil, err
	}
	remove = func() { os.RemoveAll(folder) }
	defer func() {
		if err != nil {
			remove()
		}
	}()
	copied = filepath.Join(folder, "shop")
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return "", nil, err
	}
	if err := pour(copied, file); err != nil {
		return "", nil, err
	}
	for _, end := range with {
		from, err := os.Open(path + end)
		if err != nil {
			return "", nil, err
		}
		err = pour(copied+end, from)
		from.Close()
		if err != nil {
			return "", nil, err
		}
	}
	return copied, remove, nil
}

func pour(path string, from io.Reader) error {
	to, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(to, from)
	return errors.Join(err, to.Close())
}
