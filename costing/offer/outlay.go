package offer

import (
	"math"

	"skegworth/valuation/money"
)

// outlay is what paying a price comes to: the price, what the buyer's fee and the tax take of it, and what
// the cash in all of that costs until the motor is sold. Each is rounded by itself, as it is shown.
type outlay struct {
	fee, tax float64 // shares of the price
	hold     float64 // what cash costs for as long as it is tied up, as a share of it
}

// parts of the outlay at a price.
func (o outlay) parts(price money.Amount) (fee, tax, hold money.Amount) {
	fee, tax = price.Times(o.fee), price.Times(o.tax)
	return fee, tax, (price + fee + tax).Times(o.hold)
}

// of a price.
func (o outlay) of(price money.Amount) money.Amount {
	fee, tax, hold := o.parts(price)
	return price + fee + tax + hold
}

// most is the highest price whose outlay is no more than what may go out. Outlay rises with the price by at
// least as much, so the division is off by its rounding alone, which is then put right: no search.
func (o outlay) most(out money.Amount) money.Amount {
	if o == (outlay{}) {
		return out
	}
	if out > 8*maxAmount || out < -8*maxAmount {
		out = max(min(out, 8*maxAmount), -8*maxAmount)
	}
	price := money.Amount(math.Floor(float64(out) / ((1 + o.fee + o.tax) * (1 + o.hold))))
	for o.of(price) > out {
		price--
	}
	for o.of(price+1) <= out {
		price++
	}
	return price
}
