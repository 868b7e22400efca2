// Package shop has the use-cases of the program: an open shop file together with the market fitted to
// its sales. Screens and terminal words ask it for answers and tell it what happened; neither touches
// the file or the arithmetic in any other way, so both always give the same figures.
//
// A Shop is used from one goroutine.
package shop

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"
	"time"

	"golang.org/x/text/language"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Shop is one open shop file.
type Shop struct {
	file *shopfile.File
	path string
	now  func() time.Time

	currency money.Currency
	contents shopfile.Contents
	index    map[string]int    // record id to its place in contents
	market   *valuation.Market // nil until asked for, and again after a sale may have changed
	habits   *Habits           // nil until asked for, and again after a motor changes
	learned  learned           // the market last read
	worked   worked
	swung    swung

	appraisals map[string]*appraised // by the prospect's id
	askings    askings
	own        ownPast

	listeners []func()

	clashed  func(*Clash)
	settling *settling // nil but while a change is made that was chosen about
	memory   memory    // what fields still show of before
	lastOwn  string    // label of the last change made here
	others   bool      // what is being told of was done by others
	removal  func()    // told before a motor that somebody else removed leaves the screens
}

// ErrUnknown is returned for a motor, line or good that the shop file does not hold.
var ErrUnknown = errors.New("the shop file does not hold that")

// Open opens the shop file at path, which must be there.
func Open(path string) (*Shop, error) {
	s, err := OpenToCheck(path)
	if err != nil {
		return nil, err
	}
	if err := s.contents.Sound(); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

// OpenToCheck opens the shop file at path also when what it holds is not such as the program writes. Nothing
// may be asked of it then but what [Shop.Check] finds.
func OpenToCheck(path string) (*Shop, error) {
	file, err := shopfile.Open(context.Background(), path, shopfile.WithBeforeUpgrade(keepOlder))
	if err != nil {
		return nil, err
	}
	_, _ = file.SweepPictures(context.Background()) // only room is lost when it cannot be done now
	return start(file, path)
}

// Create makes a new, empty shop file at path, which must not be there.
func Create(path string) (*Shop, error) {
	file, err := shopfile.Create(context.Background(), path)
	if err != nil {
		return nil, err
	}
	return start(file, path)
}

// OpenOrCreate opens the shop file at path, making an empty one if nothing is there.
func OpenOrCreate(path string) (*Shop, error) {
	s, err := Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return Create(path)
	}
	return s, err
}

func start(file *shopfile.File, path string) (*Shop, error) {
	if shopfile.IsServer(path) {
		path = file.Path() // without the password
	}
	s := &Shop{file: file, path: path, now: time.Now}
	if err := s.reload(); err != nil {
		file.Close()
		return nil, err
	}
	return s, nil
}

// Close lets go of the file. Everything was saved as it was told.
func (s *Shop) Close() error { return s.file.Close() }

// Path is where the shop file is.
func (s *Shop) Path() string { return s.path }

// Currency writes and reads the shop's amounts.
func (s *Shop) Currency() money.Currency { return s.currency }

// Settings are the shop's own choices; the worth of an own hour in them is today's.
func (s *Shop) Settings() costing.Settings {
	settings := s.contents.Settings
	settings.OwnRate = s.OwnRate(s.Today())
	return settings
}

// Today is the calendar day by this machine's clock.
func (s *Shop) Today() day.Day { return day.FromTime(s.now()) }

// AsOf makes the shop answer as if asked on a day; the zero Day is today again.
func (s *Shop) AsOf(d day.Day) {
	s.now = time.Now
	if d != 0 {
		s.now = func() time.Time { return d.Time().Add(12 * time.Hour) }
	}
	s.market = nil
}

// OnChange asks to be told after every change of the records.
func (s *Shop) OnChange(f func()) { s.listeners = append(s.listeners, f) }

// Record is one motor.
func (s *Shop) Record(id string) (costing.Record, error) {
	i, ok := s.index[id]
	if !ok {
		return costing.Record{}, fmt.Errorf("find the motor %q: %w", id, ErrUnknown)
	}
	return s.contents.Records[i], nil
}

// Records are the motors at any of the stages, in the order they were first written down.
func (s *Shop) Records(stages ...costing.Stage) []costing.Record {
	var out []costing.Record
	for _, r := range s.contents.Records {
		if slices.Contains(stages, r.Stage) {
			out = append(out, r)
		}
	}
	return out
}

