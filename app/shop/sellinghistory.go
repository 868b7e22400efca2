package shop

import (
	"cmp"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// SellingKind is what a row of a selling history is about.
type SellingKind string

const (
	SellingAsk      SellingKind = "ask"       // an asking price, the first of a spell or a change
	SellingWithdraw SellingKind = "withdrawn" // off sale from then on
	SellingBid      SellingKind = "offer"
	SellingHold     SellingKind = "hold"
	SellingHoldEnd  SellingKind = "hold-end"
	SellingSale     SellingKind = "sale"
	SellingCleared  SellingKind = "cleared"
)

// SellingRow is one thing that happened while a motor was being sold.
type SellingRow struct {
	On     day.Day
	Kind   SellingKind
	ID     string       // of the asking price, offer or hold; "" where it has none
	Amount money.Amount // asked, offered, deposited, kept or paid
	Words  say.Sentence
}

// SellingHistory is all that happened while a motor was being sold, for a picture and for a list.
type SellingHistory struct {
	Record costing.Record
	Spells []costing.Spell
	Rows   []SellingRow // the oldest first
	Words  say.Sentence // the whole in a sentence; empty where it was never offered
	Terms  []say.Sentence
	Today  day.Day
}

// SellingHistory tells how the selling of a motor went.
func (s *Shop) SellingHistory(id string) (SellingHistory, error) {
	r, err := s.Record(id)
	if err != nil {
		return SellingHistory{}, err
	}
	h := SellingHistory{Record: r, Spells: r.Spells(), Today: s.Today(), Terms: s.SaleTerms(r)}
	f := s.currency.Format
	var last money.Amount
	for _, a := range r.AskHistory() {
		row := SellingRow{On: a.On, Kind: SellingAsk, ID: a.ID, Amount: a.Ask}
		switch {
		case a.Withdrawn():
			row.Kind, row.Words = SellingWithdraw, say.New("selling.row.withdrawn", "withdrawn from sale")
			if a.Note != "" {
				row.Words = say.New("selling.row.withdrawn-why", "withdrawn from sale: {{.Why}}", "Why", a.Note)
			}
			last = 0
		case last == 0:
			row.Words = say.New("selling.row.offered", "offered at {{.Ask}}", "Ask", f(a.Ask))
			last = a.Ask
		case a.Ask < last:
			row.Words = say.New("selling.row.down", "asked {{.Ask}}, {{.By}} less", "Ask", f(a.Ask), "By", f(last-a.Ask))
			last = a.Ask
		case a.Ask > last:
			row.Words = say.New("selling.row.up", "asked {{.Ask}}, {{.By}} more", "Ask", f(a.Ask), "By", f(a.Ask-last))
			last = a.Ask
		default:
			row.Words = say.New("selling.row.same", "asked {{.Ask}} as before", "Ask", f(a.Ask))
		}
		if a.Where != "" {
			row.Words = say.New("selling.row.where", "{{.What}}, {{.Where}}", "What", row.Words, "Where", a.Where)
		}
		h.Rows = append(h.Rows, row)
	}
	for _, b := range r.Bids {
		h.Rows = append(h.Rows, SellingRow{On: b.On, Kind: SellingBid, ID: b.ID, Amount: b.Amount, Words: s.bidWords(b)})
	}
	for _, one := range r.Holds {
		h.Rows = append(h.Rows, SellingRow{On: one.On, Kind: SellingHold, ID: one.ID, Amount: one.Deposit, Words: s.holdWords(one)})
		if one.Outcome == costing.HoldNoShow || one.Outcome == costing.HoldReturned {
			h.Rows = append(h.Rows, SellingRow{On: one.SettledOn, Kind: SellingHoldEnd, ID: one.ID, Amount: one.Kept, Words: one.Outcome.Name()})
		}
	}
	if sale := r.Sale; sale != nil {
		h.Rows = append(h.Rows, SellingRow{On: sale.Sold, Kind: SellingSale, Amount: sale.Price, Words: say.New("selling.row.sold", "sold for {{.Price}}", "Price", f(sale.Price))})
		if sale.Cleared() {
			h.Rows = append(h.Rows, SellingRow{On: sale.ClearedOn, Kind: SellingCleared, Words: say.New("selling.row.cleared", "the money is there")})
		}
	}
	slices.SortStableFunc(h.Rows, func(a, b SellingRow) int { return cmp.Compare(a.On, b.On) })
	h.Words = s.sellingWords(h)
	return h, nil
}

// sellingWords says how long a motor was offered, from what down to what, and what was offered for it.
func (s *Shop) sellingWords(h SellingHistory) say.Sentence {
	if len(h.Spells) == 0 {
		return say.Sentence{}
	}
	days, changes := 0, 0
	for _, spell := range h.Spells {
		days += spell.Days(h.Today)
		changes += len(spell.Steps) - 1
	}
	first, last := h.Spells[0].First(), h.Spells[len(h.Spells)-1].Last()
	f := s.currency.Format
	pairs := []any{"Days", days, "First", f(first), "Last", f(last), "Changes", changes}
	out := say.New("selling.for", "For sale {{.Days}} {{if eq .Days 1}}day{{else}}days{{end}} at {{.First}}.", pairs...)
	if first != last || changes > 0 {
		out = say.New("selling.for-steps", "For sale {{.Days}} {{if eq .Days 1}}day{{else}}days{{end}}, first at {{.First}}, last at {{.Last}}.", pairs...)
	}
	var best money.Amount
	for _, b := range h.Record.Bids {
		best = max(best, b.Amount)
	}
	switch n := len(h.Record.Bids); {
	case n == 0:
	case n == 1:
		out = say.New("selling.bids-one", "{{.Offered}} One offer, of {{.Best}}.", "Offered", out, "Best", f(best))
	default:
		out = say.New("selling.bids", "{{.Offered}} {{.Count}} offers, the best {{.Best}}.", "Offered", out, "Count", n, "Best", f(best))
	}
	return out
}

// bidWords says an offer: "Rosa Lind offered 1,400.00, and a 15 hp tiller: declined".
func (s *Shop) bidWords(b costing.Bid) say.Sentence {
	who := any(b.From)
	if b.From == "" {
		who = say.New("selling.somebody", "somebody")
	}
	pairs := []any{"Who", who, "Amount", s.currency.Format(b.Amount), "Trade", b.Trade}
	out := say.New("selling.bid", "{{.Who}} offered {{.Amount}}", pairs...)
	switch {
	case b.Amount == 0:
		out = say.New("selling.bid.trade-only", "{{.Who}} offered in exchange: {{.Trade}}", pairs...)
	case b.Trade != "":
		out = say.New("selling.bid.trade", "{{.Who}} offered {{.Amount}} and in exchange: {{.Trade}}", pairs...)
	}
	if b.Note != "" {
		out = say.New("selling.bid.note", "{{.Offer}} ({{.Note}})", "Offer", out, "Note", b.Note)
	}
	return say.New("selling.bid.answer", "{{.Offer}}: {{.Answer}}", "Offer", out, "Answer", b.Answer.Name())
}

// SaleTerms says how a motor was sold beside its price: part exchange, deposit, freight, what went along,
// and whether the money is there. Empty where there is nothing to tell.
func (s *Shop) SaleTerms(r costing.Record) []say.Sentence {
	sale := r.Sale
	if sale == nil {
		return nil
	}
	f := s.currency.Format
	var out []say.Sentence
	if sale.Exchange.MotorID != "" {
		name := ""
		if taken, err := s.Record(sale.Exchange.MotorID); err == nil {
			name = title(taken)
		}
		out = append(out, s.exchangeWords(*sale, name)...)
	}
	if sale.Deposit > 0 {
		out = append(out, say.New("terms.deposit", "{{.Deposit}} of it was paid before as a deposit.", "Deposit", f(sale.Deposit)))
	}
	if sale.Freight > 0 {
		out = append(out, say.New("terms.freight", "Freight of {{.Freight}} was charged beside the price; it is taken in, and no part of the price history.", "Freight", f(sale.Freight)))
	}
	if with := withWords(sale.Included); !with.Empty() {
		out = append(out, say.New("terms.with", "With it went: {{.Things}}.", "Things", with))
	}
	switch {
	case sale.Cleared() && sale.Method != "":
		out = append(out, say.New("terms.cleared-by", "Paid by {{.Method}}, cleared on {{.Day}}.", "Method", sale.Method.Name(), "Day", s.dayText(sale.ClearedOn)))
	case sale.Cleared():
		out = append(out, say.New("terms.cleared", "The money cleared on {{.Day}}.", "Day", s.dayText(sale.ClearedOn)))
	case sale.Method == costing.InCash:
		out = append(out, say.New("terms.cash", "Paid in cash."))
	case sale.Method != "":
		out = append(out, say.New("terms.uncleared", "Paid by {{.Method}}; not known to be cleared.", "Method", sale.Method.Name()))
	}
	return out
}

// withWords lists what went along with a motor.
func withWords(i costing.Included) say.Sentence {
	var things []say.Sentence
	add := func(yes bool, w say.Sentence) {
		if yes {
			things = append(things, w)
		}
	}
	add(i.Controls, say.New("with.controls", "controls"))
	add(i.Propeller, say.New("with.propeller", "propeller"))
	add(i.Tank, say.New("with.tank", "fuel tank"))
	add(i.Harness, say.New("with.harness", "harness"))
	add(i.Other != "", say.New("with.other", "{{.Thing}}", "Thing", i.Other))
	if len(things) == 0 {
		return say.Sentence{}
	}
	list := things[0]
	for _, t := range things[1:] {
		list = say.New("list.next", "{{.List}}, {{.Next}}", "List", list, "Next", t)
	}
	return list
}
