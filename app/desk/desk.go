// Package desk is the window: the rail with its screens, the menus and shortcuts, find, undo and the
// status line. It is the only room that imports the window system.
package desk

import (
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/asking"
	"skegworth/app/bench"
	"skegworth/app/logbook"
	"skegworth/app/look"
	"skegworth/app/prospects"
	"skegworth/app/record"
	"skegworth/app/settings"
	"skegworth/app/shelf"
	"skegworth/app/shop"
	"skegworth/app/sold"
	"skegworth/app/widgets"
	"skegworth/app/yearend"
)

// Desk is everything inside the window for one open shop file.
type Desk struct {
	shop    *shop.Shop
	window  fyne.Window // nil when drawn without a display
	places  []*place
	current *place
	body    *fyne.Container // holds the current screen
	status  *statusLine
	content fyne.CanvasObject
	open    func(path string) // opens another shop file in this window's stead

	clash *shop.Clash // what is going to be asked about
	lost  bool        // the shop file does not answer
	later func(wait time.Duration, fn func())
	stop  func() // ends following what others do; nil before it began
}

// place is a screen with its name in the rail; the screen is made when first shown.
type place struct {
	key, name string
	icon      fyne.Resource
	make      func() widgets.Screen
	screen    widgets.Screen
	item      *railItem
	stale     bool
}

// New lays out the desk for a shop. Window is nil where there is no display.
func New(s *shop.Shop, window fyne.Window) *Desk {
	d := &Desk{shop: s, window: window, status: newStatusLine(s.Path()), body: container.NewStack(), later: soon}
	d.places = []*place{
		{key: widgets.ProspectsScreen, name: lang.X("rail.prospects", "Prospects"), icon: iconProspects, make: func() widgets.Screen { return prospects.New(s, d) }},
		{key: widgets.BenchScreen, name: lang.X("rail.bench", "Bench"), icon: iconBench, make: func() widgets.Screen { return bench.New(s, d) }},
		{key: widgets.AskingScreen, name: lang.X("rail.asking", "Asking"), icon: iconAsking, make: func() widgets.Screen { return asking.New(s, d) }},
		{key: widgets.SoldScreen, name: lang.X("rail.sold", "Sold"), icon: iconSold, make: func() widgets.Screen { return sold.New(s, d) }},
		{key: widgets.ShelfScreen, name: lang.X("rail.shelf", "Shelf"), icon: iconShelf, make: func() widgets.Screen { return shelf.New(s, d) }},
		{key: widgets.YearEndScreen, name: lang.X("rail.yearend", "Year-end"), icon: iconYearEnd, make: func() widgets.Screen { return yearend.New(s, d) }},
		{key: widgets.RecordScreen, name: lang.X("rail.record", "Track record"), icon: iconRecord, make: func() widgets.Screen { return record.New(s, d) }},
		{key: widgets.SettingsScreen, name: lang.X("rail.settings", "Settings"), icon: iconSettings, make: func() widgets.Screen { return settings.New(s, d) }},
	}
	top, foot := container.NewVBox(), container.NewVBox()
	for n, p := range d.places {
		p.item = newRailItem(p.name, p.icon, func() { d.Go(p.key, "") })
		p.item.step = func(by int) { d.focusRail(n + by) }
		if p.key == widgets.SettingsScreen {
			foot.Add(p.item)
		} else {
			top.Add(p.item)
		}
	}
	name := widgets.Padded(look.Gap, widgets.NewTitle("Skegworth"))
	rail := container.New(layout.NewBorderLayout(name, foot, nil, nil), name, top, foot)
	edge := widget.NewSeparator()
	left := container.New(layout.NewBorderLayout(nil, nil, nil, edge), rail, edge)
	d.content = container.New(&folding{inner: layout.NewBorderLayout(nil, d.status.content, left, nil), fold: func(narrow bool) { d.narrow(narrow, name) }},
		left, d.body, d.status.content)
	s.OnChange(d.changed)
	s.OnClash(d.clashed)
	s.OnRemoval(func() { widgets.FlushAll(); widgets.SaveAgain() })
	s.KeepSeen(widgets.OldestSeen)
	widgets.SeeWith(s.Seen, s.AsSeen)
	first := s.Preference("screen")
	if d.place(first) == nil {
		first = widgets.ProspectsScreen
		if s.Empty() {
			first = widgets.SoldScreen
		}
	}
	d.Go(first, "")
	return d
}

// Content is what the window holds.
func (d *Desk) Content() fyne.CanvasObject { return d.content }

// Window implements widgets.Host.
func (d *Desk) Window() fyne.Window { return d.window }

// Status implements widgets.Host.
func (d *Desk) Status(text string) { d.status.say(text, false) }

// Failed implements widgets.Host.
func (d *Desk) Failed(err error) {
	if err != nil {
		logbook.Failed(err)
		d.status.say(strings.Join(strings.Fields(err.Error()), " "), true)
	}
}

// Go implements widgets.Host.
func (d *Desk) Go(key, id string) {
	p := d.place(key)
	if p == nil {
		return
	}
	if d.current != nil && d.current != p {
		widgets.FlushAll()
		if !widgets.SaveAgain() { // what cannot be saved yet is not left behind
			d.status.warn(lang.X("desk.unsaved", "What was typed here is not saved yet. It stays on show until it is."))
			return
		}
		d.current.item.choose(false)
	}
	if p.screen == nil {
		p.screen = p.make()
	}
	moved := d.current != p
	d.current = p
	p.item.choose(true)
	if moved {
		d.body.Objects = []fyne.CanvasObject{p.screen.Content()}
		d.body.Refresh()
	}
	p.stale = false
	p.screen.Refresh()
	if id != "" {
		p.screen.Show(id)
		if first, ok := p.screen.(interface{ First() fyne.Focusable }); ok && moved && d.canvas() != nil {
			d.canvas().Focus(first.First())
		}
	}
	if moved && d.window != nil {
		if err := d.shop.SetPreference("screen", p.key); err != nil {
			d.Failed(err)
		}
	}
}

