package desk

import (
	"fmt"
	"io"
	"log"
	"os"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/logbook"
	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// ID and Version of the program; a test compares them with FyneApp.toml.
const (
	ID      = "org.skegworth.Skegworth"
	Name    = "Skegworth"
	Version = "0.1.0"
	Build   = 1
)

func newApp() fyne.App {
	app.SetMetadata(fyne.AppMetadata{ID: ID, Name: Name, Version: Version, Build: Build, Icon: iconProgram})
	a := app.NewWithID(ID)
	a.SetIcon(iconProgram)
	return a
}

// Open opens the window on the shop file at path, making that if it is not there, and returns when the
// window is closed. A file that cannot be opened is told of in the window. An error means that no window can
// be made here; nothing was changed then.
func Open(path string) error {
	s, failed := shop.OpenOrCreate(path)
	a := newApp()
	language := ""
	if failed == nil {
		language = s.Settings().Language
	}
	err := look.Speak(language)
	var w fyne.Window
	if err == nil {
		w, err = tryWindow(a)
	}
	switch {
	case err != nil && failed != nil:
		return failed
	case err != nil:
		s.Close()
		return err
	}
	seat := &seat{app: a, window: w}
	if failed == nil {
		seat.take(s)
	} else {
		seat.cannot(path, failed)
	}
	if path, stopped := logbook.StoppedBefore(); stopped && seat.desk != nil {
		seat.desk.Status(lang.X("desk.stopped", "Last time the program stopped by a mistake of its own. What was saved is here; {{.Path}} says where it happened.",
			map[string]any{"Path": path}))
	}
	log.SetOutput(logbook.Complaints()) // what the window library has to say can name files
	defer log.SetOutput(os.Stderr)
	w.SetMaster()
	w.SetOnDropped(func(_ fyne.Position, files []fyne.URI) {
		var paths []string
		for _, f := range files {
			paths = append(paths, f.Path())
		}
		if seat.desk != nil {
			seat.desk.Dropped(paths)
		}
	})
	w.SetCloseIntercept(func() {
		if seat.desk == nil {
			w.Close()
			return
		}
		seat.unlessUnsaved(seat.quit)
	})
	w.ShowAndRun()
	return nil
}

// tryWindow makes a window, or says why none can be made. Without a display, or with one that does not
// answer, the window library panics; it also logs, which would drown our one sentence.
func tryWindow(a fyne.App) (w fyne.Window, err error) {
	before := log.Writer()
	log.SetOutput(io.Discard)
	defer log.SetOutput(before)
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("there is no display to open a window on: %v", r)
		}
	}()
	return a.NewWindow(Name), nil
}

// seat is the window with the desk of whichever shop file is open in it.
type seat struct {
	app    fyne.App
	window fyne.Window
	shop   *shop.Shop
	desk   *Desk
	copies *shop.Keeper
	sized  bool // the window has its size; another shop file does not change it
}

// take puts the desk of a shop into the window.
func (t *seat) take(s *shop.Shop) {
	t.shop = s
	t.app.Settings().SetTheme(look.Theme{Mode: look.Mode(s.Preference("mode")), Scale: scaleOf(s.Preference("scale"))})
	t.desk = New(s, t.window)
	t.desk.open = t.change
	t.window.SetTitle(s.Title() + " · " + Name)
	t.window.SetContent(t.desk.Content())
	t.desk.menus(t)
	t.copies = t.desk.keepCopies()
	t.desk.follow()
	if notes := s.Notes(); len(notes) > 0 {
		var all []string
		for _, n := range notes {
			all = append(all, look.Say(n))
		}
		t.desk.Status(strings.Join(all, " "))
	}
	if !t.sized {
		t.sized = true
		t.window.Resize(savedSize(s))
		t.window.CenterOnScreen()
	}
}

// change opens another shop file in this window. The old one stays open behind a page that says why, if the
// new one cannot be opened.
func (t *seat) change(path string) {
	s, err := shop.OpenOrCreate(path)
	if err != nil {
		t.cannot(path, err)
		return
	}
	if t.desk != nil {
		t.leave(true)
	}
	t.take(s)
}

// unlessUnsaved goes on at once, or asks first when something typed cannot be saved.
func (t *seat) unlessUnsaved(goOn func()) {
	widgets.FlushAll()
	if widgets.SaveAgain() || t.desk.asking() {
		goOn()
		return
	}
	widgets.Confirm(t.window.Canvas(), lang.X("leave.title", "Something typed is not saved"),
		lang.X("leave.words", "The shop file could not take it, or somebody else changed the same thing. The reason stands under its field. If you close now, it is lost."),
		lang.X("leave.close", "Close without it"), goOn).Dangerous()
}

// quit ends the program. The window goes at once: the last copy may take a moment.
func (t *seat) quit() {
	widgets.FlushAll()
	t.desk.close()
	t.keepSize()
	t.window.Hide()
	t.letGo(true)
	t.app.Quit()
}

// leave saves what is being typed and how large the window is, and closes the file, after a copy of it was
// kept if one is wanted.
func (t *seat) leave(copied bool) {
	widgets.FlushAll()
	t.desk.close()
	t.keepSize()
	t.letGo(copied)
}

func (t *seat) keepSize() {
	size := t.window.Canvas().Size()
	if err := t.shop.SetPreference("window", fmt.Sprintf("%.0fx%.0f", size.Width, size.Height)); err != nil {
		logbook.Failed(err)
	}
}

func (t *seat) letGo(copied bool) {
	t.copies.Stop(copied)
	if err := t.shop.Close(); err != nil {
		logbook.Failed(err)
	}
}

func savedSize(s *shop.Shop) fyne.Size {
	size := fyne.NewSize(1280, 800)
	if w, h, ok := strings.Cut(s.Preference("window"), "x"); ok {
		width, errW := strconv.ParseFloat(w, 32)
		height, errH := strconv.ParseFloat(h, 32)
		if errW == nil && errH == nil && width >= 360 && height >= 400 && width < 10000 && height < 10000 {
			size = fyne.NewSize(float32(width), float32(height))
		}
	}
	return size
}

func scaleOf(text string) float32 {
	v, err := strconv.ParseFloat(text, 32)
	if err != nil || v < 0.5 || v > 3 {
		return 1
	}
	return float32(v)
}
