package shop

import (
	"context"

	"skegworth/data/backup"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// keepOlder keeps a copy of a shop of an older program before it is brought up to date, for that program
// cannot open it afterwards. Without the copy it stays as it is.
func keepOlder(ctx context.Context, f *shopfile.File, _ int) error {
	if _, err := backup.Make(ctx, f, backup.BeforeUpgrade); err != nil {
		return err
	}
	f.Note(say.New("open.renewed", "The shop file was brought up to date for this version of the program. File > Copies has it as it was."))
	return nil
}

// Notes are what should be said once a shop was opened, although it works: a journal that was set aside, a
// clock that stands wrong, a folder on a network, an upgrade.
func (s *Shop) Notes() []say.Sentence { return s.file.Notes() }
