package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Entry is a field for text that saves as it is typed in.
//
// It keeps copying, pasting, selecting and moving by words to itself and hands every other shortcut on
// to the window, so that Ctrl+Z undoes in the program, not in the field; what was typed and not saved yet
// is saved first. A value from outside never replaces what is being typed: it waits until the keyboard
// has left. A text that could not be saved, because the store did not take it or somebody else changed the
// same thing, stays too, until it is saved or let go.
//
// OnChanged and OnSubmitted of the embedded field are taken; use the functions here.
type Entry struct {
	widget.Entry

	OnTyped  func(text string)       // with every key, before saving
	OnSave   func(text string) error // when typing pauses; an error stands under the field
	OnSubmit func(text string)       // Return, after saving

	self      entryWidget
	saver     saver
	problem   error
	in        *Dialog // that the problem was told to
	onProblem func(error)
	onLeave   func() // after saving, when the keyboard has left
	outside   *string
	seen      int    // the state of the shop that it shows, see seen.go
	saving    bool   // what comes from outside meanwhile waits for how it ends
	unsaved   bool   // its text could not be saved, and stays
	onAgain   func() // in place of saving again
	onLetGo   func() // in place of taking the value from outside when that text is let go
	focused   bool
	quiet     bool // text is being set from outside
	selectAll bool // choose all of it on entering, as numbers want
}

type entryWidget interface {
	fyne.Widget
	fyne.Focusable
}

// NewEntry is a field of one line.
func NewEntry() *Entry {
	e := &Entry{}
	e.start(e)
	return e
}

// NewTextArea is a field of several lines that wraps. Tab leaves it.
func NewTextArea(lines int) *Entry {
	e := &Entry{}
	e.MultiLine, e.Wrapping = true, fyne.TextWrapWord
	e.start(e)
	e.SetMinRowsVisible(lines)
	return e
}

// start is called by the constructor of the outermost widget.
func (e *Entry) start(self entryWidget) {
	e.self = self
	if !e.MultiLine {
		e.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	}
	e.ExtendBaseWidget(self)
	e.saver.save = e.save
	e.Entry.OnChanged = e.typed
	e.Entry.OnSubmitted = func(text string) {
		e.Flush()
		if e.OnSubmit != nil {
			e.OnSubmit(text)
		} else if d := topDialog(canvasOf(self)); d != nil {
			d.key(&fyne.KeyEvent{Name: fyne.KeyReturn})
		}
	}
}

func (e *Entry) typed(text string) {
	if e.quiet {
		return
	}
	e.outside = nil
	if e.OnTyped != nil {
		e.OnTyped(text)
	}
	e.saver.touch()
}

func (e *Entry) save() {
	if e.OnSave == nil {
		e.SetProblem(nil)
		return
	}
	e.saving = true
	of := departed
	err := asSeen(e.seen, func() error { return e.OnSave(e.Text) })
	e.saving = false
	e.unsaved = isUnsaved(err) && of == departed
	if err == nil || of != departed {
		e.seen = seenNow()
	}
	if !e.unsaved && e.outside != nil && !e.focused {
		e.Set(*e.outside)
	}
	e.keepOpen()
	e.SetProblem(err)
}

// Flush saves now what waits to be saved.
func (e *Entry) Flush() { e.saver.flush() }

// Set shows a value from outside, without saving it. While the field has the keyboard the value waits;
// typing on drops it.
func (e *Entry) Set(text string) {
	if e.focused || e.saving || e.unsaved {
		e.outside = &text
		return
	}
	e.outside, e.seen = nil, seenNow()
	e.saver.forget()
	e.write(text)
	e.SetProblem(nil)
}

func (e *Entry) write(text string) {
	if text == e.Text {
		return
	}
	e.quiet = true
	e.SetText(text)
	e.quiet = false
}

// Focused tells whether the field has the keyboard.
func (e *Entry) Focused() bool { return e.focused }

// Problem is why the text could not be saved, nil when it was.
func (e *Entry) Problem() error { return e.problem }

// SetProblem shows why the text cannot be used; nil takes it away.
func (e *Entry) SetProblem(err error) {
	if e.problem == nil && err == nil {
		return
	}
	e.problem = err
	e.tellDialog(err)
	e.AlwaysShowValidationError = err != nil
	e.SetValidationError(err)
	e.Refresh()
	if e.onProblem != nil {
		e.onProblem(err)
	}
}

// tellDialog lets the dialog that a field stands in know that it cannot be read, so that the dialog does not
// go by what stood in it before.
func (e *Entry) tellDialog(err error) {
	if err == nil {
		if e.in != nil {
			delete(e.in.unread, e)
		}
		return
	}
	if e.in == nil && e.focused {
		e.in = topDialog(canvasOf(e.self))
	}
	if e.in != nil {
		e.in.unread[e] = err
	}
}

func (e *Entry) watchProblem(fn func(error)) { e.onProblem = fn }

// FocusGained is for the window library.
func (e *Entry) FocusGained() {
	already := e.focused
	e.focused = true
	if !e.unsaved && !e.saver.waiting() {
		e.seen = seenNow()
	}
	e.keepOpen()
	e.Entry.FocusGained()
	if e.selectAll && !already {
		e.Entry.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	reveal(e.self)
}

// FocusLost is for the window library.
func (e *Entry) FocusLost() {
	e.focused = false
	e.Entry.FocusLost()
	e.Flush()
	e.keepOpen()
	if e.outside != nil {
		e.Set(*e.outside)
	}
	if e.onLeave != nil {
		e.onLeave()
	}
}

// AcceptsTab is never: Tab goes to the next field.
func (e *Entry) AcceptsTab() bool { return false }

// TypedKey is for the window library.
func (e *Entry) TypedKey(key *fyne.KeyEvent) {
	switch key.Name {
	case fyne.KeyEscape:
		passKey(e.self, key)
	case fyne.KeyTab:
	default:
		e.Entry.TypedKey(key)
	}
}

// TypedShortcut is for the window library.
func (e *Entry) TypedShortcut(s fyne.Shortcut) {
	if e.keeps(s) {
		e.Entry.TypedShortcut(s)
		return
	}
	FlushAll()
	pass(e.self, s)
}

func (e *Entry) keeps(s fyne.Shortcut) bool {
	switch s := s.(type) {
	case *fyne.ShortcutCopy, *fyne.ShortcutCut, *fyne.ShortcutPaste, *fyne.ShortcutSelectAll:
		return true
	case *desktop.CustomShortcut:
		switch s.KeyName {
		case fyne.KeyLeft, fyne.KeyRight, fyne.KeyBackspace, fyne.KeyDelete, fyne.KeyHome, fyne.KeyEnd:
			return true
		case fyne.KeyUp, fyne.KeyDown:
			return s.Modifier&fyne.KeyModifierAlt == 0
		}
	}
	return false
}
