package widgets

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
)

// Confirm asks before something that cannot be taken back lightly. Yes names the deed ("Remove it").
func Confirm(c fyne.Canvas, title, words, yes string, fn func()) *Dialog {
	d := NewDialog(c, title, NewText(words), yes, func() error { fn(); return nil })
	d.Show()
	return d
}

// Tell shows a sentence that has to be seen.
func Tell(c fyne.Canvas, title, words string) *Dialog {
	d := NewDialog(c, title, NewText(words), "", nil)
	d.Show()
	return d
}

// Ask asks for one line of text. Done gets it trimmed; an error keeps the dialog open. A blank answer is
// refused.
func Ask(c fyne.Canvas, title, label, start, yes string, done func(text string) error) *Dialog {
	e := NewEntry()
	e.Set(start)
	f := NewField(label, e)
	d := NewDialog(c, title, f, yes, func() error {
		text := strings.TrimSpace(e.Text)
		if text == "" {
			err := errors.New(lang.X("ask.blank", "Write something here."))
			e.SetProblem(err)
			return err
		}
		return done(text)
	})
	d.SetFirst(e)
	d.Show()
	return d
}
