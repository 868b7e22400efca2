package widgets

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// filesToAskFor is a folder with two lists of sales in it, one of them in a folder within.
func filesToAskFor(t *testing.T) (folder string) {
	t.Helper()
	lastFolder = ""
	folder = t.TempDir()
	for _, name := range []string{"old/2019.CSV", "sales.csv", "note.doc", ".hidden.csv"} {
		path := filepath.Join(folder, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("sold,price"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// A file is found by keyboard alone: typed, or by the arrows through folders; Esc answers nothing.
func TestFileIsAskedForByKeyboard(t *testing.T) {
	for _, c := range []struct {
		name string
		do   func(w fyne.Window)
		want string
	}{
		{"typed on to the folder", func(w fyne.Window) { typeIn(w, "sales.csv"); press(w, fyne.KeyReturn) }, "sales.csv"},
		{"typed folder, then file", func(w fyne.Window) {
			typeIn(w, "old")
			press(w, fyne.KeyReturn)
			typeIn(w, "2019.CSV")
			press(w, fyne.KeyReturn)
		}, "old/2019.CSV"},
		{"by arrows", func(w fyne.Window) {
			test.FocusNext(w.Canvas())
			press(w, fyne.KeyEnd, fyne.KeyReturn)
		}, "sales.csv"},
		{"by arrows, through a folder", func(w fyne.Window) {
			test.FocusNext(w.Canvas())
			press(w, fyne.KeyHome, fyne.KeyDown, fyne.KeyReturn) // past the folder above, into old
			press(w, fyne.KeyEnd, fyne.KeyReturn)
		}, "old/2019.CSV"},
		{"escape", func(w fyne.Window) { press(w, fyne.KeyEscape) }, ""},
	} {
		folder := filesToAskFor(t)
		w := show(t, NewText("behind"), 900, 700)
		got := ""
		FileQuestion{Title: "Which file?", Do: "Open", Folder: folder, Ends: []string{".csv"}}.Ask(w.Canvas(), func(path string) { got = path })
		c.do(w)
		want := c.want
		if want != "" {
			want = filepath.Join(folder, want)
		}
		if got != want || w.Canvas().Overlays().Top() != nil {
			t.Errorf("%s: chose %q, want %q; still open %v", c.name, got, want, w.Canvas().Overlays().Top() != nil)
		}
	}
}

func TestFileAskedForMustBeThere(t *testing.T) {
	folder := filesToAskFor(t)
	w := show(t, NewText("behind"), 900, 700)
	chosen := 0
	FileQuestion{Title: "Which folder?", Do: "Take it", Folder: folder, Folders: true}.Ask(w.Canvas(), func(string) { chosen++ })
	d := topDialog(w.Canvas())
	for _, c := range []struct{ typed, why string }{
		{"nowhere", `Path: there is no "` + folder + `/nowhere"`},
		{"sales.csv", `Path: "` + folder + `/sales.csv" is not a folder`},
	} {
		shortcut(w, &fyne.ShortcutSelectAll{})
		typeIn(w, c.typed)
		press(w, fyne.KeyReturn)
		if d.problem.Text() != c.why || chosen != 0 {
			t.Errorf("%s: %q, want %q; chosen %d times", c.typed, d.problem.Text(), c.why, chosen)
		}
	}
	shortcut(w, &fyne.ShortcutSelectAll{})
	typeIn(w, "old")
	press(w, fyne.KeyReturn)
	if chosen != 1 || lastFolder != filepath.Join(folder, "old") {
		t.Errorf("chosen %d times, the next question begins in %q", chosen, lastFolder)
	}
}
