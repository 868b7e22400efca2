package review

import (
	"strconv"

	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Age is the closing stock that has been held for as long.
type Age struct {
	Name  say.Sentence
	From  int // days
	To    int // days, 0 for no end
	Lines int
	Cost  money.Amount
	Lower money.Amount // at the lower of cost and net realisable value
}

// ages sorts the closing stock by the days it has been held: up to 90, 180 and 365 days, longer, and what
// nobody knows the age of. They add up to the closing stock.
func (y *yearbook) ages() {
	ends := []int{90, 180, 365}
	all := make([]Age, len(ends)+2)
	for i, end := range ends {
		from := 0
		if i > 0 {
			from = ends[i-1] + 1
		}
		all[i] = Age{Name: say.New("age.days", "{{.From}} to {{.To}} days", "From", strconv.Itoa(from), "To", strconv.Itoa(end)), From: from, To: end}
	}
	all[len(ends)] = Age{Name: say.New("age.year", "over a year"), From: ends[len(ends)-1] + 1}
	all[len(ends)+1] = Age{Name: say.New("age.unknown", "day bought not known")}
	for _, l := range y.ClosingStock {
		i := len(ends) + 1
		if l.DaysKnown {
			for i = 0; i < len(ends) && l.Days > ends[i]; i++ {
			}
		}
		all[i].Lines++
		all[i].Cost += l.Cost
		all[i].Lower += l.Lower()
	}
	if all[len(ends)+1].Lines == 0 {
		all = all[:len(ends)+1]
	}
	y.Ages = all
}
