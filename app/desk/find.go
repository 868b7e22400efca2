package desk

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// hit is one thing that find can open.
type hit struct {
	words      string
	screen, id string
}

// hits are the screens, motors and goods whose words hold every word typed, screens first, at most most.
func (d *Desk) hits(typed string, most int) []hit {
	wanted := strings.Fields(strings.ToLower(typed))
	var out []hit
	add := func(h hit) {
		lower := strings.ToLower(h.words)
		for _, w := range wanted {
			if !strings.Contains(lower, w) {
				return
			}
		}
		if len(out) < most {
			out = append(out, h)
		}
	}
	for _, p := range d.places {
		add(hit{p.name, p.key, ""})
	}
	records := d.shop.Records(costing.Stages...)
	slices.SortStableFunc(records, func(a, b costing.Record) int { // past sales, the most by far, come last
		return slices.Index(costing.Stages, a.Stage) - slices.Index(costing.Stages, b.Stage)
	})
	for _, r := range records {
		words := r.Name() + " · " + widgets.Say(r.Stage.Name())
		if r.Tag != "" {
			words += " · " + r.Tag
		}
		add(hit{words, screenOf(r.Stage), r.ID})
	}
	for _, g := range d.shop.Goods() {
		add(hit{g.Good.Name, widgets.ShelfScreen, g.Good.ID})
	}
	return out
}

// screenOf is where a motor at a stage is looked after.
func screenOf(s costing.Stage) string {
	switch s {
	case costing.Prospect, costing.Passed:
		return widgets.ProspectsScreen
	case costing.Finished, costing.Listed:
		return widgets.AskingScreen
	case costing.Sold, costing.History:
		return widgets.SoldScreen
	case costing.Broken:
		return widgets.ShelfScreen
	default:
		return widgets.BenchScreen
	}
}

// Find opens a field over the window; what fits the letters typed is listed under it, and Return goes
// there.
func (d *Desk) Find() {
	if d.window == nil {
		return
	}
	var found []hit
	var popup *widget.PopUp
	none := widgets.NewQuiet(lang.X("find.none", "Nothing has all these words."))
	at := 0
	list := widget.NewList(
		func() int { return len(found) },
		func() fyne.CanvasObject { return widget.NewLabel("") },
		func(n widget.ListItemID, o fyne.CanvasObject) {
			l := o.(*widget.Label)
			l.TextStyle.Bold = n == at
			l.SetText(found[n].words)
		})
	choose := func(n int) {
		if n < len(found) {
			popup.Hide()
			d.Go(found[n].screen, found[n].id)
		}
	}
	list.OnSelected = func(n widget.ListItemID) { choose(n) }
	field := newFindEntry()
	field.SetPlaceHolder(lang.X("find.hint", "make, power, year, tag, or a screen"))
	field.OnChanged = func(typed string) {
		found, at = d.hits(typed, 50), 0
		none.Hidden = len(found) > 0
		none.Refresh()
		list.Refresh()
		list.ScrollToTop()
	}
	field.onKey = func(k fyne.KeyName) {
		switch k {
		case fyne.KeyEscape:
			popup.Hide()
		case fyne.KeyReturn, fyne.KeyEnter:
			choose(at)
		case fyne.KeyDown, fyne.KeyUp:
			step := 1
			if k == fyne.KeyUp {
				step = -1
			}
			at = max(0, min(len(found)-1, at+step))
			list.ScrollTo(at)
			list.Refresh()
		}
	}
	popup = widget.NewModalPopUp(container.New(layout.NewBorderLayout(field, nil, nil, nil), field, container.NewStack(list, widgets.Padded(look.Gap, none))), d.window.Canvas())
	popup.Resize(fyne.NewSize(look.Scaled(520), look.Scaled(420)))
	field.OnChanged("")
	popup.Show()
	d.window.Canvas().Focus(field)
}

// findEntry is a field that hands Escape, Return and the arrows to its owner.
type findEntry struct {
	widget.Entry
	onKey func(fyne.KeyName)
}

func newFindEntry() *findEntry {
	e := &findEntry{}
	e.ExtendBaseWidget(e)
	return e
}

func (e *findEntry) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape, fyne.KeyReturn, fyne.KeyEnter, fyne.KeyDown, fyne.KeyUp:
		e.onKey(k.Name)
	default:
		e.Entry.TypedKey(k)
	}
}
