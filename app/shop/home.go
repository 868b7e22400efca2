package shop

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/adrg/xdg"
	"golang.org/x/text/language"

	"skegworth/costing"
	"skegworth/data/example"
	"skegworth/data/intake"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// HomePath is where the user's own shop file lives, or the example shop beside it. Its folder is made.
func HomePath(exampleShop bool) (string, error) {
	folder := filepath.Join(xdg.DataHome, "skegworth")
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", fmt.Errorf("make the folder of the shop file: %w", err)
	}
	if exampleShop {
		return filepath.Join(folder, "example.skegworth"), nil
	}
	return filepath.Join(folder, "shop.skegworth"), nil
}

// Example makes the invented example shop at path, where nothing may be yet, with this day as its today.
// Made whole or not at all.
func Example(path string) (*Shop, error) { return ExampleOn(path, 0) }

// ExampleOn is Example with another day as its today; the zero Day is this one.
//
// It is filled under a passing name and copied to its own: a program that is stopped midway would leave half an
// example, and the next would take it for the whole.
func ExampleOn(path string, on day.Day) (*Shop, error) {
	fail := func(err error) (*Shop, error) { return nil, fmt.Errorf("make the example shop: %w", err) }
	beside := filepath.Dir(path)
	if shopfile.IsServer(path) {
		beside = os.TempDir()
	} else if _, err := os.Lstat(path); err == nil {
		return fail(fmt.Errorf("%w: %q", shopfile.ErrExists, path))
	}
	shopfile.SweepDraftFolders(beside, "example")
	folder, err := os.MkdirTemp(beside, ".example-*")
	if errors.Is(err, os.ErrNotExist) {
		return fail(fmt.Errorf("there is no folder %q", beside))
	}
	if err != nil {
		return fail(err)
	}
	defer os.RemoveAll(folder)
	draft, err := Create(filepath.Join(folder, "example.skegworth"))
	if err != nil {
		return fail(err)
	}
	defer draft.Close()
	draft.AsOf(on)
	if err := example.Fill(context.Background(), draft.file, draft.Today()); err != nil {
		return fail(err)
	}
	if _, err := draft.file.MoveTo(context.Background(), path); err != nil {
		return fail(err)
	}
	s, err := Open(path)
	if err != nil {
		return fail(err)
	}
	s.AsOf(on)
	return s, nil
}

// EnsureExample makes the example shop at path unless a file is there already.
func EnsureExample(path string) error {
	if _, err := os.Stat(path); err == nil {
		return nil
	}
	if shopfile.IsServer(path) {
		if s, err := Open(path); !errors.Is(err, os.ErrNotExist) {
			if err == nil {
				err = s.Close()
			}
			return err
		}
	}
	s, err := Example(path)
	if err != nil {
		return err
	}
	return s.Close()
}

func removeShop(path string) {
	for _, end := range []string{"", "-wal", "-shm"} {
		os.Remove(path + end)
	}
}

// IntakeInto takes a file of past sales into the shop file at path, making that if it is not there. A
// file that cannot be read leaves nothing behind, nor does one without a single good row in a new shop.
func IntakeInto(path, file string, dry bool) (Taken, error) {
	s, err := Open(path)
	if err == nil {
		defer s.Close()
		return s.Intake(file, dry)
	} else if !errors.Is(err, os.ErrNotExist) {
		return Taken{}, err
	}
	settings := costing.DefaultSettings()
	currency, err := money.New(settings.Currency, language.AmericanEnglish)
	if err != nil {
		return Taken{}, err
	}
	batch, err := intake.ReadFile(file, intake.Options{Currency: currency, Language: settings.Language, Today: day.FromTime(time.Now())})
	if err != nil {
		return Taken{}, err
	}
	if dry || len(batch.Rows) == 0 {
		return Taken{Added: len(batch.Rows), Refused: batch.Refused, Notes: batch.Notes}, nil
	}
	made := path
	if shopfile.IsServer(path) { // where what is half made cannot be taken away by everybody
		folder, err := os.MkdirTemp("", "skegworth-*")
		if err != nil {
			return Taken{}, err
		}
		defer os.RemoveAll(folder)
		made = filepath.Join(folder, "new")
	}
	if s, err = Create(made); err != nil {
		return Taken{}, err
	}
	defer s.Close()
	taken, err := s.take(batch, false)
	if err == nil && made != path {
		_, err = s.file.MoveTo(context.Background(), path)
	}
	if err != nil {
		s.Close()
		removeShop(made)
	}
	return taken, err
}

// Find is the id of the one motor that a person means: by its id, its tag, or a part of its name that
// no other has. Those sold are meant only where none in hand is. The field is named when nothing or several
// fit.
func (s *Shop) Find(field, words string) (string, error) {
	wanted := strings.ToLower(strings.TrimSpace(words))
	if wanted == "" {
		return "", fmt.Errorf("%s: say which, by its id, tag or name", field)
	}
	var fits, sold []costing.Record
	for _, r := range s.contents.Records {
		if strings.ToLower(r.ID) == wanted || r.Tag != "" && strings.ToLower(r.Tag) == wanted {
			return r.ID, nil
		}
		switch called := strings.Contains(strings.ToLower(r.Name()), wanted); {
		case !called || r.Stage == costing.History:
		case r.Stage == costing.Sold:
			sold = append(sold, r)
		default:
			fits = append(fits, r)
		}
	}
	if len(fits) == 0 && field == "motor" {
		fits = sold
	}
	if len(fits) > 1 && field == "prospect" {
		fits = only(fits, costing.Prospect)
	}
	switch len(fits) {
	case 1:
		return fits[0].ID, nil
	case 0:
		return "", fmt.Errorf("%s: no motor in hand is called %q", field, words)
	}
	var names []string
	for _, r := range fits {
		names = append(names, r.Name()+" ("+r.ID+")")
	}
	return "", fmt.Errorf("%s: %q could be %s", field, words, strings.Join(names, " or "))
}

func only(records []costing.Record, stage costing.Stage) []costing.Record {
	var out []costing.Record
	for _, r := range records {
		if r.Stage == stage {
			out = append(out, r)
		}
	}
	return out
}