// Empty tells whether nothing has been written down yet.
func (s *Shop) Empty() bool { return len(s.contents.Records) == 0 && len(s.contents.Goods) == 0 }

// reload reads the whole file again.
func (s *Shop) reload() error { return s.reread(nil) }

// reread reads the whole file again after a change that gave rows these versions.
func (s *Shop) reread(wrote versions) error {
	contents, err := s.file.Read(context.Background())
	if err != nil {
		return err
	}
	return s.goBy(contents, wrote)
}

// goBy goes by contents that were read anew.
func (s *Shop) goBy(contents shopfile.Contents, wrote versions) error {
	tag, err := language.Parse(contents.Settings.Language)
	if err != nil {
		tag = language.AmericanEnglish
	}
	currency, err := money.New(contents.Settings.Currency, tag)
	if err != nil {
		return err
	}
	s.remember(&s.contents, &contents, wrote)
	s.contents, s.currency, s.market, s.habits = contents, currency, nil, nil
	s.index = make(map[string]int, len(contents.Records))
	for i, r := range contents.Records {
		s.index[r.ID] = i
	}
	return nil
}

// refresh reads one motor again, or everything when it is new or gone.
func (s *Shop) refresh(id string, wrote versions) error {
	i, known := s.index[id]
	if !known {
		return s.reread(wrote)
	}
	r, err := s.file.Record(context.Background(), id)
	if errors.Is(err, shopfile.ErrNotFound) {
		return s.reread(wrote)
	}
	if err != nil {
		return err
	}
	old := s.contents.Records[i]
	s.remember(&shopfile.Contents{Records: []costing.Record{old}}, &shopfile.Contents{Records: []costing.Record{r}}, wrote)
	s.habits = nil
	s.contents.Records[i] = r
	if !sellsAlike(old, r) {
		s.market = nil
	}
	return nil
}

// sellsAlike tells whether the market would learn the same from both.
func sellsAlike(a, b costing.Record) bool {
	_, askedA := askOf(a)
	_, askedB := askOf(b)
	return a.Sale == nil && b.Sale == nil && !askedA && !askedB
}

func (s *Shop) changed() {
	for _, f := range s.listeners {
		f()
	}
}

// Undo takes back the last change and returns its name; ok is false when there is none.
func (s *Shop) Undo() (what say.Sentence, ok bool, err error) { return s.step(s.file.Undo) }

// Redo makes the change again that was last undone.
func (s *Shop) Redo() (what say.Sentence, ok bool, err error) { return s.step(s.file.Redo) }

func (s *Shop) step(f func(context.Context) (string, error)) (say.Sentence, bool, error) {
	label, err := f(context.Background())
	if errors.Is(err, shopfile.ErrNothingToUndo) {
		return say.Sentence{}, false, nil
	}
	if err != nil {
		return say.Sentence{}, false, err
	}
	err = s.reload()
	s.changed()
	return named(label), true, err
}

// named reads back the name of a change.
func named(label string) say.Sentence {
	var what say.Sentence
	if json.Unmarshal([]byte(label), &what) != nil {
		return say.New("undo.other", "{{.What}}", "What", label)
	}
	return what
}

// Check looks the whole file over, also beside its newest good copy, and says what it found.
func (s *Shop) Check() (shopfile.Report, error) {
	report, err := s.file.Check(context.Background())
	if err != nil {
		return report, err
	}
	return s.compared(context.Background(), report)
}

// Preference is a choice of how the window looks, kept in the shop file; "" when never made.
func (s *Shop) Preference(name string) string {
	v, err := s.file.Preference(context.Background(), name)
	if err != nil {
		return ""
	}
	return v
}

// SetPreference keeps a choice of how the window looks. It is not a change that can be undone.
func (s *Shop) SetPreference(name, value string) error {
	return s.file.Write(context.Background(), "how the window looks", "", func(tx *shopfile.Tx) error { return tx.PutPreference(name, value) })
}

// CopyTo makes a whole copy of the shop file, also while it is in use. Nothing there is replaced.
func (s *Shop) CopyTo(path string) error { return s.file.CopyTo(context.Background(), path) }
