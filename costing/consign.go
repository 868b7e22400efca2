package costing

import "skegworth/valuation/money"

// Consignment is a motor of somebody else's that the shop sells for a commission. It is no stock of the
// shop's, and of what the buyer pays only the commission is revenue (IFRS 15 paras B34-B38: an agent): the
// rest is owed to the owner until it is passed on.
type Consignment struct {
	Owner   string // "" where the motor is the shop's own
	Contact string
	Rate    float64      // commission as a share of the price
	Amount  money.Amount // or as an amount, which counts where it is more than nothing
}

// Consigned tells whether the motor is somebody else's.
func (r Record) Consigned() bool { return r.Consignment.Owner != "" }

// Commission is what the shop keeps of a price.
func (c Consignment) Commission(price money.Amount) money.Amount {
	if c.Amount > 0 {
		return min(c.Amount, price)
	}
	return price.Times(c.Rate)
}

// Revenue is what of the price of a motor sold is the shop's: all of it, or the commission.
func (r Record) Revenue() money.Amount {
	switch {
	case r.Sale == nil:
		return 0
	case r.Consigned():
		return r.Consignment.Commission(r.Sale.Price)
	}
	return r.Sale.Price
}

// DueToOwner is what of the price is the owner's.
func (r Record) DueToOwner() money.Amount {
	if r.Sale == nil || !r.Consigned() {
		return 0
	}
	return r.Sale.Price - r.Revenue()
}
