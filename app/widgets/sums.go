package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/valuation/say"
)

// SumLine is one line of a list of amounts.
type SumLine struct {
	What   say.Sentence
	Amount string
	Rests  say.Sentence // what the amount rests on, said beside it or, where it is narrow, below the words
	Total  bool         // set in bold
}

// Sums is a list of amounts, a line each, to be read from top to bottom: what, amount, what it rests on. It
// is for reading only, in the order given; what is to be sorted or chosen from is a Table.
type Sums struct {
	composite
	lines []SumLine
}

// NewSums is an empty list.
func NewSums() *Sums {
	s := &Sums{}
	s.root = &fyne.Container{Layout: &sums{}}
	s.ExtendBaseWidget(s)
	return s
}

// SetLines shows other lines.
func (s *Sums) SetLines(lines []SumLine) {
	s.lines = lines
	s.root.Objects = nil
	for _, l := range lines {
		s.root.Objects = append(s.root.Objects,
			newText(Capital(Say(l.What)), theme.SizeNameText, look.Plain, l.Total),
			newText(l.Amount, theme.SizeNameText, look.Plain, l.Total),
			NewQuiet(Say(l.Rests)))
	}
	s.root.Refresh()
	reflow(s)
}

// Lines are the lines on show.
func (s *Sums) Lines() []SumLine { return s.lines }

// SumsFold is a fold of a list of amounts with words below it.
type SumsFold struct {
	Fold  *Fold
	Sums  *Sums
	words *Text
	how   *Text
}

// NewSumsFold is a closed fold with nothing in it yet.
func NewSumsFold(title string) *SumsFold {
	f := &SumsFold{Sums: NewSums(), words: NewText(""), how: NewQuiet("")}
	f.Fold = NewFold(title, Column(look.Wide, f.Sums, f.words, f.how))
	return f
}

// Set shows a list, what is to be said to it, and how it is to be read; any of them may be empty.
func (f *SumsFold) Set(lines []SumLine, words, how string) {
	f.Sums.SetLines(lines)
	f.words.SetText(words)
	f.how.SetText(how)
	reflow(f.Fold)
}

// MoneyLine is a line of a list of amounts as the use-cases give it.
type MoneyLine interface {
	// Line is what the amount is for, the amount as it is shown, and what it rests on.
	Line() (what say.Sentence, amount string, rests say.Sentence)
}

// ShowSums shows lines in a fold, the last in bold where they add up to it; what is to be said to them, how
// they are to be read, and a summary at the head of the fold, any of which may be empty; or why there are
// none.
func ShowSums[L MoneyLine](f *SumsFold, lines []L, addUp bool, words, how, summary say.Sentence, err error) {
	f.Fold.SetSummary(Say(summary))
	if err != nil {
		f.Set(nil, ErrorText(err), "")
		return
	}
	shown := make([]SumLine, len(lines))
	for i, l := range lines {
		shown[i].What, shown[i].Amount, shown[i].Rests = l.Line()
		shown[i].Total = addUp && i == len(lines)-1
	}
	f.Set(shown, Say(words), Say(how))
}

// Words are all that is said below the list, a line each.
func (f *SumsFold) Words() string { return f.words.Text() + "\n" + f.how.Text() }

// sums lays out three texts a line.
type sums struct{ width float32 }

// The width from which notes stand beside the amounts, and the share of it that the words then get.
const (
	notesBeside = 560
	wordsShare  = 0.42
)

func (s *sums) place(objects []fyne.CanvasObject, width float32, put func(o fyne.CanvasObject, at fyne.Position, size fyne.Size)) float32 {
	gap, wide := look.Scaled(look.Tight), look.Scaled(look.Wide)
	var amounts float32
	for i := 1; i < len(objects); i += 3 {
		t := objects[i].(*Text)
		amounts = max(amounts, fyne.MeasureText(t.words, look.Size(t.size), t.style).Width)
	}
	beside := width >= look.Scaled(notesBeside)
	words := max(0, width-amounts-wide)
	if beside {
		words = width * wordsShare
	}
	var y float32
	for i := 0; i+2 < len(objects); i += 3 {
		if i > 0 {
			y += gap
		}
		name, amount, note := objects[i], objects[i+1].(*Text), objects[i+2]
		high, low := heightFor(name, words), amount.lineHeight()
		own := fyne.MeasureText(amount.words, look.Size(amount.size), amount.style).Width
		noteAt, noteWidth := fyne.NewPos(words+amounts+2*wide, y), max(0, width-words-amounts-2*wide)
		if !beside {
			noteAt, noteWidth = fyne.NewPos(0, y+high), words
		}
		deep := heightFor(note, noteWidth)
		if put != nil {
			put(name, fyne.NewPos(0, y), fyne.NewSize(words, high))
			put(amount, fyne.NewPos(words+wide+amounts-own, y), fyne.NewSize(own+1, low))
			put(note, noteAt, fyne.NewSize(noteWidth, deep))
		}
		if beside {
			y += max(high, low, deep)
		} else {
			y += max(high+deep, low)
		}
	}
	return y
}

func (s *sums) heightOf(objects []fyne.CanvasObject, width float32) float32 {
	s.width = width
	return s.place(objects, width, nil)
}

func (s *sums) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	s.width = size.Width
	s.place(objects, size.Width, func(o fyne.CanvasObject, at fyne.Position, size fyne.Size) {
		o.Move(at)
		o.Resize(size)
	})
}

func (s *sums) MinSize(objects []fyne.CanvasObject) fyne.Size {
	width := s.width
	if width <= 0 {
		width = look.Scaled(notesBeside)
	}
	return fyne.NewSize(look.Scaled(200), s.place(objects, width, nil))
}
