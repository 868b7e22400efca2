package review

import (
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
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

	SaleTax       costing.SaleTax
	BeforeOwnTime money.Amount // Price - Cost - Fee, less tax inside the price
}

// pieceLine books a line that moves a piece, and tells whether it was one: what a part sold by itself took
// off its donor is cost of sales, and a thing fitted to a motor was in stock before.
func (y *yearbook) pieceLine(m *life, l *costing.Line, on day.Day, e Entry) bool {
	p := y.piece[l.ID]
	if p == nil || l.Kind != costing.PartDonor {
		return false
	}
	if p.DonorID == "" && m.AfterSold(on) {
		if y.Period.Has(on) {
			y.post(ShelfExpensed, l.Total, e)
			y.spend(m, l.Kind, l.Total, m.by == costing.BySale && y.Period.Has(m.left), e)
		}
		return true
	}
	y.carry(m, on, l.Total, nowhere, e)
	if p.DonorID != "" && y.Period.Has(on) {
		y.leave(p.Fate, -l.Total, e)
	}
	return true
}

// leave books what went out of stock with a piece.
func (y *yearbook) leave(fate costing.Fate, a money.Amount, e Entry) {
	switch fate {
	case costing.SoldAlone:
		y.post(CostOfSales, a, e)
	case costing.KeptPiece:
		y.post(StockDrawings, a, e)
	case costing.Scrapped:
		y.post(WrittenDown, a, e)
	}
}

// pieces books the sales of pieces, and the things by themselves that stand in stock.
func (y *yearbook) pieces() {
	name := make(map[string]string, len(y.in.Records))
	for i := range y.in.Records {
		name[y.in.Records[i].ID] = y.in.Records[i].Name()
	}
	lines := make(map[string]int)
	for i := range y.in.Pieces {
		p := &y.in.Pieces[i]
		gone := p.Fate != costing.StillThere
		e := Entry{What: OfPiece, OfID: p.ID, Of: p.Name, ID: p.ID, Text: p.Note}
		as := func(on day.Day, kind say.Sentence) Entry { e.On, e.Kind = on, kind; return e }
		if p.Fate == costing.SoldAlone && y.Period.Has(p.LeftOn) {
			x := PieceResult{ID: p.ID, Name: p.Name, From: name[p.DonorID], Channel: p.Channel, Sold: p.LeftOn,
				Price: p.Price, Cost: p.Cost, Fee: p.Fee, SaleTax: costing.TaxOfPiece(p, y.in.TaxRules)}
			x.BeforeOwnTime = p.Price - p.Cost - p.Fee - x.SaleTax.Inside
			y.PiecesSold = append(y.PiecesSold, x)
			y.post(Sales, p.Price, as(p.LeftOn, say.New("entry.sold", "sold")))
			y.post(Selling, p.Fee, as(p.LeftOn, say.New("entry.fee", "fee")))
		}
		if p.Fate == costing.SoldAlone && p.LeftOn <= y.Period.To {
			y.tax(costing.TaxOfPiece(p, y.in.TaxRules), p.LeftOn, as(p.LeftOn, say.New("entry.tax", "tax")))
		}
		if p.DonorID != "" {
			continue
		}
		came := max(p.CameOn, 1)
		left := max(p.LeftOn, came)
		bought := as(p.CameOn, say.New("entry.bought", "bought"))
		goneOn := day.Day(0)
		if gone {
			goneOn = left
		}
		y.tie(p.Cost, came, goneOn)
		if y.Period.Has(came) {
			y.post(Things, p.Cost, bought)
			if p.FromOwner {
				y.post(PutIn, p.Cost, bought)
			}
		}
		if came < y.Period.From && (!gone || left >= y.Period.From) {
			y.post(OpeningThings, p.Cost, bought)
		}
		if came <= y.Period.To && (!gone || left > y.Period.To) {
			y.post(ClosingThings, p.Cost, bought)
			y.thing(p, came, lines)
		}
		if gone && y.Period.Has(left) {
			y.leave(p.Fate, p.Cost, as(p.LeftOn, say.New("entry.left", "left stock")))
		}
	}
}

// thing lists a thing by itself, with what was written off it only after the period's end.
func (y *yearbook) thing(p *costing.Piece, came day.Day, lines map[string]int) {
	if i, there := lines[p.Root()]; there {
		y.ClosingStock[i].Cost += p.Cost
		return
	}
	lines[p.Root()] = len(y.ClosingStock)
	y.ClosingStock = append(y.ClosingStock, StockLine{ID: p.Root(), Name: p.Name, What: ThingStock, Quantity: 1, Cost: p.Cost,
		Since: came, Days: int(max(y.until-came, day.Day(0))), DaysKnown: p.CameOn != 0})
}

// receipts books what stands on receipts and goes to no motor and not to the shelf, and what is owed on
// them.
func (y *yearbook) receipts() {
	type paper struct {
		unpaid   bool
		supplier string
	}
	papers := make(map[string]paper, len(y.in.Receipts))
	for _, r := range y.in.Receipts {
		papers[r.ID] = paper{r.PaidOn == 0 || r.PaidOn > y.Period.To, r.Supplier}
	}
	for _, i := range y.in.Items {
		from := papers[i.ReceiptID]
		e := Entry{On: i.On, What: OfReceipt, OfID: i.ReceiptID, Of: from.supplier, ID: i.ID, Kind: say.New("entry.receipt", "on a receipt"), Text: i.Text}
		if from.unpaid && i.On <= y.Period.To {
			y.post(OwedByYou, i.Paid(), e)
		}
		if !y.Period.Has(i.On) {
			continue
		}
		y.post(TaxBack, i.TaxBack, e)
		switch i.Goes {
		case costing.ToKeep:
			y.post(KeptItems, i.Landed, e)
		case costing.ToExpense, costing.ToOverhead:
			y.post(Bills, i.Landed, e)
		}
	}
}
