package review

import (
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// PieceResult is a part off a donor, or a thing by itself, that was sold in the period.
type PieceResult struct {
	ID, Name string
	From     string // the donor it came off; "" for a thing by itself
	Channel  string
	Sold     day.Day
	Price    money.Amount
	Cost     money.Amount
	Fee      money.Amount

	BeforeOwnTime money.Amount // Price - Cost - Fee
}

// pieceLine books a line that moves a piece, and tells whether it was one: what a part sold by itself took
// off its donor is cost of sales, and a thing fitted to a motor was in stock before.
func (y *yearbook) pieceLine(m *life, l *costing.Line, on day.Day) bool {
	p := y.piece[l.ID]
	if p == nil || l.Kind != costing.PartDonor {
		return false
	}
	if p.DonorID == "" && m.AfterSold(on) {
		if y.Period.Has(on) {
			y.fitted += l.Total
			y.spend(m, l.Kind, l.Total, m.by == costing.BySale && y.Period.Has(m.left))
		}
		return true
	}
	var off money.Amount
	y.carry(m, on, l.Total, &off)
	if p.DonorID == "" {
		return true
	}
	y.leave(p.Fate, -off)
	return true
}

// leave books what went out of stock with a piece.
func (y *yearbook) leave(fate costing.Fate, a money.Amount) {
	switch fate {
	case costing.SoldAlone:
		y.Schedule.CostOfSales += a
	case costing.KeptPiece:
		y.Schedule.Drawings += a
	case costing.Scrapped:
		y.Schedule.WrittenDown += a
	}
}

// pieces books the sales of pieces, and the things by themselves that stand in stock.
func (y *yearbook) pieces() {
	name := make(map[string]string, len(y.in.Records))
	for i := range y.in.Records {
		name[y.in.Records[i].ID] = y.in.Records[i].Name()
	}
	s := &y.Schedule
	for i := range y.in.Pieces {
		p := &y.in.Pieces[i]
		gone := p.Fate != costing.StillThere
		if p.Fate == costing.SoldAlone && y.Period.Has(p.LeftOn) {
			x := PieceResult{ID: p.ID, Name: p.Name, From: name[p.DonorID], Channel: p.Channel, Sold: p.LeftOn,
				Price: p.Price, Cost: p.Cost, Fee: p.Fee, BeforeOwnTime: p.Price - p.Cost - p.Fee}
			y.PiecesSold = append(y.PiecesSold, x)
			y.Sales += p.Price
			y.Selling += p.Fee
		}
		if p.DonorID != "" {
			continue
		}
		came := max(p.CameOn, 1)
		left := max(p.LeftOn, came)
		if y.Period.Has(came) {
			s.Things += p.Cost
		}
		if came < y.Period.From && (!gone || left >= y.Period.From) {
			s.OpeningThings += p.Cost
		}
		if came <= y.Period.To && (!gone || left > y.Period.To) {
			s.ClosingThings += p.Cost
			y.ClosingStock = append(y.ClosingStock, StockLine{ID: p.ID, Name: p.Name, What: ThingStock, Quantity: 1, Cost: p.Cost,
				Since: came, Days: int(max(y.until-came, day.Day(0))), DaysKnown: p.CameOn != 0})
		}
		if gone && y.Period.Has(left) {
			y.leave(p.Fate, p.Cost)
		}
	}
}

// receipts books what stands on receipts and goes to no motor and not to the shelf, and what is owed on
// them.
func (y *yearbook) receipts() {
	unpaid := make(map[string]bool, len(y.in.Receipts))
	for _, r := range y.in.Receipts {
		unpaid[r.ID] = r.PaidOn == 0 || r.PaidOn > y.Period.To
	}
	for _, i := range y.in.Items {
		if unpaid[i.ReceiptID] && i.On <= y.Period.To {
			y.OwedByYou += i.Paid()
		}
		if !y.Period.Has(i.On) {
			continue
		}
		y.TaxBack += i.TaxBack
		switch i.Goes {
		case costing.ToKeep:
			y.keptItems += i.Landed
		case costing.ToExpense, costing.ToOverhead:
			y.Bills += i.Landed
		}
	}
}
