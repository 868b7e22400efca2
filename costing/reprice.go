package costing

import (
	"fmt"

	"skegworth/valuation/money"
)

// Reprice sets how many and the price of one, and works the total out of them, to the minor unit. A line
// keeps the side it is on: what was paid stays paid, what came back stays come back.
func (l *Line) Reprice(quantity float64, each money.Amount) error {
	if !(quantity > 0) {
		return fmt.Errorf("how many: %v is not more than nothing", quantity)
	}
	if (each < 0) != (l.Total < 0) && each != 0 && l.Total != 0 {
		return fmt.Errorf("each: a cost cannot become money back, nor money back a cost; add a line of its own")
	}
	l.Quantity, l.Each, l.Total = quantity, each, each.Times(quantity)
	return nil
}
