package shop

import (
	"skegworth/costing/review"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// CashPage is what was received and paid in the year, on the days on which money moved, for those who file
// so.
func (s *Shop) CashPage(y Year) review.CashPage {
	return review.Cash(y.Review.Period, s.yearInput(y.Review.Period))
}

// CashLines are the receipts and payments as a statement; each line opens.
func (s *Shop) CashLines(y Year) []YearLine {
	page := s.CashPage(y)
	t := &statement{currency: s.currency, review: &y.Review}
	all := func(lines []review.CashLine, sign money.Amount) (every []review.Entry) {
		for _, l := range lines {
			made := l.Entries()
			for i := range made {
				made[i].Amount *= sign
			}
			t.made(l.Name, sign*l.Amount, made)
			every = append(every, made...)
		}
		return every
	}
	sum := func(name say.Sentence, a money.Amount, made []review.Entry) {
		t.lines = append(t.lines, YearLine{Name: name, Figure: s.currency.Format(a), Sum: true, Made: made})
	}
	in := all(page.In, 1)
	sum(say.New("cash.in", "Received"), page.TotalIn, in)
	out := all(page.Out, -1)
	sum(say.New("cash.out", "Paid"), -page.TotalOut, out)
	sum(say.New("cash.net", "More received than paid"), page.Net, append(in, out...))
	t.made(say.New("cash.beside", "Beside this: private, from the shop's receipts"), page.Private.Amount, page.Private.Entries())
	return t.lines
}
