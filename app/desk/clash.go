package desk

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// typedOut is how long after a change met with another's the choice waits while the keyboard stands in a field:
// somebody who is still typing is not cut short. What is typed meanwhile becomes part of what is chosen about.
const typedOut = time.Second

// clashed opens the choice about what somebody else changed too, soon: not from within the saving of a field.
func (d *Desk) clashed(c *shop.Clash) {
	d.clash = c
	d.status.warn(lang.X("clash.status", "Not saved yet: somebody changed the same on another bench."))
	wait := time.Millisecond
	if widgets.Typing(d.canvas()) {
		wait = typedOut
	}
	d.later(wait, func() {
		if d.clash == c && d.canvas() != nil {
			d.clash = nil
			d.choose(c, widgets.OpenDialog(d.canvas()))
		}
	})
}

// soon runs fn on the window's own thread after a while.
func soon(wait time.Duration, fn func()) {
	time.AfterFunc(wait, func() { fyne.Do(fn) })
}

// choose asks what shall hold of what two people changed. From is the dialog that the change was confirmed in,
// nil for none: it is answered with this one.
func (d *Desk) choose(c *shop.Clash, from *widgets.Dialog) {
	var q *widgets.Dialog
	finish := func(do func() error) func() error {
		return func() error {
			err := do()
			if next, is := err.(*shop.Clash); is { // somebody changed it once more
				q.OnClosed = nil
				q.Close()
				d.choose(next, from)
				return nil
			}
			if err != nil {
				return err
			}
			widgets.LetGo()
			d.refresh()
			if from != nil {
				q.OnClosed = from.Close
			}
			return nil
		}
	}
	letGo := finish(func() error { return d.shop.LetGo(c) })
	title := lang.X("clash.title", "Two people changed {{.Thing}}", map[string]any{"Thing": c.Thing})
	why, back := c.CanComeBack()
	switch {
	case c.Removing:
		q = widgets.NewDialog(d.canvas(), title, widgets.NewText(lang.X("clash.removing",
			"You removed it while somebody else changed it on another bench. What they made of it now shows.")),
			lang.X("clash.remove", "Remove it all the same"), finish(func() error { return d.shop.Settle(c, nil) })).
			Instead(lang.X("clash.keep", "Keep it"), letGo).Dangerous()
	case c.Removed() && back:
		q = widgets.NewDialog(d.canvas(), lang.X("clash.gone", "{{.Thing}} was removed", map[string]any{"Thing": widgets.Capital(c.Thing)}),
			widgets.NewText(lang.X("clash.bring", "Somebody removed it on another bench while you changed it.")),
			lang.X("clash.back", "Bring it back with my change"), finish(func() error { return d.shop.BringBack(c) })).
			Instead(lang.X("clash.letgo", "Let it go"), letGo)
	case c.Removed():
		q = widgets.NewDialog(d.canvas(), lang.X("clash.gone", "{{.Thing}} was removed", map[string]any{"Thing": widgets.Capital(c.Thing)}),
			widgets.Column(look.Gap, widgets.NewText(lang.X("clash.bring", "Somebody removed it on another bench while you changed it.")),
				widgets.NewText(widgets.Say(why))),
			lang.X("clash.letgo", "Let it go"), letGo)
	default:
		choice := widgets.NewVersions(versionsOf(c))
		q = widgets.NewDialog(d.canvas(), title, choice,
			lang.X("clash.this", "Keep what is chosen"), finish(func() error { return d.shop.Settle(c, choice.Theirs()) })).
			Instead(lang.X("clash.theirs", "Keep all theirs"), letGo).SetWidth(640)
	}
	q.Calm().Show()
}

func versionsOf(c *shop.Clash) []widgets.Version {
	var out []widgets.Version
	for _, l := range c.Choices() {
		v := widgets.Version{Key: l.Column, Name: widgets.Capital(widgets.Say(l.Name)), Mine: widgets.Say(l.Mine), Theirs: widgets.Say(l.Theirs), KeepMine: l.KeepMine}
		if !l.Was.Empty() {
			v.Was = widgets.Say(l.Was)
		}
		out = append(out, v)
	}
	return out
}
