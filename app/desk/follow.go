package desk

import (
	"context"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// retryEvery is how long after something could not be saved it is tried again.
const retryEvery = 2 * time.Second

// follow keeps the window showing what others do to the shop, until the desk is closed.
func (d *Desk) follow() {
	ctx, stop := context.WithCancel(context.Background())
	d.stop = stop
	d.shop.Watch(ctx, func(r shop.Reach) {
		fyne.Do(func() {
			if ctx.Err() == nil {
				d.heard(r)
			}
		})
	})
	widgets.Beside(func() {
		for ctx.Err() == nil {
			select {
			case <-time.After(retryEvery):
			case <-ctx.Done():
				return
			}
			fyne.Do(func() {
				if ctx.Err() == nil {
					d.retry()
				}
			})
		}
	})
}

// heard shows what was heard of the shop file.
func (d *Desk) heard(r shop.Reach) {
	if r.Lost != nil {
		if !d.lost {
			d.lost = true
			d.status.warn(lang.X("follow.lost", "The shop file does not answer. What you type stays in its field and is saved as soon as it answers again."))
		}
		return
	}
	if r.Back {
		d.lost = false
	}
	if r.Changed {
		d.catchUp()
	}
	if r.Back {
		widgets.SaveWaiting()
		if widgets.Unsaved() == 0 {
			d.Status(lang.X("follow.again", "The shop file answers again; everything is saved."))
		}
	}
}

// catchUp shows what others changed. Nothing that is being typed, chosen or read is moved; a field keeps its
// text, and the choice comes when it is saved.
func (d *Desk) catchUp() {
	before := d.chosen()
	what, changed, err := d.shop.Follow()
	if c := d.canvas(); c != nil && d.chosen() != before && !d.asking() {
		c.Unfocus() // another motor is on show: what is typed next would go into that one
	}
	switch {
	case err != nil:
		d.Failed(err)
	case changed:
		d.Status(widgets.Say(what))
	}
}

// retry saves again what could not be saved, while the shop file answers and nothing is asked.
func (d *Desk) retry() {
	if d.lost || d.asking() || d.clash != nil || widgets.Unsaved() == 0 {
		return
	}
	if widgets.SaveWaiting() {
		d.Status(lang.X("follow.saved", "Everything is saved again."))
	}
}
