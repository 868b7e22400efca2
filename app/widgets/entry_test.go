package widgets

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

// slowly makes fields wait longer than any test runs, so that only flushing saves.
func slowly(t *testing.T) {
	SaveDelay = time.Hour
	t.Cleanup(func() { SaveDelay = 0 })
}

func saving(saved *[]string) *Entry {
	e := NewEntry()
	e.OnSave = func(text string) error { *saved = append(*saved, text); return nil }
	return e
}

func TestEntrySavesAsTyped(t *testing.T) {
	var saved []string
	e := saving(&saved)
	w := show(t, e, 200, 60)
	w.Canvas().Focus(e)
	typeIn(w, "abc")
	press(w, fyne.KeyBackspace)
	if got := saved; len(got) != 4 || got[3] != "ab" {
		t.Errorf("saved %q", got)
	}
}

func TestEntryWaitsForAPauseAndLosesNothing(t *testing.T) {
	jobs := queued(t)
	for _, c := range []struct {
		name string
		end  func(w fyne.Window, other *Entry)
	}{
		{"flush all", func(fyne.Window, *Entry) { FlushAll() }},
		{"leaving the field", func(w fyne.Window, other *Entry) { w.Canvas().Focus(other) }},
		{"return", func(w fyne.Window, _ *Entry) { press(w, fyne.KeyReturn) }},
		{"a shortcut of the window's", func(w fyne.Window, _ *Entry) { shortcut(w, &fyne.ShortcutUndo{}) }},
		{"the pause", func(fyne.Window, *Entry) { (<-jobs)() }},
	} {
		slowly(t)
		if c.name == "the pause" {
			SaveDelay = time.Millisecond
		}
		var saved []string
		done := make(chan string, 10)
		e, other := saving(&saved), NewEntry()
		e.OnSave = func(text string) error { saved = append(saved, text); done <- text; return nil }
		w := show(t, Column(4, e, other), 200, 120)
		w.Canvas().Focus(e)
		if c.name != "the pause" {
			typeIn(w, "ninety")
			if len(saved) != 0 {
				t.Errorf("%s: saved %q before the end", c.name, saved)
			}
		} else {
			typeIn(w, "9")
		}
		c.end(w, other)
		last := <-done
		if want := map[bool]string{true: "9", false: "ninety"}[c.name == "the pause"]; last != want {
			t.Errorf("%s: saved %q, want %q", c.name, last, want)
		}
		FlushAll()
		if len(done) != 0 {
			t.Errorf("%s: saved again", c.name)
		}
	}
}

func TestOutsideNeverDisturbsTyping(t *testing.T) {
	var saved []string
	e, other := saving(&saved), NewEntry()
	w := show(t, Column(4, e, other), 200, 120)
	e.Set("90")
	if e.Text != "90" || len(saved) != 0 {
		t.Fatalf("shows %q, saved %q", e.Text, saved)
	}

	w.Canvas().Focus(e)
	press(w, fyne.KeyEnd)
	e.Set("75")
	if e.Text != "90" {
		t.Errorf("while it has the keyboard the field became %q", e.Text)
	}
	w.Canvas().Focus(other)
	if e.Text != "75" {
		t.Errorf("after leaving it shows %q, not the value from outside", e.Text)
	}

	w.Canvas().Focus(e)
	press(w, fyne.KeyEnd)
	e.Set("60")
	typeIn(w, "1")
	w.Canvas().Focus(other)
	if e.Text != "751" || saved[len(saved)-1] != "751" {
		t.Errorf("typing on was lost: shows %q, saved %q", e.Text, saved)
	}
}

func TestEntryHandsShortcutsOn(t *testing.T) {
	var saved, got []string
	e := saving(&saved)
	w := show(t, e, 200, 60)
	for _, s := range []fyne.Shortcut{&fyne.ShortcutUndo{}, &fyne.ShortcutRedo{}, ctrl(fyne.KeyK), ctrl(fyne.KeyF),
		ctrl(fyne.KeySlash), &desktop.CustomShortcut{KeyName: fyne.KeyDown, Modifier: fyne.KeyModifierAlt}} {
		w.Canvas().AddShortcut(s, func(s fyne.Shortcut) { got = append(got, s.ShortcutName()) })
		w.Canvas().Focus(e)
		shortcut(w, s)
		if len(got) == 0 || got[len(got)-1] != s.ShortcutName() {
			t.Errorf("%s did not reach the window", s.ShortcutName())
		}
	}
	n := len(got)
	w.Canvas().Focus(e)
	typeIn(w, "copy me")
	shortcut(w, &fyne.ShortcutSelectAll{})
	clipboard := test.NewClipboard()
	shortcut(w, &fyne.ShortcutCopy{Clipboard: clipboard})
	shortcut(w, ctrl(fyne.KeyLeft))
	if len(got) != n || clipboard.Content() != "copy me" {
		t.Errorf("the field did not keep copying to itself: window got %v, clipboard %q", got[n:], clipboard.Content())
	}
}

func TestEntryShowsWhyItCouldNotSave(t *testing.T) {
	e := NewEntry()
	e.OnSave = func(text string) error {
		if text == "no" {
			return errNotNow
		}
		return nil
	}
	f := NewField("Field", e).WithHint("a hint")
	w := show(t, f, 200, 100)
	w.Canvas().Focus(e)
	typeIn(w, "no")
	if f.Problem() != "Not now" || !f.problem.Visible() || f.hint.Visible() {
		t.Errorf("problem %q, shown %v, hint shown %v", f.Problem(), f.problem.Visible(), f.hint.Visible())
	}
	typeIn(w, "w")
	if f.Problem() != "" || f.problem.Visible() || !f.hint.Visible() {
		t.Errorf("the problem stays: %q, hint shown %v", f.Problem(), f.hint.Visible())
	}
}

func TestTabLeavesATextArea(t *testing.T) {
	a := NewTextArea(3)
	if a.AcceptsTab() {
		t.Error("Tab would stay in the field")
	}
	w := show(t, a, 300, 200)
	w.Canvas().Focus(a)
	typeIn(w, "a")
	press(w, fyne.KeyReturn, fyne.KeyTab)
	typeIn(w, "b")
	if a.Text != "a\nb" {
		t.Errorf("holds %q", a.Text)
	}
}

func TestWithoutFocusLetsValuesInAndGivesTheKeyboardBack(t *testing.T) {
	slowly(t)
	var saved []string
	e := saving(&saved)
	w := show(t, e, 200, 60)
	w.Canvas().Focus(e)
	typeIn(w, "90")
	WithoutFocus(w.Canvas(), func() {
		if len(saved) != 1 || saved[0] != "90" {
			t.Errorf("saved %q before undoing", saved)
		}
		e.Set("75") // as a screen refreshed after undoing does
	})
	if e.Text != "75" || w.Canvas().Focused() != fyne.Focusable(e) {
		t.Errorf("shows %q, keyboard at %v", e.Text, w.Canvas().Focused())
	}
}
