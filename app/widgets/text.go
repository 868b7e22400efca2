package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"skegworth/app/look"
)

// Text is words that wrap at the width they are given.
type Text struct {
	widget.BaseWidget
	words string
	style fyne.TextStyle
	size  fyne.ThemeSizeName
	color fyne.ThemeColorName
	lines []*canvas.Text
	width float32
}

// NewText is plain running text.
func NewText(words string) *Text { return newText(words, theme.SizeNameText, look.Plain, false) }

// NewQuiet is running text of second rank.
func NewQuiet(words string) *Text { return newText(words, theme.SizeNameText, look.Quiet, false) }

// NewCaption is small text of second rank.
func NewCaption(words string) *Text {
	return newText(words, theme.SizeNameCaptionText, look.Quiet, false)
}

// NewTitle is the name of a thing.
func NewTitle(words string) *Text { return newText(words, look.TitleText, look.Plain, true) }

// NewAnswer is the one large sentence of a screen.
func NewAnswer(words string) *Text { return newText(words, look.AnswerText, look.Plain, false) }

func newText(words string, size fyne.ThemeSizeName, color fyne.ThemeColorName, bold bool) *Text {
	t := &Text{words: words, size: size, color: color, style: fyne.TextStyle{Bold: bold}}
	t.ExtendBaseWidget(t)
	return t
}

// SetText changes the words. Whoever shows the text lays itself out anew if the height may change.
func (t *Text) SetText(words string) {
	if t.words == words {
		return
	}
	t.words = words
	t.Refresh()
}

// Text is the words.
func (t *Text) Text() string { return t.words }

// SetColor changes the colour by its name in the look.
func (t *Text) SetColor(name fyne.ThemeColorName) {
	t.color = name
	t.Refresh()
}

func (t *Text) heightFor(width float32) float32 {
	return float32(len(wrap(t.words, width, look.Size(t.size), t.style))) * t.lineHeight()
}

func (t *Text) lineHeight() float32 {
	return fyne.MeasureText("Ag", look.Size(t.size), t.style).Height
}

// CreateRenderer is for the window library.
func (t *Text) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	r := &textRenderer{t: t}
	r.Refresh()
	return r
}

// longWord is how wide, in sizes of the type, a word may be before it is broken rather than asked room for.
const longWord = 11

type textRenderer struct{ t *Text }

func (r *textRenderer) Destroy() {}

func (r *textRenderer) Layout(size fyne.Size) {
	if size.Width != r.t.width || len(r.t.lines) == 0 {
		r.Refresh()
	}
	h := r.t.lineHeight()
	for i, l := range r.t.lines {
		l.Move(fyne.NewPos(0, float32(i)*h))
		l.Resize(fyne.NewSize(size.Width, h))
	}
}

func (r *textRenderer) MinSize() fyne.Size {
	size := look.Size(r.t.size)
	var widest float32
	for _, w := range words(r.t.words) {
		widest = max(widest, fyne.MeasureText(w, size, r.t.style).Width)
	}
	widest = min(widest, longWord*size)
	width := r.t.Size().Width
	if width <= 0 { // not laid out yet: as one line
		return fyne.NewSize(widest, float32(len(paragraphs(r.t.words)))*r.t.lineHeight())
	}
	return fyne.NewSize(widest, r.t.heightFor(max(width, widest)))
}

func (r *textRenderer) Objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(r.t.lines))
	for i, l := range r.t.lines {
		out[i] = l
	}
	return out
}

func (r *textRenderer) Refresh() {
	t := r.t
	t.width = t.Size().Width
	size, color := look.Size(t.size), look.Color(t.color)
	lines := wrap(t.words, t.width, size, t.style)
	for len(t.lines) < len(lines) {
		t.lines = append(t.lines, canvas.NewText("", color))
	}
	t.lines = t.lines[:len(lines)]
	h := t.lineHeight()
	for i, words := range lines {
		l := t.lines[i]
		l.Text, l.Color, l.TextSize, l.TextStyle = words, color, size, t.style
		l.Move(fyne.NewPos(0, float32(i)*h))
		l.Resize(fyne.NewSize(t.width, h))
		l.Refresh()
	}
	canvas.Refresh(t)
}
