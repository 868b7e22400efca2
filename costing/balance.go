package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Books are all of a shop's records that money stands in.
type Books struct {
	Records  []Record
	Goods    []Good
	Moves    []Move
	Receipts []Receipt
	Items    []Item
	Pieces   []Piece

	TaxRules    []TaxRule
	Settlements []Settlement
}

// Balance shows that no cent of cost is lost or counted twice: what went in is somewhere, once. To the
// minor unit,
//
//	Payments + StillOwed + NonCash + InKind + PutIn = Stock + CostOfSales + WrittenDown + Expenses + Drawings + TaxBack + OwedToYou + Refunds
//
// The left side is read off what was paid: receipts, and lines and purchases that stand on none. The right
// is read off what became of it: cost sheets, shelf, pieces. What buyers gave is told in the same two ways,
// what came from them on the left and what it was for on the right:
//
//	Taken + TradedIn - PassedOn = Sales + Commissions + Freight + OtherIncome + DepositsOwed + TaxOwed + DueToOwners
//
// and a motor taken in against a price stands on both sides of the shop at one value: InKind = TradedIn.
// Past sales known by their price alone are in none of it.
type Balance struct {
	Payments  money.Amount // money that went out, less what suppliers gave back
	StillOwed money.Amount // on receipts that are not paid
	NonCash   money.Amount // distance driven and overhead at a rate: they stand for bills that are in no figure
	InKind    money.Amount // motors taken in, at their fair value: paid with what was sold
	PutIn     money.Amount // by the owner of the shop, at what it was worth

	Motors      money.Amount // in stock, donors too
	Shelf       money.Amount
	Things      money.Amount // pieces by themselves
	CostOfSales money.Amount
	WrittenDown money.Amount // and written off
	Expenses    money.Amount // selling, after the sale, motors never bought, shelf goods used or missed, tools, bills
	Drawings    money.Amount
	TaxBack     money.Amount // recovered, or to be
	OwedToYou   money.Amount // core charges that are out
	Refunds     money.Amount // given back to buyers: they lower sales

	Taken    money.Amount // money that buyers paid, deposits too, less deposits given back
	TradedIn money.Amount // what they gave beside money, at its fair value
	PassedOn money.Amount // to the tax office, and to owners of motors sold for them

	Sales        money.Amount // prices of motors and pieces, less tax inside them
	Commissions  money.Amount // on motors of others, less tax inside them
	Freight      money.Amount // charged beside the prices
	OtherIncome  money.Amount // deposits kept of buyers who did not come
	DepositsOwed money.Amount // of open holds
	TaxOwed      money.Amount // on sales, and not paid over; what is recovered of receipts is TaxBack
	DueToOwners  money.Amount // of motors sold for them, and not passed on
}

// Stock is what stands in the shop at its carrying amount.
func (b Balance) Stock() money.Amount { return b.Motors + b.Shelf + b.Things }

// In is all that went in.
func (b Balance) In() money.Amount { return b.Payments + b.StillOwed + b.NonCash + b.InKind + b.PutIn }

// Out is all that became of it.
func (b Balance) Out() money.Amount {
	return b.Stock() + b.CostOfSales + b.WrittenDown + b.Expenses + b.Drawings + b.TaxBack + b.OwedToYou + b.Refunds
}

// Off is what is missing (+) or there twice (-); 0 where the books are whole.
func (b Balance) Off() money.Amount { return b.In() - b.Out() }

// TakingsOff is what buyers gave (+) for nothing that is written down, or did not give (-) for something
// that is; 0 where the books are whole.
func (b Balance) TakingsOff() money.Amount {
	return b.Taken + b.TradedIn - b.PassedOn - b.Sales - b.Commissions - b.Freight - b.OtherIncome - b.DepositsOwed - b.TaxOwed - b.DueToOwners
}

// InKindOff is what motors taken in cost beyond (+) or below (-) what they were taken for in the sales; 0
// where the books are whole.
func (b Balance) InKindOff() money.Amount { return b.InKind - b.TradedIn }

// Balance draws the books up to the end of a day; day 0 takes everything.
func (b Books) Balance(until day.Day) Balance {
	x := balancing{until: until, item: make(map[string]bool, len(b.Items)), move: map[string]bool{}, rules: b.TaxRules, recovered: RecoveredOn(b.Items)}
	for i := range b.Items {
		if b.Items[i].Goes.Mirrored() {
			x.item[b.Items[i].ID] = true
		}
	}
	for i := range b.Moves {
		if k := b.Moves[i].Kind; k == Drawn || k == PutBack {
			x.move[b.Moves[i].ID] = true
		}
	}
	x.receipts(b.Receipts, b.Items)
	for i := range b.Records {
		x.motor(&b.Records[i])
	}
	x.shelf(b.Goods, b.Moves)
	for i := range b.Pieces {
		x.piece(&b.Pieces[i])
	}
	x.settle(b.Settlements)
	return x.Balance
}

// balancing is a balance being drawn up.
type balancing struct {
	Balance
	until     day.Day
	rules     []TaxRule
	recovered Recovered
	item      map[string]bool // ids under which something stands on a receipt
	move      map[string]bool // ids of draws and of what was put back
	charged   money.Amount    // lines that were drawn from the shelf
}

func (x *balancing) later(on day.Day) bool { return x.until != 0 && on > x.until }

