package shop

import "skegworth/costing/review"

// CashPage is what was received and paid in the year, on the days on which money moved, for those who file
// so.
func (s *Shop) CashPage(y Year) review.CashPage {
	return review.Cash(y.Review.Period, s.yearInput(y.Review.Period))
}
