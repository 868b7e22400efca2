package widgets

import "fyne.io/fyne/v2"

// Host is what a screen asks of the window around it.
type Host interface {
	// Window is where dialogs open. It is nil while a screen is drawn without a display; nothing that
	// a person has not pressed opens a dialog.
	Window() fyne.Window
	// Status shows a short sentence at the foot of the window: what was just saved or undone.
	Status(text string)
	// Failed shows an error as one sentence, where it will be seen.
	Failed(err error)
	// Go opens another screen, by its name, on the motor or good with the id ("" for none).
	Go(screen, id string)
	// OpenExample opens the invented example shop in place of this one.
	OpenExample()
}

// The screens, as named by [Host].Go.
const (
	ProspectsScreen = "prospects"
	BenchScreen     = "bench"
	AskingScreen    = "asking"
	SoldScreen      = "sold"
	ShelfScreen     = "shelf"
	YearEndScreen   = "yearend"
	RecordScreen    = "record"
	SettingsScreen  = "settings"
)

// PriorPart leads [Host].Go on the track record to the trade prior.
const PriorPart = "prior"

// CopiesPart leads [Host].Go on the settings to where copies are kept.
const CopiesPart = "copies"

// Screen is one of the program's screens.
type Screen interface {
	// Content is drawn in the window, always the same object.
	Content() fyne.CanvasObject
	// Refresh shows the shop as it now is; called after every change of the records while on show, and
	// when the screen comes on show. It must not disturb a field that is being typed in.
	Refresh()
	// Show brings the motor or good with the id to the front, "" for whatever was there.
	Show(id string)
}

// Dropper is a screen that has a use for files dropped on the window. It tells whether it took them.
type Dropper interface {
	Dropped(paths []string) bool
}