func (x *balancing) receipts(receipts []Receipt, items []Item) {
	paid := make(map[string]bool, len(receipts))
	for _, r := range receipts {
		paid[r.ID] = r.PaidOn != 0 && !x.later(r.PaidOn)
	}
	for _, i := range items {
		if x.later(i.On) {
			continue
		}
		if paid[i.ReceiptID] {
			x.Payments += i.Paid()
		} else {
			x.StillOwed += i.Paid()
		}
		x.TaxBack += i.TaxBack
		switch i.Goes {
		case ToKeep:
			x.Drawings += i.Landed
		case ToExpense, ToOverhead:
			x.Expenses += i.Landed
		}
	}
}

func (x *balancing) motor(r *Record) {
	if r.Stage == History {
		return
	}
	x.takings(r)
	for i := range r.Lines {
		if !x.later(r.Lines[i].On) {
			x.line(&r.Lines[i])
		}
	}
	for _, s := range r.Sessions {
		if s.Paid && !x.later(s.On) {
			x.Payments += s.Worth(0)
		}
	}
	sheet := r.Sheet(x.until, 0)
	x.OwedToYou += sheet.Owed
	if r.Consigned() {
		x.Expenses += sheet.Total - sheet.Refunds
		x.Refunds += sheet.Refunds
		return
	}
	if !r.EverBought() {
		x.Expenses += sheet.Total
		return
	}
	x.Expenses += sheet.Selling + sheet.AfterSale
	x.WrittenDown += sheet.WrittenDown
	x.Refunds += sheet.Refunds
	left, by, _ := r.Left()
	if by != StillHere && x.later(left) {
		by = StillHere
	}
	switch by {
	case BySale:
		x.CostOfSales += sheet.Carried
	case ByKeeping:
		x.Drawings += sheet.Carried
	case ByLoss:
		x.WrittenDown += sheet.Carried
	default:
		x.Motors += sheet.Carried
	}
}

// takings reads off a motor's holds and sale what its buyers gave and what for.
func (x *balancing) takings(r *Record) {
	for _, h := range r.Holds {
		if x.later(h.On) {
			continue
		}
		x.Taken += h.Deposit - h.GivenBack(x.until)
		x.DepositsOwed += h.Owed(x.until)
		x.OtherIncome += h.Income(x.until)
	}
	if r.Sale == nil || x.later(r.Sale.Sold) {
		return
	}
	tax := TaxOf(r, x.rules, x.recovered)
	x.Taken += r.Sale.Due() + tax.Added
	x.TaxOwed += tax.Tax()
	x.TradedIn += r.Sale.Exchange.Value
	if r.Consigned() {
		x.Commissions += r.Revenue() - tax.Inside
		x.DueToOwners += r.DueToOwner()
	} else {
		x.Sales += r.Sale.Price - tax.Inside
	}
	x.Freight += r.Sale.Freight
}

// settle reads off what was passed on.
func (x *balancing) settle(all []Settlement) {
	for _, s := range all {
		if x.later(s.On) {
			continue
		}
		x.PassedOn += s.Amount
		switch s.Kind {
		case TaxPaid:
			x.TaxOwed -= s.Amount
		case OwnerPaid:
			x.DueToOwners -= s.Amount
		}
	}
}

// line reads off a line what was paid for it, if anything was paid for it alone.
func (x *balancing) line(l *Line) {
	switch {
	case x.item[l.ID] && l.ID != "": // paid on its receipt
	case l.Kind == PartDonor, l.Kind == WriteDown: // moves cost, or lowers it
	case l.Kind == Shelf && x.move[l.ID] && l.ID != "":
		x.charged += l.Total
	case l.Origin == FromPool:
		x.Expenses -= l.Total // the bill was an expense; this much of it went into a motor
	case l.FromOwner:
		x.PutIn += l.Total
	case l.InKind:
		x.InKind += l.Total
	case l.Kind == Trip, l.Origin == ByRate:
		x.NonCash += l.Total
	default:
		x.Payments += l.Total
	}
}

func (x *balancing) shelf(goods []Good, moves []Move) {
	of := make(map[string][]Move)
	for _, g := range goods {
		of[g.ID] = nil
	}
	for _, m := range moves {
		of[m.GoodID] = append(of[m.GoodID], m)
		if x.later(m.On) || x.item[m.ID] && m.ID != "" {
			continue
		}
		switch m.Kind {
		case Bought:
			if m.FromOwner {
				x.PutIn += m.Cost
				continue
			}
			x.Payments += m.Cost
		case SentBack:
			x.Payments -= m.Cost
		}
	}
	var drawn money.Amount
	for id, all := range of {
		s := StockOf(Good{ID: id}, all, x.until)
		x.Shelf += s.Value
		x.Expenses -= s.Differences
		x.Drawings += s.TakenFor
		x.WrittenDown += s.MarkedDown
		drawn += s.DrawnFor
	}
	x.Expenses += drawn - x.charged
}

func (x *balancing) piece(p *Piece) {
	gone := p.Fate != StillThere && !x.later(p.LeftOn)
	if gone {
		x.Payments += p.Fee
		x.Expenses += p.Fee
	}
	if gone && p.Fate == SoldAlone {
		tax := TaxOfPiece(p, x.rules)
		x.Taken += p.Price + tax.Added
		x.Sales += p.Price - tax.Inside
		x.TaxOwed += tax.Tax()
	}
	if p.DonorID == "" {
		if x.later(p.CameOn) {
			return
		}
		switch {
		case p.FromOwner:
			x.PutIn += p.Cost
		case !x.item[p.Root()]:
			x.Payments += p.Cost
		}
		if !gone {
			x.Things += p.Cost
			return
		}
	}
	if !gone {
		return // what it will take along stands on the donor
	}
	switch p.Fate {
	case SoldAlone:
		x.CostOfSales += p.Cost
	case KeptPiece:
		x.Drawings += p.Cost
	case Scrapped:
		x.WrittenDown += p.Cost
	}
}
