package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
)

// What is chosen stays as long as it is listed; the first thing is chosen where nothing is, and what has
// left the list leaves the screen.
func TestListing(t *testing.T) {
	rows := boats()
	l := NewListing(boatTable(&rows))
	var drawn, told []string
	gone := ""
	l.Rows = func() []boat { return rows }
	l.Draw = func(id string) bool { drawn = append(drawn, id); return id != gone }
	l.OnChosen = func() { told = append(told, l.Chosen()) }
	l.Empty, l.Blank = NewEmpty(nil, "nothing to list", ""), NewEmpty(nil, "nothing chosen", "")
	w := show(t, l.Content(), 900, 600)
	field := NewEntry()
	var saved []string
	field.OnSave = func(text string) error { saved = append(saved, l.Chosen()+":"+text); return nil }
	l.Frame.SetWorking(field)
	last := func(all []string) string { return all[len(all)-1] }

	l.Refresh()
	if l.Chosen() != "a" || last(drawn) != "a" || last(told) != "a" || len(told) != 1 {
		t.Fatalf("at first %q is chosen, drawn %v, told %v", l.Chosen(), drawn, told)
	}
	l.Refresh()
	if len(told) != 1 {
		t.Errorf("shown anew, another is said to be chosen: %v", told)
	}
	SaveDelay = 1 << 40
	t.Cleanup(func() { SaveDelay = 0 })
	w.Canvas().Focus(field)
	typeIn(w, "90")
	l.Show("c")
	if l.Chosen() != "c" || l.Table.SelectedID() != "c" || len(saved) != 1 || saved[0] != "a:90" {
		t.Errorf("chosen %q, in the list %q, saved %v", l.Chosen(), l.Table.SelectedID(), saved)
	}
	l.Show("nobody")
	if l.Chosen() != "c" {
		t.Errorf("a stranger is chosen: %q", l.Chosen())
	}
	l.Table.FocusRows()
	press(w, fyne.KeyDown)
	if l.Chosen() != "d" || last(drawn) != "d" {
		t.Errorf("an arrow down chose %q, drawn %q", l.Chosen(), last(drawn))
	}
	gone = "d"
	l.Refresh()
	if l.Frame.right.Objects[0] != fyne.CanvasObject(l.Blank) {
		t.Error("what has left the list is on show")
	}
	gone, rows = "", rows[:2]
	l.Refresh()
	if l.Chosen() != "b" {
		t.Errorf("with the last one gone %q is chosen", l.Chosen())
	}
	rows = nil
	l.Refresh()
	if l.Chosen() != "" || l.Frame.all.Objects[0] != fyne.CanvasObject(l.Empty) {
		t.Errorf("with nothing to list %q is chosen", l.Chosen())
	}
}
