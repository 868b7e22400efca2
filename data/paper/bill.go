package paper

import (
	"strings"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Bill is a bill of sale. What is not known is left blank to be written in, never made up.
type Bill struct {
	Record       costing.Record
	PowerUnit    string
	ExchangeName string   // of the motor taken in part exchange
	ExchangeID   string   // its serial number
	Together     []string // what it was sold together with, for one price
}

func (p Bill) name() say.Sentence { return say.New("page.bill", "bill of sale") }
func (p Bill) of() string         { return p.Record.Name() }

// deal is what was agreed, as far as it is known.
type deal struct {
	on                    day.Day
	buyer, contact        string
	price, deposit        money.Amount // the price as it was spoken
	freight, due, allowed money.Amount
	method                costing.Payment
	depositOn             day.Day
	sold, exchanged       bool
	included              costing.Included
}

func (p Bill) deal() deal {
	r := p.Record
	if sale := r.Sale; sale != nil {
		d := deal{on: sale.Sold, buyer: sale.Buyer, contact: sale.Contact, price: sale.Agreed(), deposit: sale.Deposit, freight: sale.Freight,
			due: sale.Due(), method: sale.Method, sold: true, included: sale.Included, exchanged: sale.Exchange.MotorID != "" || sale.Exchange.Allowed != 0,
			allowed: sale.Exchange.Allowed}
		for _, h := range r.Holds {
			if h.Outcome == costing.HoldSold {
				d.depositOn = h.On
			}
		}
		return d
	}
	d := deal{}
	if h, ok := r.OpenHold(); ok {
		d.buyer, d.contact, d.deposit, d.depositOn = h.Buyer, h.Contact, h.Deposit, h.On
	}
	return d
}

func (p Bill) lay(s *sheet) {
	r, m, d := p.Record, p.Record.Motor, p.deal()
	s.title(s.say(say.New("page.bill.title", "Bill of sale")), s.say(say.New("page.bill.below", "One used outboard motor; two copies, one for each.")))

	s.section(say.New("page.bill.parties", "Who"), 30, func() {
		width := (s.width() - 2*gap) / 2
		y := s.y
		for i, who := range []struct {
			is         say.Sentence
			name, mail string
		}{{say.New("page.bill.seller", "seller"), s.Shop, ""}, {say.New("page.bill.buyer", "buyer"), d.buyer, d.contact}} {
			x := side + float64(i)*(width+2*gap)
			s.y = y
			s.slot(x, width, who.name, say.New("page.bill.name", "{{.Who}}: name", "Who", who.is))
			s.slot(x, width, "", say.New("page.bill.address", "Address"))
			s.slot(x, width, who.mail, say.New("page.bill.contact", "Telephone or e-mail"))
		}
	})

	s.section(say.New("page.bill.motor", "What"), 40, func() {
		power := s.power(m, p.PowerUnit)
		s.slots([]slot{{say.New("page.bill.make", "Make"), m.Make}, {say.New("page.bill.model", "Model"), m.Model}, {say.New("page.bill.year", "Year"), s.year(m)}, {say.New("page.bill.power", "Power"), power}})
		s.slots([]slot{{say.New("page.bill.bracket", "Serial number on the bracket plate"), m.BracketNumber}, {say.New("page.bill.powerhead", "Number on the powerhead"), m.PowerheadNumber}})
		goes := s.goes(d.included, m, d.sold)
		s.slots([]slot{{say.New("page.bill.included", "Goes with it"), goes}})
	})

	s.section(say.New("page.bill.money", "For how much, in {{.Currency}}", "Currency", s.Currency.Code()), 35, func() { p.money(s, d) })

	small := style{size: 8.5}
	s.section(say.New("page.bill.terms", "On what terms"), 25, func() {
		all := s.said(Promises(r)...)
		all = append(all, s.said(say.New("page.bill.own", "The seller says that the motor is theirs to sell, and that they know of no lien on it, unless it is written here."),
			say.New("page.bill.told", "The buyer was told what stands on the hand-over sheet, if one is with this bill."))...)
		s.bullets(all, small)
		told := Disclosures(r)
		if len(told) > 0 {
			s.flow(s.say(say.New("page.told", "What you should know about it")), style{size: 8.5, bold: true})
			s.bullets(s.said(told...), small)
		}
		s.space(1)
		s.need(signedHigh + 8) // so that nobody signs an empty page
		s.flow(s.say(say.New("page.bill.law", "Local rules on title, registration and transfer come first: some places want their own form, a notary or both numbers inspected. This page is no legal advice.")), noteText)
	})
	s.signatures(say.New("page.bill.seller", "seller"), say.New("page.bill.buyer", "buyer"), s.Shop, d.buyer)
}

func (p Bill) money(s *sheet, d deal) {
	t := grid{columns: []column{{share: 70}, {share: 30, figure: true}}, sums: map[int]bool{}}
	line := func(name say.Sentence, figure string) {
		t.rows = append(t.rows, []string{capital(s.say(name)), figure})
	}
	const open = "__________________"
	price := open
	if d.sold {
		price = s.priced(d.price)
		if d.price == 0 {
			price = s.Currency.Format(0) + " " + s.Currency.Code()
		}
	}
	line(say.New("page.bill.price", "Price of the motor"), price)
	if d.freight != 0 {
		line(say.New("page.bill.freight", "Freight"), s.priced(d.freight))
	}
	switch {
	case d.exchanged:
		name := p.ExchangeName
		if p.ExchangeID != "" {
			name = listed(", ", name, s.say(say.New("page.bill.number", "number {{.Number}}", "Number", p.ExchangeID)))
		}
		if name == "" {
			name = "________________________"
		}
		line(say.New("page.bill.exchange", "Taken in part exchange: {{.Motor}}", "Motor", name), s.priced(-d.allowed))
	}
	if d.deposit != 0 {
		on := dated(d.depositOn)
		if on == "" {
			on = "____________"
		}
		line(say.New("page.bill.deposit", "Deposit taken on {{.Day}}", "Day", on), s.priced(-d.deposit))
	}
	due := open
	if d.sold {
		due = s.Currency.Format(d.due) + " " + s.Currency.Code()
	}
	method := "____________"
	if d.method != "" {
		method = s.say(d.method.Name())
	}
	t.sums[len(t.rows)] = true
	line(say.New("page.bill.due", "To be paid on the day of the sale, by {{.Method}}", "Method", method), due)
	s.table(t)
	if len(p.Together) > 0 {
		s.flow(s.say(say.New("page.bill.together", "Sold together with {{.Others}} for one price; the figures above are this motor's share of it.", "Others", strings.Join(p.Together, ", "))), plainText)
	}
	on := dated(d.on)
	s.slots([]slot{{say.New("page.bill.day", "Day of the sale"), on}, {say.New("page.bill.received", "Received in full (seller's initials)"), ""}})
}

// goes is what goes with a motor: as the sale says, or as its description does while it is not sold.
func (s *sheet) goes(in costing.Included, m valuation.Motor, sold bool) string {
	var out []string
	add := func(there bool, what say.Sentence) {
		if there {
			out = append(out, s.say(what))
		}
	}
	said := sold && !in.Nothing()
	pick := func(sale bool, described valuation.Answer) bool {
		if said {
			return sale
		}
		return described == valuation.Yes
	}
	add(pick(in.Controls, m.Controls), say.New("page.goes.controls", "controls with cables"))
	add(said && in.Harness, say.New("page.goes.harness", "harness"))
	add(pick(in.Propeller, m.Propeller), say.New("page.goes.propeller", "propeller"))
	add(pick(in.Tank, m.Tank), say.New("page.goes.tank", "fuel tank"))
	add(!said && m.Helm == valuation.Yes, say.New("page.goes.helm", "steering gear"))
	if said && in.Other != "" {
		out = append(out, in.Other)
	}
	return listed(", ", out...)
}

// slot is a fact with its label under it; one that is not known is a line to write on.
type slot struct {
	label say.Sentence
	value string
}

func (s *sheet) slots(all []slot) {
	width := (s.width() - float64(len(all)-1)*gap) / float64(len(all))
	high := 0.0
	for _, x := range all {
		high = max(high, float64(max(1, len(s.lines(x.value, boldText, width))))*boldText.leading())
	}
	s.need(min(high, 100) + 10)
	y, end := s.y, s.y
	for i, x := range all {
		s.y = y
		s.slotIn(side+float64(i)*(width+gap), width, x.value, x.label, high)
		end = max(end, s.y)
	}
	s.y = end
}

func (s *sheet) slot(x, width float64, value string, label say.Sentence) {
	s.slotIn(x, width, value, label, float64(max(1, len(s.lines(value, boldText, width))))*boldText.leading())
}

func (s *sheet) slotIn(x, width float64, value string, label say.Sentence, high float64) {
	const most = 6 // lines of one fact; more are cut with a sign
	lines := s.lines(value, boldText, width)
	if len(lines) > most {
		lines = append(lines[:most-1:most-1], "…")
	}
	high = min(high, most*boldText.leading())
	y := s.y + 2
	s.put(x, y+high-float64(len(lines))*boldText.leading(), width, lines, boldText, left)
	s.blank(x, y+high+0.4, width, s.say(label))
	s.y = y + high + 0.4 + labelText.leading() + 1.2
}
