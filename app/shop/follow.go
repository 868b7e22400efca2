package shop

import (
	"context"
	"errors"
	"time"

	"skegworth/app/logbook"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// Follow reads what others changed and shows it. It says in a few words what it was; changed is false where
// nothing was.
func (s *Shop) Follow() (what say.Sentence, changed bool, err error) {
	before := s.contents.Versions()
	clock := s.contents.Clock
	if err := s.catchUp(); err != nil {
		return say.Sentence{}, false, err
	}
	after := s.contents.Versions()
	changed = len(before) != len(after) || clock != s.contents.Clock
	for k, version := range after {
		if changed {
			break
		}
		changed = before[k] != version
	}
	if !changed {
		return say.Sentence{}, false, nil
	}
	label, err := s.file.UndoLabel(context.Background())
	if err != nil || label == "" || label == s.lastOwn {
		return say.New("follow.plain", "Changed on another bench."), true, nil
	}
	return say.New("follow.what", "Changed on another bench: {{.What}}.", "What", named(label)), true, nil
}

// OnRemoval asks to be told before a motor that somebody else removed leaves the screens, so that what is
// being typed about it can be saved first, and be chosen about.
func (s *Shop) OnRemoval(f func()) { s.removal = f }

// catchUp reads the shop anew.
func (s *Shop) catchUp() error {
	contents, err := s.file.Read(context.Background())
	if err != nil {
		return err
	}
	if s.removal != nil && s.settling == nil && s.loses(&contents) {
		tell := s.removal
		s.removal = nil // what is saved now may come by here
		tell()
		s.removal = tell
		if contents, err = s.file.Read(context.Background()); err != nil {
			return err
		}
	}
	if err := s.goBy(contents, nil); err != nil {
		return err
	}
	s.others = true
	defer func() { s.others = false }()
	s.changed()
	return nil
}

// Others tells whoever is told of a change whether it is others' and not made here.
func (s *Shop) Others() bool { return s.others }

// loses tells whether a motor is not in the contents any more.
func (s *Shop) loses(contents *shopfile.Contents) bool {
	there := make(map[string]bool, len(contents.Records))
	for i := range contents.Records {
		there[contents.Records[i].ID] = true
	}
	for id := range s.index {
		if !there[id] {
			return true
		}
	}
	return false
}

// Reach is how the shop file can be reached, as told by [Shop.Watch].
type Reach struct {
	Changed bool  // somebody else changed something: [Shop.Follow] shows it
	Back    bool  // it can be reached again
	Lost    error // it cannot be reached; nil when it can
}

// How often the shop file is asked whether it answers: while it does, and while it does not.
const (
	askEvery = 5 * time.Second
	askAgain = 2 * time.Second
)

// Watch tells, from goroutines of its own, when somebody else changed the shop and when it cannot be reached,
// until ctx ends. A Shop is used from one goroutine: whoever is told goes there first.
func (s *Shop) Watch(ctx context.Context, tell func(Reach)) {
	file := s.file
	go func() {
		defer logbook.Guard()
		for ctx.Err() == nil {
			if err := file.Watch(ctx, func() { tell(Reach{Changed: true}) }); err == nil {
				return
			}
			pause(ctx, askAgain)
		}
	}()
	go func() {
		defer logbook.Guard()
		lost := false
		for wait := askEvery; ctx.Err() == nil; {
			pause(ctx, wait)
			_, err := file.UndoLabel(ctx)
			switch {
			case ctx.Err() != nil:
				return
			case err != nil && !errors.Is(err, shopfile.ErrBusy):
				lost, wait = true, askAgain
				tell(Reach{Lost: err})
			case lost:
				lost, wait = false, askEvery
				tell(Reach{Changed: true, Back: true})
			}
		}
	}()
}

func pause(ctx context.Context, d time.Duration) {
	select {
	case <-time.After(d):
	case <-ctx.Done():
	}
}
