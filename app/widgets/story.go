package widgets

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// StoryKind tells what happened while a motor was being sold, as far as it is drawn.
type StoryKind int

// The kinds; the others are told and not drawn.
const (
	StoryOther StoryKind = iota
	StoryAsked           // a price asked from then on, 0 off sale
	StoryOffered
	StorySold
)

// StoryEvent is one thing that happened.
type StoryEvent struct {
	On     day.Day
	Kind   StoryKind
	Amount money.Amount
	Words  say.Sentence
}

// Story is a section that draws and lists how the selling of a motor went.
type Story struct {
	Fold  *Fold
	path  *picture.AskPath
	words *Text
	rows  *Sums
	order DateOrder
}

// NewStory is closed, with nothing in it yet.
func NewStory(title string, c money.Currency, order DateOrder) *Story {
	s := &Story{path: picture.NewAskPath(c), words: NewText(""), rows: NewSums(), order: order}
	s.Fold = NewFold(title, Column(look.Wide, s.words, Tall(240, s.path), s.rows))
	return s
}

// Set tells what happened, oldest first, in a sentence and line by line; what is planned from today on; and
// the least to take, 0 for none.
func (s *Story) Set(words string, events []StoryEvent, today day.Day, ahead []picture.AskedFrom, walk money.Amount) {
	var asked []picture.AskedFrom
	var offers []picture.OfferMade
	lines := make([]SumLine, len(events))
	for i, e := range events {
		lines[i] = SumLine{What: e.Words, Amount: FormatDay(e.On, s.order)}
		switch e.Kind {
		case StoryAsked:
			asked = append(asked, picture.AskedFrom{On: e.On, Ask: e.Amount})
		case StoryOffered, StorySold:
			if e.Kind == StorySold {
				today = e.On
			}
			if e.Amount > 0 {
				offers = append(offers, picture.OfferMade{On: e.On, Amount: e.Amount, Words: WholeSentence(Say(e.Words)), Taken: e.Kind == StorySold})
			}
		}
	}
	if words == "" {
		words = lang.X("story.none", "It was not offered yet.")
	}
	s.words.SetText(words)
	s.path.SetPath(asked, today, ahead, offers, walk)
	s.rows.SetLines(lines)
	s.Fold.SetSummary(lang.X("story.count", "{{.Count}} {{if eq .Count 1}}entry{{else}}entries{{end}}", map[string]any{"Count": len(lines)}))
}

// Lines are the lines on show.
func (s *Story) Lines() []SumLine { return s.rows.Lines() }

// Words are the sentence on show.
func (s *Story) Words() string { return s.words.Text() }
