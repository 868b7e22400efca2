package shop

import (
	"context"
	"errors"
	"sync"
	"time"

	"skegworth/app/logbook"
	"skegworth/data/backup"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// How often copies are made by themselves.
const (
	copyEvery = time.Hour
	copyAgain = 5 * time.Minute // after one that failed
	copyFirst = 5 * time.Second // after opening, when the window is there
)

// Keeper makes copies of an open shop by itself: on opening it, every hour, and on closing it, each time
// only where something was changed since the last copy. It works beside everything else.
type Keeper struct {
	file  *shopfile.File
	tell  func(say.Sentence)
	stop  context.CancelFunc
	ended chan struct{}
	once  sync.Once
}

// KeepCopies starts to make copies. Tell gets a sentence, from another goroutine, when one could not be made
// or the second place could not be reached: each time, until it can.
func (s *Shop) KeepCopies(tell func(say.Sentence)) *Keeper {
	ctx, stop := context.WithCancel(context.Background())
	k := &Keeper{file: s.file, tell: tell, stop: stop, ended: make(chan struct{})}
	go k.run(ctx, time.Now, func(d time.Duration) <-chan time.Time { return time.After(d) })
	return k
}

// run makes a copy whenever it is time. After is looked at every minute, so that an hour in which the
// computer slept counts too.
func (k *Keeper) run(ctx context.Context, now func() time.Time, after func(time.Duration) <-chan time.Time) {
	defer logbook.Guard()
	defer close(k.ended)
	due := now().Add(copyFirst)
	wait := copyFirst
	for {
		select {
		case <-ctx.Done():
			return
		case <-after(wait):
		}
		wait = time.Minute
		at := now()
		if at.Before(due) && due.Sub(at) <= copyEvery { // a clock set back does not put it off
			continue
		}
		due = now().Add(copyEvery)
		if !k.make(ctx) {
			due = now().Add(copyAgain)
		}
	}
}

// make makes a copy where something was changed, and tells what could not be done.
func (k *Keeper) make(ctx context.Context) (done bool) {
	made, err := backup.Make(ctx, k.file, backup.ByItself)
	if ctx.Err() != nil {
		return false
	}
	if said, told := copyNews(made, err); told {
		k.tell(said)
	}
	return err == nil
}

// copyNews is what to say of a copy that was or was not made; false where all is well.
func copyNews(made backup.Made, err error) (say.Sentence, bool) {
	switch {
	case errors.Is(err, backup.ErrNoRoom), errors.Is(err, shopfile.ErrDiskFull):
		return say.New("copy.full", "No copy could be kept: there is too little room on the disk. Make room; it is tried again every few minutes."), true
	case errors.Is(err, shopfile.ErrDamaged):
		return say.New("copy.source-damaged", "No copy could be kept: the shop file is damaged. File > Copies has the last good one."), true
	case err != nil:
		return say.New("copy.failed", "No copy could be kept ({{.Why}}); it is tried again every few minutes.", "Why", err.Error()), true
	case errors.Is(made.Second, backup.ErrAway):
		return say.New("copy.away", "The second place for copies is not there; they go there when it is back."), true
	case errors.Is(made.Second, backup.ErrNoRoom):
		return say.New("copy.second-full", "There is no room for copies in the second place; they are kept beside the shop file."), true
	case made.Second != nil:
		return say.New("copy.second-failed", "The copy could not be kept in the second place: {{.Why}}.", "Why", made.Second.Error()), true
	case made.New && len(made.Faults) > 0:
		return say.New("copy.shop-faults", "A copy was kept, but the shop is not in order: {{.Fault}}", "Fault", made.Faults[0]), true
	}
	return say.Sentence{}, false
}

// Stop ends it. With last, a copy is made first where something was changed; what became of that is said as
// ever, and cannot be waited for longer than a copy takes.
func (k *Keeper) Stop(last bool) {
	k.once.Do(func() {
		k.stop()
		<-k.ended
		if last {
			k.make(context.Background())
		}
	})
}

// KeepCopyNow makes a copy because somebody asked for it. New is false where nothing was changed since the
// last one.
func (s *Shop) KeepCopyNow(ctx context.Context) (c ShopCopy, isNew bool, news say.Sentence, err error) {
	made, err := backup.Make(ctx, s.file, backup.Asked)
	if err != nil {
		return ShopCopy{}, false, say.Sentence{}, err
	}
	news, _ = copyNews(made, nil)
	return shopCopy(made.Copy), made.New, news, nil
}
