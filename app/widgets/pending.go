package widgets

import (
	"sync"
	"time"

	"fyne.io/fyne/v2"
)

// SaveDelay is how long a field waits after the last key before it saves. Leaving the field, Return and
// [FlushAll] save at once. Zero saves with every key, which is what most tests want.
var SaveDelay = 300 * time.Millisecond

// onWindow runs fn on the window's own thread. Tests replace it: their driver has no such thread.
var onWindow = fyne.Do

// saver puts off one saving until typing pauses.
type saver struct {
	save  func()
	timer *time.Timer
}

var pending = struct {
	sync.Mutex
	all map[*saver]bool
}{all: map[*saver]bool{}}

// touch asks for saving soon.
func (s *saver) touch() {
	if SaveDelay <= 0 {
		s.save()
		return
	}
	pending.Lock()
	defer pending.Unlock()
	pending.all[s] = true
	if s.timer != nil {
		s.timer.Stop()
	}
	s.timer = time.AfterFunc(SaveDelay, func() { onWindow(s.flush) })
}

// flush saves now if something waits.
func (s *saver) flush() {
	if s.forget() {
		s.save()
	}
}

// forget drops what waits and tells whether something did.
func (s *saver) forget() bool {
	pending.Lock()
	defer pending.Unlock()
	waits := pending.all[s]
	delete(pending.all, s)
	if s.timer != nil {
		s.timer.Stop()
	}
	return waits
}

func (s *saver) waiting() bool {
	pending.Lock()
	defer pending.Unlock()
	return pending.all[s]
}

// FlushAll saves everything typed and not saved yet. Call it before undoing, before closing, and before
// reading what a screen shows.
func FlushAll() {
	pending.Lock()
	var all []*saver
	for s := range pending.all {
		all = append(all, s)
	}
	pending.Unlock()
	for _, s := range all {
		s.flush()
	}
}
