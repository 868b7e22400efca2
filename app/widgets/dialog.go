package widgets

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Dialog asks something over the window. Esc closes it and Return does what its main button does,
// wherever in it the keyboard is.
type Dialog struct {
	OnClosed func() // after it closed, however it did

	canvas  fyne.Canvas
	pop     *widget.PopUp
	confirm func() error
	problem *Text
	unread  map[*Entry]error // fields in it that hold what cannot be read
	note    *fyne.Container
	content fyne.CanvasObject
	first   fyne.Focusable
	before  func(*fyne.KeyEvent) // what the window did with keys
	held    fyne.Focusable
	seen    int  // the state of the shop when it opened
	calm    bool // nothing has the keyboard when it opens, and Return does nothing
	main    *Button
	cancel  *Button
	buttons *fyne.Container
	idle    bool // there is nothing to confirm
	width   float32
}

// errStay keeps a dialog open that went a step further, without anything being wrong.
var errStay = errors.New("not done yet")

// dialogs are those on show, the topmost last.
var dialogs []*Dialog

func topDialog(c fyne.Canvas) *Dialog {
	for i := len(dialogs) - 1; i >= 0; i-- {
		if dialogs[i].canvas == c {
			return dialogs[i]
		}
	}
	return nil
}

// NewDialog has a title, content, and a main button with the words given. Confirm runs when that is
// pressed: an error is shown and keeps the dialog open, nil closes it. With main "" there is only a
// button that closes.
func NewDialog(c fyne.Canvas, title string, content fyne.CanvasObject, main string, confirm func() error) *Dialog {
	d := &Dialog{canvas: c, confirm: confirm, content: content, width: 440}
	d.problem, d.unread = NewText(""), map[*Entry]error{}
	d.note = &fyne.Container{Layout: note{}, Objects: []fyne.CanvasObject{
		widget.NewIcon(theme.NewColoredResource(theme.ErrorIcon(), look.Bad)), d.problem}, Hidden: true}
	d.main, d.cancel = NewMainButton(main, nil, d.press), NewButton(lang.X("dialog.cancel", "Cancel"), nil, d.Close)
	d.buttons = &fyne.Container{Layout: trailing{gap: look.Gap}, Objects: []fyne.CanvasObject{d.main, d.cancel}}
	d.setMain(main)
	parts := []fyne.CanvasObject{newText(title, theme.SizeNameSubHeadingText, look.Plain, true)}
	if content != nil {
		parts = append(parts, content)
	}
	parts = append(parts, d.note, d.buttons)
	d.pop = widget.NewModalPopUp(&fyne.Container{Layout: dialogRoom{d}, Objects: []fyne.CanvasObject{
		newPane(Column(look.Wide, parts...), padded{look.Wide, look.Gap, look.Wide, look.Wide})}}, c)
	return d
}

// Offer changes what the main button does, in words, after the content changed; with "" nothing can be
// done, and it closes. The dialog lays itself out anew.
func (d *Dialog) Offer(main string) {
	d.setMain(main)
	d.Fail(nil)
	if o, ok := d.canvas.Focused().(fyne.CanvasObject); ok && contains(d.pop, o) { // what grew must not push it away
		reveal(o)
	}
}

func (d *Dialog) setMain(main string) {
	d.idle = main == ""
	if d.cancel.Hidden = d.idle; d.idle {
		main = lang.X("dialog.close", "Close")
	}
	d.main.SetText(main)
	d.buttons.Refresh()
}

func (d *Dialog) press() {
	if d.idle {
		d.Close()
		return
	}
	d.accept()
}

// SetFirst is the control that has the keyboard when the dialog opens; the main button unless set.
func (d *Dialog) SetFirst(f fyne.Focusable) *Dialog {
	d.first = f
	return d
}

// SetWidth changes the width, at 100 %; 440 unless set.
func (d *Dialog) SetWidth(width float32) *Dialog {
	d.width = width
	return d
}

// Dangerous marks the main button as one that takes something away.
func (d *Dialog) Dangerous() *Dialog {
	d.main.Importance = widget.DangerImportance
	d.main.Refresh()
	return d
}

// Calm is for a dialog that opens by itself: what is being typed at that moment must not answer it. Its buttons
// are to be pressed, or reached by Tab.
func (d *Dialog) Calm() *Dialog {
	d.calm = true
	return d
}

// Instead makes the second button do something else than to close: the other answer.
func (d *Dialog) Instead(words string, do func() error) *Dialog {
	d.cancel.SetText(words)
	d.cancel.OnTapped = func() {
		if err := do(); err != nil {
			d.Fail(err)
			return
		}
		d.Close()
	}
	d.buttons.Refresh()
	return d
}

// Show opens the dialog.
func (d *Dialog) Show() {
	d.held, d.seen = d.canvas.Focused(), seenNow()
	if d.calm {
		d.canvas.Unfocus()
	}
	dialogs = append(dialogs, d)
	d.before = d.canvas.OnTypedKey()
	d.canvas.SetOnTypedKey(d.key)
	d.pop.Show()
	if d.calm {
		return
	}
	first := d.first
	if first == nil {
		first = d.main
	}
	d.canvas.Focus(first)
}

// Close closes the dialog without doing anything.
func (d *Dialog) Close() {
	for i, open := range dialogs {
		if open != d {
			continue
		}
		FlushAll()
		dialogs = append(dialogs[:i], dialogs[i+1:]...)
		d.pop.Hide()
		d.canvas.SetOnTypedKey(d.before)
		refocus(d.canvas, d.held)
		if d.OnClosed != nil {
			d.OnClosed()
		}
		return
	}
}

// Fail shows why it could not be done.
func (d *Dialog) Fail(err error) {
	d.problem.SetText(ErrorText(err))
	d.note.Hidden = err == nil
	d.pop.Content.Refresh()
	reflow(d.note)
}

func (d *Dialog) accept() {
	FlushAll()
	for e, err := range d.unread {
		d.Fail(err)
		d.canvas.Focus(e.self)
		return
	}
	if d.confirm != nil {
		err := asSeen(d.seen, d.confirm)
		if err == errStay {
			d.Fail(nil)
			return
		}
		if err != nil {
			d.Fail(err)
			return
		}
	}
	d.Close()
}

func (d *Dialog) key(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		d.Close()
	case fyne.KeyReturn, fyne.KeyEnter:
		if !d.calm {
			d.main.Tapped(nil)
		}
	}
}

// dialogRoom gives a dialog its width and as much height as it wants, if the window has it.
type dialogRoom struct{ d *Dialog }

func (r dialogRoom) Layout(o []fyne.CanvasObject, size fyne.Size) { o[0].Resize(size) }

func (r dialogRoom) MinSize(o []fyne.CanvasObject) fyne.Size {
	room := r.d.canvas.Size().SubtractWidthHeight(2*look.Scaled(look.Page), 2*look.Scaled(look.Page))
	w := min(look.Scaled(r.d.width), room.Width)
	return fyne.NewSize(w, min(o[0].(*Pane).natural(w), room.Height))
}

// trailing puts buttons at the right, the first one outermost.
type trailing struct{ gap float32 }

func (t trailing) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	x := size.Width
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		min := o.MinSize()
		x -= min.Width
		o.Resize(fyne.NewSize(min.Width, size.Height))
		o.Move(fyne.NewPos(x, 0))
		x -= look.Scaled(t.gap)
	}
}

func (t trailing) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var least fyne.Size
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		min := o.MinSize()
		least.Width += min.Width + look.Scaled(t.gap)
		least.Height = max(least.Height, min.Height)
	}
	return least
}
