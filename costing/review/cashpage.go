package review

import (
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// CashKind is what money came in or went out for.
type CashKind string

const (
	CashSales    CashKind = "sales"    // of motors, with freight charged, less deposits taken before
	CashDeposits CashKind = "deposits" // taken, less those given back
	CashPieces   CashKind = "pieces"   // parts and things sold by themselves
	CashTax      CashKind = "tax"      // added to prices
	CashBack     CashKind = "back"     // from suppliers, for what was sent back

	CashMotors      CashKind = "motors" // price, tax, freight
	CashThings      CashKind = "things"
	CashParts       CashKind = "parts"
	CashConsumables CashKind = "consumables"
	CashOutside     CashKind = "outside"
	CashLabour      CashKind = "labour"
	CashBills       CashKind = "bills" // tools and the workshop's own
	CashSelling     CashKind = "selling"
	CashAfterSale   CashKind = "after-sale"
	CashRefunds     CashKind = "refunds"  // to buyers
	CashTaxPaid     CashKind = "tax-paid" // over to the tax office
	CashOwners      CashKind = "owners"   // of motors sold for them

	CashPrivate CashKind = "private" // for private use: apart
)

var cashNames = map[CashKind]say.Sentence{
	CashSales:       say.New("cash.sales", "Motors sold"),
	CashDeposits:    say.New("cash.deposits", "Deposits, less those given back"),
	CashPieces:      say.New("cash.pieces", "Parts and things sold by themselves"),
	CashTax:         say.New("cash.tax", "Tax added to prices"),
	CashBack:        say.New("cash.back", "Back from suppliers"),
	CashMotors:      say.New("cash.motors", "Motors bought"),
	CashThings:      say.New("cash.things", "Boats, trailers and the like bought"),
	CashParts:       say.New("cash.parts", "Parts and core charges"),
	CashConsumables: say.New("cash.consumables", "Shelf goods and consumables"),
	CashOutside:     say.New("cash.outside", "Outside work"),
	CashLabour:      say.New("cash.labour", "Paid labour"),
	CashBills:       say.New("cash.bills", "Tools and workshop bills"),
	CashSelling:     say.New("cash.selling", "Selling"),
	CashAfterSale:   say.New("cash.after-sale", "After the sale"),
	CashRefunds:     say.New("cash.refunds", "Refunds to buyers"),
	CashTaxPaid:     say.New("cash.tax-paid", "Tax paid over"),
	CashOwners:      say.New("cash.owners", "Passed on to owners of motors sold for them"),
	CashPrivate:     say.New("cash.private", "Private, from the shop's receipts"),
}

var (
	cashIn  = []CashKind{CashSales, CashDeposits, CashPieces, CashTax, CashBack}
	cashOut = []CashKind{CashMotors, CashThings, CashParts, CashConsumables, CashOutside, CashLabour, CashBills, CashSelling, CashAfterSale, CashRefunds, CashTaxPaid, CashOwners}
)

// CashLine is one kind of money in or out with the entries that make it.
type CashLine struct {
	Kind   CashKind
	Name   say.Sentence
	Amount money.Amount

	postings []posting
}

// Count of the entries.
func (l *CashLine) Count() int { return len(l.postings) }

// Entry with the given number, from 0, as they were booked.
func (l *CashLine) Entry(i int) Entry { return l.postings[i].entry("") }

// Entries are all of them; their amounts add up to the line's.
func (l CashLine) Entries() []Entry {
	out := make([]Entry, l.Count())
	for i := range out {
		out[i] = l.Entry(i)
	}
	return out
}

// CashPage is what was received and paid in a period, on the days on which money moved: a receipt on the day
// it was paid, a sale on the day its money had cleared, or was made where nobody said. Distance driven and
// overhead at a rate stand for bills and are no payment of their own; motors taken in and what the owner put
// in are no money.
type CashPage struct {
	Period   Period
	In, Out  []CashLine
	TotalIn  money.Amount
	TotalOut money.Amount
	Net      money.Amount // TotalIn - TotalOut
	Private  CashLine     // in neither
}

// Cash draws up the receipts and payments of a period.
func Cash(p Period, in Input) CashPage {
	c := cashbook{period: p, line: map[CashKind]*CashLine{}, keep: newKeeper()}
	for kind, name := range cashNames {
		c.line[kind] = &CashLine{Kind: kind, Name: name}
	}
	c.book(in)
	page := CashPage{Period: p, Private: *c.line[CashPrivate]}
	for _, k := range cashIn {
		if l := c.line[k]; l.Count() > 0 {
			page.In = append(page.In, *l)
			page.TotalIn += l.Amount
		}
	}
	for _, k := range cashOut {
		if l := c.line[k]; l.Count() > 0 {
			page.Out = append(page.Out, *l)
			page.TotalOut += l.Amount
		}
	}
	page.Net = page.TotalIn - page.TotalOut
	return page
}

type cashbook struct {
	period Period
	line   map[CashKind]*CashLine
	keep   *keeper
}

func (c *cashbook) in(k CashKind, on day.Day, a money.Amount, e Entry) {
	if a == 0 || !c.period.Has(on) {
		return
	}
	e.On, e.Amount = on, a
	c.line[k].Amount += a
	c.line[k].postings = append(c.line[k].postings, c.keep.posting(e))
}

// out is money paid; below nothing it came back from a supplier.
func (c *cashbook) out(k CashKind, on day.Day, a money.Amount, e Entry) {
	if a < 0 && k != CashPrivate && k != CashRefunds && k != CashTaxPaid && k != CashOwners {
		c.in(CashBack, on, -a, e)
		return
	}
	c.in(k, on, a, e)
}

func cashKind(k costing.Kind) CashKind {
	switch k.Group() {
	case costing.Buying:
		return CashMotors
	case costing.Parts, costing.Owed:
		return CashParts
	case costing.Consumables:
		return CashConsumables
	case costing.OutsideWork:
		return CashOutside
	case costing.Workshop:
		return CashBills
	case costing.Selling:
		return CashSelling
	}
	if k == costing.Refund {
		return CashRefunds
	}
	return CashAfterSale
}

func (c *cashbook) book(in Input) {
	item := make(map[string]bool, len(in.Items))
	kind := make(map[string]costing.Kind, len(in.Items))
	for _, i := range in.Items {
		if i.Goes.Mirrored() {
			item[i.ID] = true
		}
	}
	drawn := drawnMoves(in.Moves)
	recovered := costing.RecoveredOn(in.Items)
	for i := range in.Records {
		r := &in.Records[i]
		if r.Stage == costing.History {
			continue
		}
		m := &life{Record: r, name: r.Name()}
		for j := range r.Lines {
			l := &r.Lines[j]
			_, fromShelf := drawn[l.ID]
			switch {
			case item[l.ID] && l.ID != "":
				kind[l.ID] = l.Kind
			case l.Kind == costing.PartDonor, l.Kind == costing.WriteDown, l.Kind == costing.Trip, l.Origin != costing.Paid, l.InKind, l.FromOwner:
			case l.Kind == costing.Shelf && fromShelf && l.ID != "":
			default:
				c.out(cashKind(l.Kind), l.On, l.Total, m.entry(l))
			}
		}
		for j := range r.Sessions {
			if w := &r.Sessions[j]; w.Paid {
				c.out(CashLabour, w.On, w.Worth(0), m.worked(w))
			}
		}
		c.takings(m, costing.TaxOf(r, in.TaxRules, recovered))
	}
	c.receipts(in, kind)
	for _, m := range in.Moves {
		if item[m.ID] && m.ID != "" || m.FromOwner {
			continue
		}
		e := Entry{What: OfGood, OfID: m.GoodID, ID: m.ID, Kind: m.Kind.Name(), Text: m.Note}
		switch m.Kind {
		case costing.Bought:
			c.out(CashConsumables, m.On, m.Cost, e)
		case costing.SentBack:
			c.out(CashConsumables, m.On, -m.Cost, e)
		}
	}
	for i := range in.Pieces {
		p := &in.Pieces[i]
		e := Entry{What: OfPiece, OfID: p.ID, Of: p.Name, ID: p.ID, Kind: say.New("entry.sold", "sold"), Text: p.Note}
		if p.Fate != costing.StillThere {
			c.out(CashSelling, p.LeftOn, p.Fee, e)
		}
		if p.Fate == costing.SoldAlone {
			c.in(CashPieces, p.LeftOn, p.Price, e)
			c.in(CashTax, p.LeftOn, costing.TaxOfPiece(p, in.TaxRules).Added, e)
		}
		if p.DonorID == "" && !item[p.Root()] && !p.FromOwner {
			e.Kind = say.New("entry.bought", "bought")
			c.out(CashThings, p.CameOn, p.Cost, e)
		}
	}
	for _, s := range in.Settlements {
		k := CashTaxPaid
		if s.Kind == costing.OwnerPaid {
			k = CashOwners
		}
		c.out(k, s.On, s.Amount, Entry{What: OfMotor, OfID: s.MotorID, ID: s.ID, Kind: say.New("entry.passed-on", "paid over"), Text: s.Note})
	}
}

// takings are a motor's deposits and its sale.
func (c *cashbook) takings(m *life, tax costing.SaleTax) {
	for i := range m.Holds {
		h := &m.Holds[i]
		on := h.On
		if h.ClearedOn != 0 {
			on = h.ClearedOn
		}
		e := Entry{What: OfMotor, OfID: m.ID, Of: m.name, ID: h.ID, Kind: say.New("entry.deposit", "deposit"), Text: h.Buyer}
		c.in(CashDeposits, on, h.Deposit, e)
		if h.Outcome != costing.HoldOpen {
			e.Kind = say.New("entry.deposit-back", "deposit given back")
			c.in(CashDeposits, h.SettledOn, -h.GivenBack(0), e)
		}
	}
	if m.Sale == nil {
		return
	}
	on := m.Sale.Sold
	if m.Sale.ClearedOn != 0 {
		on = m.Sale.ClearedOn
	}
	e := m.sale("sold")
	c.in(CashSales, on, m.Sale.Due(), e)
	c.in(CashTax, on, tax.Added, e)
}

// receipts are the things on receipts, on the day each was paid; kind is that of those on a motor.
func (c *cashbook) receipts(in Input, kind map[string]costing.Kind) {
	type paper struct {
		paid     day.Day
		supplier string
	}
	papers := make(map[string]paper, len(in.Receipts))
	for _, r := range in.Receipts {
		papers[r.ID] = paper{r.PaidOn, r.Supplier}
	}
	for _, i := range in.Items {
		p := papers[i.ReceiptID]
		if p.paid == 0 {
			continue
		}
		k := CashBills
		switch i.Goes {
		case costing.ToMotor, costing.ToCore:
			k = cashKind(kind[i.ID])
		case costing.ToShelf:
			k = CashConsumables
		case costing.ToPiece:
			k = CashThings
		case costing.ToKeep:
			k = CashPrivate
		}
		c.out(k, max(p.paid, i.On), i.Paid(), Entry{What: OfReceipt, OfID: i.ReceiptID, Of: p.supplier, ID: i.ID, Kind: say.New("entry.receipt", "on a receipt"), Text: i.Text})
	}
}
