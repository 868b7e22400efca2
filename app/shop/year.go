package shop

import (
	"fmt"
	"io"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/data/workbook"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// Year is what a year earned.
type Year struct {
	Number int
	Review review.Review
	Answer say.Sentence
	Closed *ClosedYear // nil while the year is open
}

// Review works the figures of one year of the shop's own, which starts in the month its settings say.
func (s *Shop) Review(year int) (Year, error) {
	if year < 1900 || year > 9998 {
		return Year{}, fmt.Errorf("year: %d is not a year of the figures", year)
	}
	p := review.FiscalYear(year, s.Settings().FiscalMonth)
	r := review.Year(p, s.yearInput(p))
	closed, err := s.closedYear(year, r)
	return Year{Number: year, Review: r, Answer: s.yearSentence(year, r), Closed: closed}, err
}

// yearInput is everything that the figures of a period are drawn up from.
func (s *Shop) yearInput(p review.Period) review.Input {
	return review.Input{
		Records: s.contents.Records, Goods: s.contents.Goods, Moves: s.contents.Moves,
		Receipts: s.contents.Receipts, Items: s.contents.Items, Pieces: s.contents.Pieces,
		TaxRules: s.contents.TaxRules, Settlements: s.contents.Settlements, Closings: s.contents.Closings,
		Settings: s.Settings(), Today: s.Today(), Outlook: s.outlook(p.To), Comeback: s.comeback(),
	}
}

func (s *Shop) yearSentence(year int, r review.Review) say.Sentence {
	if len(r.Sold) == 0 {
		return say.New("year.none", "{{.Year}}: nothing sold yet; {{.Stock}} of stock at cost.",
			"Year", s.YearName(year), "Stock", s.currency.Whole(r.Schedule.Closing))
	}
	perHour, ok := r.PerOwnHour()
	if !ok {
		return say.New("year.nohours", "{{.Year}}: {{.Sold}} sold, {{.In}} in, {{.Before}} before your own time; no hours of yours are written down.",
			"Year", s.YearName(year), "Sold", len(r.Sold), "In", s.currency.Whole(r.Sales), "Before", s.currency.Whole(r.BeforeOwnTime))
	}
	return say.New("year.answer", "{{.Year}}: {{.Sold}} sold, {{.In}} in, {{.Before}} before your own time, {{.PerHour}} per hour of yours.",
		"Year", s.YearName(year), "Sold", len(r.Sold), "In", s.currency.Whole(r.Sales), "Before", s.currency.Whole(r.BeforeOwnTime),
		"PerHour", s.currency.Format(perHour))
}

// ThisYear is the year of the shop's figures that today falls in.
func (s *Shop) ThisYear() int { return s.yearOf(s.Today()) }

// yearOf is the year of the shop's figures that a day falls in, 0 for no day.
func (s *Shop) yearOf(d day.Day) int {
	if d == 0 {
		return 0
	}
	return review.FiscalYearOf(d, s.Settings().FiscalMonth)
}

// Years are the years of the shop's figures that hold anything, latest first; never empty.
func (s *Shop) Years() []int {
	last := s.ThisYear()
	earliest := last
	see := func(d day.Day) {
		if y := s.yearOf(d); y > 0 {
			earliest, last = min(earliest, y), max(last, y)
		}
	}
	for _, r := range s.contents.Records {
		if r.Stage == costing.History {
			continue
		}
		see(r.BoughtOn)
		if r.Sale != nil {
			see(r.Sale.Sold)
		}
	}
	for _, m := range s.contents.Moves {
		see(m.On)
	}
	var out []int
	for y := last; y >= earliest; y-- {
		out = append(out, y)
	}
	return out
}

// Workbook writes the year's workbook.
func (s *Shop) Workbook(year int, w io.Writer) error {
	book, err := s.workbookOf(year)
	if err != nil {
		return err
	}
	return workbook.Write(w, book)
}

// workbookOf is what the year's workbook is made of.
func (s *Shop) workbookOf(year int) (workbook.Book, error) {
	y, err := s.Review(year)
	if err != nil {
		return workbook.Book{}, err
	}
	market, err := s.Market()
	if err != nil {
		return workbook.Book{}, err
	}
	return workbook.Book{
		Year: year, Review: y.Review, Cash: s.CashPage(y), Answer: y.Answer, Records: s.contents.Records,
		Goods: s.contents.Goods, Moves: s.contents.Moves, Receipts: s.contents.Receipts, Items: s.contents.Items, Pieces: s.contents.Pieces, Market: market,
		Currency: s.currency, Settings: s.Settings(), Today: s.Today(),
	}, nil
}

// WriteWorkbook writes the year's workbook to a file, whole or not at all. Only an older workbook is
// replaced: a name given by mistake must not cost anybody the shop file.
func (s *Shop) WriteWorkbook(year int, path string) error {
	return workbookFile.write(path, func(w io.Writer) error { return s.Workbook(year, w) })
}