// OpenExample implements widgets.Host: the example shop takes this window.
func (d *Desk) OpenExample() {
	path, err := shop.HomePath(true)
	if err == nil {
		err = shop.EnsureExample(path)
	}
	if err != nil {
		d.Failed(err)
		return
	}
	if d.open != nil {
		d.open(path)
	}
}

func (d *Desk) place(key string) *place {
	n := slices.IndexFunc(d.places, func(p *place) bool { return p.key == key })
	if n < 0 {
		return nil
	}
	return d.places[n]
}

func (d *Desk) focusRail(n int) {
	if d.window != nil && n >= 0 && n < len(d.places) {
		d.window.Canvas().Focus(d.places[n].item)
	}
}

// changed shows what changed, and says when it was saved here.
func (d *Desk) changed() {
	d.refresh()
	if !d.shop.Others() {
		d.status.saved(time.Now())
	}
}

// refresh shows the current screen anew; the others wait until they are shown.
func (d *Desk) refresh() {
	for _, p := range d.places {
		p.stale = true
	}
	if d.current != nil && d.current.screen != nil {
		d.current.stale = false
		d.current.screen.Refresh()
	}
}

// Undo takes back the last change, also what is being typed at this moment. While something is asked in a
// dialog it takes back only what was typed there.
func (d *Desk) Undo() {
	if d.asking() {
		if field, ok := d.canvas().Focused().(interface{ Undo() }); ok {
			field.Undo()
		}
		return
	}
	d.inPlace(func() {
		what, ok, err := d.shop.Undo()
		switch {
		case err != nil:
			d.Failed(err)
		case !ok:
			d.Status(lang.X("desk.nothing-to-undo", "There is nothing to undo."))
		default:
			d.Status(lang.X("desk.undone", "Undone: {{.What}}.", map[string]any{"What": widgets.Say(what)}))
		}
	})
}

// Redo makes the change again that was last undone.
func (d *Desk) Redo() {
	if d.asking() {
		if field, ok := d.canvas().Focused().(interface{ Redo() }); ok {
			field.Redo()
		}
		return
	}
	d.inPlace(func() {
		what, ok, err := d.shop.Redo()
		switch {
		case err != nil:
			d.Failed(err)
		case !ok:
			d.Status(lang.X("desk.nothing-to-redo", "There is nothing to do again."))
		default:
			d.Status(lang.X("desk.redone", "Done again: {{.What}}.", map[string]any{"What": widgets.Say(what)}))
		}
	})
}

// inPlace changes the shop while no field has the keyboard, and gives it back unless the change brought
// another motor on show: what is typed next would go into that one.
func (d *Desk) inPlace(change func()) {
	before := d.chosen()
	widgets.WithoutFocus(d.canvas(), change)
	if c := d.canvas(); c != nil && d.chosen() != before {
		c.Unfocus()
	}
}

// chosen is the motor on show, "" on a screen that shows none.
func (d *Desk) chosen() string {
	if s, ok := d.current.screen.(interface{ Chosen() string }); ok {
		return s.Chosen()
	}
	return ""
}

// canvas is the window's, nil where there is none.
func (d *Desk) canvas() fyne.Canvas {
	if d.window == nil {
		return nil
	}
	return d.window.Canvas()
}

// newProspect writes down a new prospect from wherever the user is.
func (d *Desk) newProspect() {
	d.Go(widgets.ProspectsScreen, "")
	if p, ok := d.current.screen.(interface{ New() }); ok {
		p.New()
	}
}

// compare shows prospects side by side from wherever the user is.
func (d *Desk) compare() {
	d.Go(widgets.ProspectsScreen, "")
	if p, ok := d.current.screen.(interface{ Compare() }); ok {
		p.Compare()
	}
}

// copyListing copies the listing text of the motor on show on the Asking screen.
func (d *Desk) copyListing() {
	d.Go(widgets.AskingScreen, "")
	if p, ok := d.current.screen.(interface{ CopyListing() }); ok {
		p.CopyListing()
	}
}

// close lets the screens go that keep something running.
func (d *Desk) close() {
	if d.stop != nil {
		d.stop()
	}
	for _, p := range d.places {
		if c, ok := p.screen.(interface{ Close() }); ok {
			c.Close()
		}
	}
}

// Dropped takes files dropped on the window: first for the screen on show, else sales to take in.
func (d *Desk) Dropped(paths []string) {
	if taker, ok := d.current.screen.(widgets.Dropper); ok && taker.Dropped(paths) {
		return
	}
	for _, path := range paths {
		if slices.Contains(intakeEnds, strings.ToLower(filepath.Ext(path))) {
			d.Go(widgets.SoldScreen, "")
			if taker, ok := d.current.screen.(interface{ TakeIn(path string) }); ok {
				taker.TakeIn(path)
			}
			return
		}
	}
	d.Status(lang.X("desk.not-taken", "Only CSV and XLSX files of past sales can be taken in by dropping, and photos while a prospect or a motor on the Bench is open."))
}
