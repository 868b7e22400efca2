package desk

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/widgets"
)

func ctrl(key fyne.KeyName) *desktop.CustomShortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault}
}

// menus gives the window its menus. Their shortcuts also work from within a field, because the window
// asks the main menu before the field.
func (d *Desk) menus(t *seat) {
	item := func(label string, shortcut fyne.Shortcut, action func()) *fyne.MenuItem {
		i := fyne.NewMenuItem(label, d.unlessAsked(action))
		i.Shortcut = shortcut
		return i
	}
	file := fyne.NewMenu(lang.X("menu.file", "File"),
		item(lang.X("menu.new", "New shop file…"), nil, func() { d.askNew(t) }),
		item(lang.X("menu.open", "Open a shop file…"), ctrl(fyne.KeyO), func() { d.askOpen(t) }),
		item(lang.X("menu.example", "Open the example shop"), nil, d.OpenExample),
		fyne.NewMenuItemSeparator(),
		item(lang.X("menu.intake", "Take past sales in…"), ctrl(fyne.KeyI), d.askIntake),
		item(lang.X("menu.copy", "Copy the shop file to…"), nil, d.askCopy),
		item(lang.X("menu.copies", "Copies…"), ctrl(fyne.KeyB), func() { d.askCopies(t.goBack) }),
		fyne.NewMenuItemSeparator(),
		quit(ctrl(fyne.KeyQ), t.quit),
	)
	undo := item(lang.X("menu.undo", "Undo"), &fyne.ShortcutUndo{}, nil)
	redo := item(lang.X("menu.redo", "Do again"), &fyne.ShortcutRedo{}, nil)
	undo.Action, redo.Action = d.Undo, d.Redo // in a dialog they are the field's own
	edit := fyne.NewMenu(lang.X("menu.edit", "Edit"),
		undo, redo,
		fyne.NewMenuItemSeparator(),
		item(lang.X("menu.prospect", "New prospect"), ctrl(fyne.KeyN), d.newProspect),
		item(lang.X("menu.compare", "Compare prospects"), ctrl(fyne.KeyM), d.compare),
		item(lang.X("menu.listing", "Copy the listing text"), ctrl(fyne.KeyL), d.copyListing),
		item(lang.X("menu.find", "Find a motor…"), ctrl(fyne.KeyK), d.Find),
	)
	var places []*fyne.MenuItem
	for n, p := range d.places {
		places = append(places, item(p.name, ctrl(fyne.KeyName(fmt.Sprint(n+1))), func() { d.Go(p.key, "") }))
	}
	help := fyne.NewMenu(lang.X("menu.help", "Help"),
		item(lang.X("menu.keys", "Keys"), ctrl(fyne.KeySlash), func() { d.showText(lang.X("menu.keys", "Keys"), keysText()) }),
		item(lang.X("menu.cautions", "Cautions"), nil, func() { d.showText(lang.X("menu.cautions", "Cautions"), cautionsText()) }),
		item(lang.X("menu.about", "About Skegworth"), nil, func() { d.showText(lang.X("menu.about", "About Skegworth"), aboutText(d.shop.Path())) }),
	)
	t.window.SetMainMenu(fyne.NewMainMenu(file, edit, fyne.NewMenu(lang.X("menu.go", "Go to"), places...), help))
}

// quit leaves at any time, also while something is asked.
func quit(shortcut fyne.Shortcut, action func()) *fyne.MenuItem {
	i := fyne.NewMenuItem(lang.X("menu.quit", "Quit"), action)
	i.Shortcut, i.IsQuit = shortcut, true
	return i
}

// asking tells whether a dialog stands over the window. The menu's shortcuts reach past it.
func (d *Desk) asking() bool {
	c := d.canvas()
	return c != nil && c.Overlays().Top() != nil
}

// unlessAsked holds an action back while a dialog is open: it may be about what the action would change.
func (d *Desk) unlessAsked(action func()) func() {
	return func() {
		if d.asking() {
			d.Status(lang.X("desk.asked", "First answer what is asked, or press Esc."))
			return
		}
		action()
	}
}

func (d *Desk) askOpen(t *seat) {
	widgets.FileQuestion{Title: lang.X("open.title", "Open a shop file"), Do: lang.X("open.do", "Open"),
		Folder: d.shop.Folder(), Ends: []string{shopEnd}, Dates: d.dates()}.Ask(d.window.Canvas(), t.change)
}

func (d *Desk) askIntake() {
	widgets.FileQuestion{Title: lang.X("intake.title", "Take past sales in: which CSV or XLSX file?"), Do: lang.X("intake.do", "Look at it"),
		Ends: intakeEnds, Dates: d.dates()}.Ask(d.window.Canvas(), func(path string) { d.Dropped([]string{path}) })
}

func (d *Desk) askCopy() {
	widgets.FileQuestion{Title: lang.X("copy.title", "Copy the shop file: into which folder?"), Do: lang.X("copy.do", "Copy it here"),
		Folders: true, Dates: d.dates()}.Ask(d.window.Canvas(), d.copyInto)
}

// dates is how this shop writes days.
func (d *Desk) dates() widgets.DateOrder { return widgets.DateOrder(d.shop.DateOrder()) }

// intakeEnds end the names of files that past sales can be read from.
var intakeEnds = []string{".csv", ".tsv", ".txt", ".xlsx"}

// copyInto copies the open shop file, whole, into a folder under a name with the day.
func (d *Desk) copyInto(folder string) {
	widgets.FlushAll()
	c, err := d.shop.CopyInto(folder)
	if err != nil {
		d.Failed(err)
		return
	}
	d.Status(lang.X("desk.copied.state", "Copied to {{.Path}}: {{.Holds}}; {{.State}}", map[string]any{"Path": c.Path, "Holds": widgets.Say(c.Holds()), "State": widgets.Say(c.State())}))
}
