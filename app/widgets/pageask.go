package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
)

// PageQuestion asks where a page that goes along with a motor is written.
type PageQuestion struct {
	Page, Motor  string // names of both
	HandOver     bool   // it is the hand-over sheet, otherwise a bill of sale
	Mixed        bool   // a motor whose oil is mixed into its fuel
	Folder, File string // proposed
	Dates        DateOrder
	There        func(words string) // see [SaveQuestion]

	// Write writes the page; ratio is the running mix as it stands on the can, "" for none.
	Write func(folder, name, ratio string, replace bool) (path string, err error)
}

// Ask opens the question over the window.
func (q PageQuestion) Ask(c fyne.Canvas) {
	ratio := NewEntry()
	words := lang.X("paper.bill.words", "One page for both to sign: who, what, for how much and how paid, and what is not promised. What is not known stands as a blank to fill in.")
	var more []fyne.CanvasObject
	if q.HandOver {
		words = lang.X("paper.handover.words", "For the new owner: what was done, the readings, the parts, running in with fuel mix and hours, cautions, and what is not promised.")
		if q.Mixed {
			more = append(more, NewField(lang.X("paper.handover.ratio", "Running mix on its can"), ratio).
				WithHint(lang.X("paper.handover.ratio.hint", "such as 50:1; empty prints the common ones")))
		}
	}
	SaveQuestion{
		Title: lang.X("paper.title", "{{.Page}} of {{.Motor}}", map[string]any{"Page": Capital(q.Page), "Motor": q.Motor}),
		Words: words, Folder: q.Folder, Name: q.File, Dates: q.Dates, More: more, There: q.There,
		Write: func(folder, name string, replace bool) (string, error) {
			return q.Write(folder, name, strings.TrimSpace(ratio.Text), replace)
		},
	}.Ask(c)
}
