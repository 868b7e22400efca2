package desk

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/logbook"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// showText shows something to read in a dialog.
func (d *Desk) showText(title, text string) {
	words := widget.NewRichTextFromMarkdown(text)
	words.Wrapping = fyne.TextWrapWord
	widgets.NewDialog(d.window.Canvas(), title, widgets.Tall(360, container.NewVScroll(words)), "", nil).SetWidth(640).Show()
}

func keysText() string {
	return lang.X("keys.text", "- **Ctrl+N** write down a new prospect\n"+
		"- **Ctrl+L** copy the listing text of the motor on the Asking screen\n"+
		"- **Ctrl+M** compare prospects side by side; **Space** in their list marks which\n"+
		"- **Ctrl+K** find any motor, shelf good or screen\n"+
		"- **Ctrl+1** to **Ctrl+8** go to a screen\n"+
		"- **Ctrl+Z**, **Ctrl+Y** undo, do again; also from within a field\n"+
		"- **Ctrl+F** in a list, filter it; letters typed there do the same\n"+
		"- **Ctrl+I** take past sales in from a file, or drop the file on the window\n"+
		"- **Ctrl+B** the copies of this shop, and going back to one\n"+
		"- **Ctrl+O** open a shop file; **Ctrl+Q** quit, everything is saved\n"+
		"- **Ctrl+/** these keys\n"+
		"- **Tab** and **Shift+Tab** go from field to field; **Return** or **Space** presses a button\n"+
		"- In a list: arrows, **Home**, **End**, **Page Up**, **Page Down**; **Return** opens or edits\n"+
		"- **Alt+1** to **Alt+9** in a list, sort by that column, again the other way round; **Alt+Left** and **Alt+Right** change the width of the column the keyboard is on, **Alt+0** fits it to what is in it\n")
}

func cautionsText() string {
	return lang.X("cautions.text", "The maker's service manual, local rules and a licensed technician come before anything said here.\n\n"+
		"- Before cranking: take the lanyard or disable the ignition, and earth the plug leads.\n"+
		"- Battery off before hands go near starter, flywheel or wiring.\n"+
		"- Propeller off before running on muffs; water on before starting, and never run dry.\n"+
		"- Fuel vapour and exhaust: outdoors or well ventilated, no flames, extinguisher within reach.\n"+
		"- Lifting gear and stand rated for the motor's weight; never under a hanging motor.\n"+
		"- Used oil, old fuel and coolant go where local rules say.\n"+
		"- Before buying: title, liens, and whether the serial number is on a stolen list. Serial plate missing or altered: do not buy until it is cleared.\n"+
		"- Some waters bar older two-strokes: check the local rules, and tell the buyer.\n\n"+
		"The figures are not tax or legal advice. Prices are estimates from your own sales and a labelled trade prior.")
}

func aboutText(path string) string {
	where := lang.X("about.file", "Everything stays on this machine, in one file:\n\n`{{.Path}}`\n\nCopies of it are kept beside it; File > Copies… goes back to one.",
		map[string]any{"Path": literal(path)})
	if shop.OnServer(path) {
		where = lang.X("about.server", "Everything is on the server that you named, and goes nowhere else:\n\n`{{.Path}}`\n\nCopies of it are kept on this machine; File > Copies… lists them.",
			map[string]any{"Path": literal(path)})
	}
	return lang.X("about.text", "**Skegworth {{.Version}}**\n\nFor the person who buys tired outboards, puts them right and sells them on.\n\n"+
		"{{.Where}}\n\nWhat went wrong is noted, without anything about your shop, in\n\n`{{.Log}}`\n\nApache License 2.0.",
		map[string]any{"Version": Version, "Where": where, "Log": literal(logbook.Place())})
}

// literal makes a path what it is between two backticks, whatever its folders are called: no link to follow
// and no picture to fetch.
func literal(path string) string {
	return strings.Join(strings.FieldsFunc(path, func(r rune) bool { return r == '`' || r == '\n' || r == '\r' }), "'")
}
