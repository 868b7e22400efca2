package widgets

import (
	"errors"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"skegworth/app/look"
	"skegworth/valuation/money"
)

var (
	usd       = money.Must("USD")
	errNotNow = errors.New("not now")
)

func TestMain(m *testing.M) {
	SaveDelay = 0
	if err := look.Speak("en"); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}

// show puts an object in a window of the test driver, under our theme.
func show(t *testing.T, o fyne.CanvasObject, width, height float32) fyne.Window {
	t.Helper()
	test.NewTempApp(t)
	test.ApplyTheme(t, look.Theme{Mode: look.Light})
	w := test.NewWindow(o)
	t.Cleanup(w.Close)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(width, height))
	return w
}

// press sends keys to whatever has the keyboard, as the window would.
func press(w fyne.Window, keys ...fyne.KeyName) {
	for _, k := range keys {
		e := &fyne.KeyEvent{Name: k}
		if f := w.Canvas().Focused(); f != nil {
			f.TypedKey(e)
		} else if typed := w.Canvas().OnTypedKey(); typed != nil {
			typed(e)
		}
	}
}

// typeIn sends characters to whatever has the keyboard.
func typeIn(w fyne.Window, text string) {
	for _, r := range text {
		w.Canvas().Focused().TypedRune(r)
	}
}

// shortcut sends a shortcut to whatever has the keyboard, or to the window.
func shortcut(w fyne.Window, s fyne.Shortcut) {
	if f, ok := w.Canvas().Focused().(fyne.Shortcutable); ok {
		f.TypedShortcut(s)
		return
	}
	w.Canvas().(fyne.Shortcutable).TypedShortcut(s)
}

func ctrl(key fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault}
}

func alt(key fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierAlt}
}

func rectOf(o fyne.CanvasObject) (left, top, right, bottom float32) {
	p := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	return p.X, p.Y, p.X + o.Size().Width, p.Y + o.Size().Height
}

// queued collects what is to run on the window's thread, so that the test runs it on its own.
func queued(t *testing.T) (jobs chan func()) {
	jobs = make(chan func(), 100)
	before := onWindow
	onWindow = func(fn func()) { jobs <- fn }
	t.Cleanup(func() { onWindow = before })
	return jobs
}

// settle waits until a table shows what was last wished for.
func settle[T any](tab *Table[T], jobs chan func()) {
	for tab.sorting {
		(<-jobs)()
	}
	tab.work.Wait()
}
