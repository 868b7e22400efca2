package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
)

// later is an error that kept a good text from being saved.
type later struct{ by bool }

func (later) Error() string { return "not now" }
func (later) Unsaved() bool { return true }
func (l later) Waits() bool { return l.by }

func TestWhatCouldNotBeSavedStays(t *testing.T) {
	var err error = later{true}
	saved := ""
	e := NewEntry()
	e.OnSave = func(text string) error {
		e.Set("from outside") // the screen is refreshed meanwhile
		if err == nil {
			saved = text
		}
		return err
	}
	w := show(t, e, 200, 60)
	w.Canvas().Focus(e)
	typeIn(w, "ninety")
	w.Canvas().Unfocus()
	e.Set("from outside")
	if e.Text != "ninety" || Unsaved() != 1 || e.Problem() == nil {
		t.Fatalf("it says %q, %d unsaved, problem %v", e.Text, Unsaved(), e.Problem())
	}
	if _, holding := OldestSeen(); !holding {
		t.Error("what it shows is not held")
	}
	if SaveAgain() || SaveWaiting() {
		t.Error("it is said to be saved")
	}
	err = nil
	if !SaveWaiting() || saved != "ninety" || Unsaved() != 0 {
		t.Errorf("saved %q, %d unsaved", saved, Unsaved())
	}

	// What waits for a choice is not tried by itself, and let go it shows what is outside.
	err = later{false}
	w.Canvas().Focus(e)
	typeIn(w, "!")
	w.Canvas().Unfocus()
	if text := e.Text; SaveWaiting() || Unsaved() != 1 || text == "from outside" {
		t.Errorf("it says %q, %d unsaved", text, Unsaved())
	}
	LetGo()
	if e.Text != "from outside" || Unsaved() != 0 || e.Problem() != nil {
		t.Errorf("let go it says %q, problem %v", e.Text, e.Problem())
	}
}

// A field saves as of the state it shows: the one when the keyboard came, until it was saved.
func TestAFieldSavesAsOfWhatItShows(t *testing.T) {
	state, as := 5, 0
	SeeWith(func() int { return state }, func(seen int, do func() error) error { as = seen; return do() })
	t.Cleanup(func() { SeeWith(nil, nil); eyes.now, eyes.as = nil, nil })
	e := NewEntry()
	e.OnSave = func(string) error { return nil }
	w := show(t, e, 200, 60)
	w.Canvas().Focus(e)
	state = 6
	typeIn(w, "a")
	if as != 5 {
		t.Errorf("saved as of %d, want 5", as)
	}
	if typeIn(w, "b"); as != 6 {
		t.Errorf("then saved as of %d, want 6", as)
	}
}

// A cell goes on being edited when the rows come anew in another order.
func TestACellIsEditedOn(t *testing.T) {
	rows := boats()
	tab := boatTable(&rows)
	w := show(t, tab, 500, 400)
	w.Canvas().Focus(tab.grid)
	press(w, fyne.KeyDown, fyne.KeyRight, fyne.KeyReturn)
	typeIn(w, "700")
	id := tab.grid.edit.id
	rows = append(rows[1:2:2], rows[0], rows[2])
	tab.SetRows(rows)
	if tab.grid.edit == nil || tab.grid.edit.entry.Text != "700" || w.Canvas().Focused() != fyne.Focusable(tab.grid.edit.entry) {
		t.Fatal("what is being typed into a cell is lost")
	}
	press(w, fyne.KeyReturn)
	for _, r := range rows {
		if (tab.id(r) == id) != (r.price == 700) {
			t.Errorf("%q costs %d", tab.id(r), r.price)
		}
	}
}

// A dialog that opens by itself is not answered by what was being typed.
func TestACalmDialogIsNotAnsweredByTyping(t *testing.T) {
	w := show(t, NewEntry(), 500, 400)
	done, other := 0, 0
	d := NewDialog(w.Canvas(), "Two", NewText("Choose."), "Mine", func() error { done++; return nil }).
		Instead("Theirs", func() error { other++; return nil }).Calm()
	d.Show()
	if w.Canvas().Focused() != nil {
		t.Fatalf("the keyboard is at %T", w.Canvas().Focused())
	}
	press(w, fyne.KeyReturn, fyne.KeySpace)
	if done+other != 0 {
		t.Fatal("Return answered it")
	}
	d.cancel.OnTapped()
	if other != 1 || OpenDialog(w.Canvas()) != nil {
		t.Errorf("theirs %d, still open %v", other, OpenDialog(w.Canvas()) != nil)
	}
}
