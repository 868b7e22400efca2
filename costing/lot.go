package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Lot is what is left on the shelf of one purchase, or of what a count found or a motor gave back.
type Lot struct {
	MoveID   string
	On       day.Day
	Supplier string
	Bought   float64      // so much of it came
	Paid     money.Amount // for that
	Left     float64
	Value    money.Amount // what is left carries; of all lots together the value of the stock
}

// lots are the purchases that something is left of, the oldest first.
//
// Their quantities go by first-in first-out however draws are charged: a bench hand takes the open can.
// Their values add up to the value of the stock, which is settled by [Stock.settle]. Under first-in
// first-out nothing is left to settle, for a draw is charged what its lots carried.
type lots []Lot

// lift takes a quantity out, from the lot of that move first and then from the oldest on, and tells what
// it carried. Where less is there than is taken, the lots are empty afterwards.
func (all *lots) lift(quantity float64, first string) (carried money.Amount) {
	if first != "" {
		for i := range *all {
			if (*all)[i].MoveID == first {
				carried += (*all)[i].take(&quantity)
				break
			}
		}
	}
	for i := 0; i < len(*all) && quantity > 0; i++ {
		carried += (*all)[i].take(&quantity)
	}
	kept := (*all)[:0]
	for _, l := range *all {
		if l.Left > 0 {
			kept = append(kept, l)
		}
	}
	*all = kept
	return carried
}

// take takes as much of the quantity as the lot has, and tells what that carried. The last of a lot takes
// all that is left of its value.
func (l *Lot) take(quantity *float64) money.Amount {
	part := l.worth(*quantity)
	if settled(*quantity-l.Left) >= 0 {
		*quantity = settled(*quantity - l.Left)
		l.Left, l.Value = 0, 0
		return part
	}
	l.Left -= *quantity
	l.Value -= part
	*quantity = 0
	return part
}

// worth is what so much of the lot carries.
func (l *Lot) worth(quantity float64) money.Amount {
	if settled(quantity-l.Left) >= 0 {
		return l.Value
	}
	return l.Value.Times(quantity / l.Left)
}

// oldest is what taking a quantity from the oldest lots on would carry.
func (all lots) oldest(quantity float64) (carried money.Amount) {
	for i := 0; i < len(all) && quantity > 0; i++ {
		carried += all[i].worth(quantity)
		quantity = settled(quantity - min(quantity, all[i].Left))
	}
	return carried
}

// settle makes the lots add up to the value of the stock. They do not where a draw was charged otherwise
// than by first-in first-out, or a receipt was found after what it brought was used; the difference is
// then spread over what is left, by what it carries. So a shop that changes from one way of charging to
// the other starts from the value its books show.
func (s *Stock) settle() {
	if s.Quantity <= 0 {
		s.Lots = nil
		return
	}
	var sum money.Amount
	for _, l := range s.Lots {
		sum += l.Value
	}
	if sum == s.Value || len(s.Lots) == 0 {
		return
	}
	by := make([]float64, len(s.Lots))
	for i, l := range s.Lots {
		by[i] = max(0, float64(l.Value))
		if sum <= 0 {
			by[i] = l.Left
		}
	}
	parts, err := money.Share(s.Value, by)
	if err != nil {
		return // no weight is below nothing or endless
	}
	for i := range s.Lots {
		s.Lots[i].Value = parts[i]
	}
}

// Each is what one unit of the lot cost when it came.
func (l Lot) Each() UnitCost {
	if !(l.Bought > 0) {
		return 0
	}
	return UnitCost(float64(l.Paid) / l.Bought)
}
