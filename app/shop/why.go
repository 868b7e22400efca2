package shop

import (
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// MoneyLine is one line of a list of amounts, in words.
type MoneyLine struct {
	What  say.Sentence
	Money money.Amount
	Text  string       // the money as it is shown, with its sign where it is a change
	Rests say.Sentence // what it rests on
}

// Line implements the window's line of a list of amounts.
func (l MoneyLine) Line() (what say.Sentence, amount string, rests say.Sentence) {
	return l.What, l.Text, l.Rests
}

// WhyAnswer leads from a plain motor to one motor's price, in whole units of the currency: the first line
// and all the pushes after it add up to the last.
type WhyAnswer struct {
	Lines []MoneyLine
	Note  say.Sentence // how the lines are to be read
	Wider say.Sentence // what is not known and widens the band; empty when all is
}

// Why tells what makes the middle of the band of a motor sold on a day.
func (s *Shop) Why(m valuation.Motor, on day.Day) (WhyAnswer, error) {
	market, err := s.Market()
	if err != nil {
		return WhyAnswer{}, err
	}
	why, err := market.Why(m, on)
	if err != nil {
		return WhyAnswer{}, err
	}
	whole := why.Whole()
	a := WhyAnswer{Lines: []MoneyLine{{What: say.New("why.start", "a plain running 50 hp, 15-year-old two-stroke, today"),
		Money: whole.Start, Text: s.currency.Whole(whole.Start), Rests: s.startRests(why)}}}
	for _, p := range whole.Pushes {
		if p.Money == 0 {
			continue // less than half a unit
		}
		a.Lines = append(a.Lines, MoneyLine{What: pushed(p), Money: p.Money, Text: s.signed(p.Money), Rests: rests(p.Prior, p.Sales)})
	}
	a.Lines = append(a.Lines, MoneyLine{What: say.New("why.price", "this motor, the middle of its band"),
		Money: whole.Price, Text: s.currency.Whole(whole.Price)})
	a.Note = say.New("why.note", "Each line is its share of the way from the plain motor to this one. The shares add up, and do not depend on the order in which they are told; what a change to this motor would add is another figure.")
	if len(why.Open) > 0 {
		a.Wider = say.New("why.wider", "Not known for certain, which makes the band wider, the most first: {{.Facts}}.", "Facts", facts(why.Open))
	}
	return a, nil
}

// WhyResale is Why for a prospect as it is meant to be sold.
func (s *Shop) WhyResale(v Verdict) (WhyAnswer, error) {
	return s.Why(v.Sold, v.SoldOn)
}

// pushed names a line.
func pushed(p valuation.Push) say.Sentence {
	switch p.Field {
	case valuation.UsualField:
		return say.New("why.usual", "what is usual for such a motor, where nothing was said")
	case "sold":
		return say.New("why.sold", "day of the sale: {{.Day}}", "Day", p.Subject)
	case "year":
		return say.New("why.year", "age, and what it does at this power: {{.Year}}", "Year", p.Subject)
	}
	return say.New("why.line", "{{.Fact}}: {{.Value}}", "Fact", valuation.FieldLabel(p.Field), "Value", p.Subject)
}

// startRests says what the level of the plain motor rests on.
func (s *Shop) startRests(w valuation.Why) say.Sentence {
	answered := s.Settings().Anchor > 0
	switch {
	case !w.StartPrior:
		return say.New("why.start.own", "learned from your own sales, {{.Sales}} in all", "Sales", w.Sales)
	case answered && w.Sales == 0:
		return say.New("why.start.answer", "your answer to the anchor question")
	case answered:
		return say.New("why.start.both", "mostly your answer to the anchor question, moved by your sales")
	}
	return say.New("why.start.guess", "mostly a stand-in: the anchor question is not answered")
}

// rests says what an effect rests on.
func rests(prior bool, sales int) say.Sentence {
	switch {
	case sales == 0:
		return say.New("why.untold", "the trade prior alone, not your sales")
	case prior:
		return say.New("why.prior", "mostly the trade prior so far")
	}
	return say.New("why.own", "{{.Sales}} of your sales {{if eq .Sales 1}}shows{{else}}show{{end}} it", "Sales", sales)
}

// mostFacts is how many facts a sentence names.
const mostFacts = 6

// facts lists facts by the words of a form, the first few of them.
func facts(fields []string) say.Sentence {
	list := valuation.FieldLabel(fields[0])
	for _, f := range fields[1:min(len(fields), mostFacts)] {
		list = say.New("list.next", "{{.List}}, {{.Next}}", "List", list, "Next", valuation.FieldLabel(f))
	}
	if more := len(fields) - mostFacts; more > 0 {
		list = say.New("list.more", "{{.List}} and {{.More}} more", "List", list, "More", more)
	}
	return list
}
