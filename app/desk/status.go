package desk

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// statusLine is the foot of the window: what was last done, and which shop file is open. An error stands
// there with a sign and the word, not in colour alone, until the next thing is said.
type statusLine struct {
	sign    *widget.Icon
	words   *widget.Label
	where   *widget.Label // the shop file
	content fyne.CanvasObject
}

func newStatusLine(path string) *statusLine {
	l := &statusLine{sign: widget.NewIcon(nil), words: widget.NewLabel("")}
	l.words.Truncation = fyne.TextTruncateEllipsis
	l.words.SizeName = theme.SizeNameCaptionText
	l.sign.Hide()
	where := widget.NewLabel(path)
	l.where = where
	where.SizeName = theme.SizeNameCaptionText
	where.Importance = widget.LowImportance
	left := container.New(layout.NewBorderLayout(nil, nil, l.sign, nil), l.sign, l.words)
	row := container.New(layout.NewBorderLayout(nil, nil, nil, where), left, where)
	line := widget.NewSeparator()
	l.content = container.New(layout.NewBorderLayout(line, nil, nil, nil), line, row)
	return l
}

func (l *statusLine) say(words string, bad bool) {
	if bad {
		words = lang.X("desk.failed", "Not done: {{.Why}}", map[string]any{"Why": words})
		l.warn(words)
		return
	}
	l.sign.Hide()
	l.words.Importance = widget.MediumImportance
	l.words.SetText(words)
}

// warn says what has to be seen although nothing was refused.
func (l *statusLine) warn(words string) {
	l.sign.SetResource(theme.NewErrorThemedResource(theme.WarningIcon()))
	l.sign.Show()
	l.words.Importance = widget.DangerImportance
	l.words.SetText(words)
}

func (l *statusLine) saved(at time.Time) {
	l.say(lang.X("desk.saved", "Saved at {{.Time}}", map[string]any{"Time": at.Format("15:04:05")}), false)
}
