package review

import (
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Outlook is what a motor in stock is expected to bring by the way out that is meant for it, as told by
// whoever knows the market.
type Outlook struct {
	Price   money.Amount // expected, at the state in which it is to be sold
	Selling money.Amount // fees, listing, delivery
	Finish  money.Amount // cost still to come before it can be sold; own time is no cost
	Sales   int          // own sales that stand behind the price
}

// Basis is what a net realisable value rests on.
type Basis string

const (
	ByMarket    Basis = "market"      // the market fitted to the shop's sales
	ByOrder     Basis = "order"       // held for a buyer with a deposit, at the price agreed (IAS 2 para 31)
	ByLaterSale Basis = "later-sale"  // sold after the period's end (IAS 2 para 30)
	ByParts     Basis = "parts"       // what its parts would bring, each by its chance
	ByValue     Basis = "value"       // what it would sell for by itself, by its chance
	ForUse      Basis = "for-use"     // shelf goods for motors that bring back their cost (IAS 2 para 32)
	Replacement Basis = "replacement" // shelf goods for motors that do not: the last price paid (para 32)
	NotKnown    Basis = ""            // nobody knows what it will bring
)

// Realisable is the net realisable value of a line of stock: the expected price less what it takes to
// finish and to sell it (IAS 2 para 6), and what follows for its carrying amount (paras 9, 28-33).
type Realisable struct {
	Basis                  Basis
	Price, Finish, Selling money.Amount
	Net                    money.Amount // Price - Finish - Selling, and not below nothing
	Sales                  int          // own sales behind the price, where it rests on the market
	Down                   money.Amount // to be written down: what it carries beyond Net
	Up                     money.Amount // to be taken back of what was written down earlier, never above cost
}

// Known tells whether there is a net realisable value at all.
func (r Realisable) Known() bool { return r.Basis != NotKnown }

// Lower is the lower of the carrying amount before any write-down to come and the net realisable value,
// with what was written down earlier taken back where it may be.
func (l StockLine) Lower() money.Amount { return l.Cost - l.Realisable.Down + l.Realisable.Up }

// set works the net value out and compares it with what the line carries and what was taken off earlier.
func (r *Realisable) set(carried, takenOff money.Amount) {
	r.Net = max(0, r.Price-r.Finish-r.Selling)
	r.Down = max(0, carried-r.Net)
	r.Up = max(0, min(takenOff, r.Net-carried))
}

// laterFor is how long after the period's end a sale still tells what a motor was worth at its end.
const laterFor = 365

// realisable puts beside every line of the closing stock what it will bring.
func (y *yearbook) realisable() {
	if y.in.Outlook == nil {
		return
	}
	at := make(map[string]*costing.Record, len(y.in.Records))
	for i := range y.in.Records {
		at[y.in.Records[i].ID] = &y.in.Records[i]
	}
	on := make(map[string][]costing.Piece)
	by := make(map[string]*costing.Piece)
	down := make(map[string]money.Amount)
	for i := range y.in.Pieces {
		p := &y.in.Pieces[i]
		by[p.ID] = p
		there := p.Fate == costing.StillThere || p.LeftOn > y.Period.To
		switch {
		case p.DonorID != "" && there:
			on[p.DonorID] = append(on[p.DonorID], *p)
		case p.Root() != p.ID && !there:
			down[p.Root()] += p.Cost
		}
	}
	var carried, brings money.Amount
	for i := range y.ClosingStock {
		l := &y.ClosingStock[i]
		switch l.What {
		case MotorStock, DonorStock:
			y.motorWorth(l, at[l.ID], on[l.ID])
			if l.Realisable.Known() {
				carried += l.Cost
				brings += l.Realisable.Net
			}
		case ThingStock:
			if p := by[l.ID]; p != nil && p.Value > 0 {
				r := &l.Realisable
				r.Basis, r.Price = ByValue, money.Round(p.Weight())
				r.Selling = r.Price.Times(y.in.Settings.FeeRate)
				l.WrittenDown = down[l.ID]
				r.set(l.Cost, l.WrittenDown)
			}
		}
	}
	for i := range y.ClosingStock {
		if l := &y.ClosingStock[i]; l.What == ShelfStock {
			y.goodWorth(l, brings >= carried)
		}
	}
	for _, l := range y.ClosingStock {
		y.ToWriteDown += l.Realisable.Down
		y.ToTakeBack += l.Realisable.Up
		if !l.Realisable.Known() {
			y.odd.noWorth.add(l.Name)
		}
	}
}

// motorWorth is by an order, a later sale, the parts of a donor or the market, whichever tells most.
func (y *yearbook) motorWorth(l *StockLine, r *costing.Record, on []costing.Piece) {
	sheet := r.Sheet(y.Period.To, 0)
	l.WrittenDown = sheet.WrittenDown
	out, known := y.in.Outlook(r.ID)
	v := &l.Realisable
	v.Sales = out.Sales
	price, agreed := orderPrice(r, y.Period.To)
	left, by, _ := r.Left()
	switch {
	case by == costing.BySale && left <= y.Period.To+laterFor:
		// What it took after the period's end is known by now, and so is the price.
		then := r.Sheet(0, 0)
		v.Basis, v.Price, v.Sales = ByLaterSale, r.Sale.Price+r.Sale.Freight, 0
		v.Finish = then.Carried + then.WrittenDown - sheet.Carried - sheet.WrittenDown
		v.Selling = then.Selling - sheet.Selling
	case agreed:
		v.Basis, v.Price, v.Selling, v.Finish, v.Sales = ByOrder, price, out.Selling, out.Finish, 0
	case l.What == DonorStock:
		if len(on) == 0 {
			return
		}
		v.Basis, v.Price, v.Sales = ByParts, costing.Comes(on), 0
		v.Selling = v.Price.Times(y.in.Settings.FeeRate)
	case known:
		v.Basis, v.Price, v.Selling, v.Finish = ByMarket, out.Price, out.Selling, out.Finish
	default:
		return
	}
	v.set(l.Cost, l.WrittenDown)
}

// orderPrice is what a buyer who left a deposit had agreed to pay at the end of a day: the offer that was
// taken, or else what was asked when the motor was held.
func orderPrice(r *costing.Record, until day.Day) (money.Amount, bool) {
	for _, h := range r.Holds {
		if h.On > until || h.Owed(until) <= 0 {
			continue
		}
		var price money.Amount
		var last day.Day
		for _, b := range r.Bids {
			if b.Answer == costing.BidAccepted && b.On <= until && b.On >= last {
				price, last = b.Amount, b.On
			}
		}
		if price == 0 {
			for _, s := range r.AskHistory() {
				if s.On <= h.On {
					price = s.Ask
				}
			}
		}
		return price, price > 0
	}
	return 0, false
}

// goodWorth is that of goods on the shelf: they are there for the motors, and stand at cost while these
// bring back theirs.
func (y *yearbook) goodWorth(l *StockLine, recovered bool) {
	r := &l.Realisable
	r.Basis, r.Price = ForUse, max(l.Cost, 0)
	if !recovered {
		r.Basis, r.Price = Replacement, max(0, y.replace[l.ID])
	}
	r.set(l.Cost, 0) // what was marked down may be used by now: nothing is taken back
}
