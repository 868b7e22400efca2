package widgets

import (
	"errors"

	"fyne.io/fyne/v2"
)

// A field may show what somebody else has changed meanwhile: it keeps its text while it is being typed in.
// So each remembers which state of the shop it shows, and saves as of that.
var eyes struct {
	now func() int
	as  func(state int, do func() error) error
}

// SeeWith gives the fields a number for the state of the shop that is on show now, and a way to change
// something as one who has an earlier state before them.
func SeeWith(now func() int, as func(state int, do func() error) error) { eyes.now, eyes.as = now, as }

func seenNow() int {
	if eyes.now == nil {
		return 0
	}
	return eyes.now()
}

func asSeen(state int, do func() error) error {
	if eyes.as == nil || state == 0 {
		return do()
	}
	return eyes.as(state, do)
}

// open are the fields that show what they showed before: those being typed in, and those whose text could
// not be saved.
var open = map[*Entry]bool{}

func (e *Entry) keepOpen() {
	if e.focused || e.unsaved {
		open[e] = true
	} else {
		delete(open, e)
	}
}

// OldestSeen is the oldest state of the shop that still shows somewhere; false when only the present one does.
func OldestSeen() (state int, holding bool) {
	look := func(seen int) {
		if !holding || seen < state {
			state, holding = seen, true
		}
	}
	for e := range open {
		look(e.seen)
	}
	for _, d := range dialogs {
		look(d.seen)
	}
	return state, holding
}

// isUnsaved tells an error that kept a good text from being saved from one about the text itself.
func isUnsaved(err error) bool {
	var u interface{ Unsaved() bool }
	return errors.As(err, &u) && u.Unsaved()
}

// Unsaved is how many fields in windows hold what could not be saved yet.
func Unsaved() int {
	n := 0
	for e := range open {
		if e.unsaved && canvasOf(e.self) != nil {
			n++
		}
	}
	return n
}

// SaveAgain saves what could not be saved before, and tells whether all is saved now.
func SaveAgain() bool {
	for e := range open {
		if e.unsaved {
			e.again()
		}
	}
	return Unsaved() == 0
}

// SaveWaiting saves what the store could not take before, and tells whether there was something and all of it is
// saved now. What waits for a choice is left alone.
func SaveWaiting() bool {
	waited, all := false, true
	for e := range open {
		if !e.unsaved || !waits(e.problem) {
			continue
		}
		waited = true
		e.again()
		all = all && !e.unsaved
	}
	return waited && all
}

// waits tells an error that passes by itself.
func waits(err error) bool {
	var w interface{ Waits() bool }
	return errors.As(err, &w) && w.Waits()
}

func (e *Entry) again() {
	if e.onAgain != nil {
		e.onAgain()
		return
	}
	e.save()
}

// departed counts the things that left the screens while their fields were on show. A text that is being saved
// at that moment belongs to what has left, and must not be saved again to what came in its place.
var departed int

// LetGo lets every field take the value from outside in place of what could not be saved: it was chosen about,
// or what it belonged to is gone.
func LetGo() {
	for e := range open {
		if !e.unsaved {
			continue
		}
		e.unsaved = false
		e.keepOpen()
		e.seen = seenNow()
		if e.onLetGo != nil {
			e.onLetGo()
			continue
		}
		e.SetProblem(nil)
		if e.outside != nil && !e.focused {
			e.Set(*e.outside)
		}
	}
}

// Typing tells whether the keyboard stands in a field of the window.
func Typing(c fyne.Canvas) bool {
	if c == nil {
		return false
	}
	_, typing := c.Focused().(interface{ Flush() })
	return typing
}

// OpenDialog is the topmost dialog of the window, nil when none is open.
func OpenDialog(c fyne.Canvas) *Dialog { return topDialog(c) }
