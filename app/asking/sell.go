package asking

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// askList asks from when, where and for how much the motor is offered; a price of 0 proposes one.
func (p *Screen) askList(r costing.Record, ask money.Amount) {
	widgets.FlushAll()
	price := widgets.NewMoneyEntry(p.shop.Currency())
	switch {
	case ask > 0:
		price.SetValue(ask)
	case r.Ask > 0:
		price.SetValue(r.Ask)
	case p.priced:
		price.SetValue(p.shop.Currency().Floor(p.answer.Advice.Ask))
	}
	on, where := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())), widgets.NewEntry()
	on.SetValue(p.shop.Today())
	where.Set(lastPlace(r))
	form := widgets.NewForm(widgets.NewField(lang.X("list.price", "Asking price"), price), widgets.NewField(lang.X("list.on", "Offered from"), on),
		widgets.NewField(lang.X("list.where", "Where"), where).WithHint(lang.X("list.where.hint", "as you call it; may stay empty")))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("list.title", "Offer for sale: {{.Motor}}", map[string]any{"Motor": nameOf(r)}), form,
		lang.X("list.do", "Offer it"), func() error {
			return p.shop.OfferAgain(r.ID, price.Value(), on.Value(), strings.TrimSpace(where.Text))
		}).SetFirst(price).SetWidth(560).Show()
}

// lastPlace is where the motor was offered last.
func lastPlace(r costing.Record) string {
	all := r.AskHistory()
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].Where != "" {
			return all[i].Where
		}
	}
	return ""
}

// askWithdraw asks why the motor is taken off sale.
func (p *Screen) askWithdraw(r costing.Record) {
	widgets.FlushAll()
	on, why := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())), widgets.NewEntry()
	on.SetValue(p.shop.Today())
	form := widgets.NewForm(widgets.NewField(lang.X("withdraw.why", "Why"), why).WithHint(lang.X("list.where.hint", "as you call it; may stay empty")),
		widgets.NewField(lang.X("withdraw.on", "On"), on))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("withdraw.title", "Take off sale: {{.Motor}}", map[string]any{"Motor": nameOf(r)}), form,
		lang.X("withdraw.do", "Withdraw it"), func() error { return p.shop.Withdraw(r.ID, on.Value(), strings.TrimSpace(why.Text)) }).
		SetFirst(why).SetWidth(560).Show()
}

// saleForm is what was agreed with the buyer.
type saleForm struct {
	p      *Screen
	r      costing.Record
	hold   costing.Hold
	held   bool
	bid    *costing.Bid
	dialog *widgets.Dialog
	main   string

	price, fee, delivery, listing, freight *widgets.MoneyEntry
	usual                                  money.Amount // the fee as it follows the price
	on, cleared                            *widgets.DateEntry
	method                                 *widgets.Choice
	buyer, contact, channel, note          *widgets.Entry
	under                                  *widgets.Check // under the open hold
	with                                   map[string]*widgets.Check
	withOther                              *widgets.Entry
	touched                                bool // what goes along was said here
	words                                  *widgets.Text

	taken          *widgets.MotorForm
	allowed, worth *widgets.MoneyEntry
	takenNote      *widgets.Entry
	costs, swap    *widgets.Fold
}

// askSold asks what was agreed with the buyer; bid is the offer that is taken, nil for none.
func (p *Screen) askSold(r costing.Record, bid *costing.Bid) {
	widgets.FlushAll()
	c, order := p.shop.Currency(), widgets.DateOrder(p.shop.DateOrder())
	amount := func() *widgets.MoneyEntry { return widgets.NewMoneyEntry(c) }
	f := &saleForm{p: p, r: r, bid: bid, price: amount(), fee: amount(), delivery: amount(), listing: amount(), freight: amount(),
		on: widgets.NewDateEntry(order), cleared: widgets.NewDateEntry(order), method: paymentChoice(), buyer: widgets.NewEntry(), contact: widgets.NewEntry(),
		channel: widgets.NewEntry(), note: widgets.NewEntry(), withOther: widgets.NewEntry(), words: widgets.NewText(""),
		taken: widgets.NewMotorForm(p.units()), allowed: amount(), worth: amount(), takenNote: widgets.NewEntry(), main: lang.X("sell.do", "Book the sale")}
	f.hold, f.held = r.OpenHold()
	f.fill()
	f.live()
	f.dialog = widgets.NewDialog(p.host.Window().Canvas(), lang.X("sell.title", "Sold: {{.Motor}}", map[string]any{"Motor": nameOf(r)}), f.content(), f.main, f.book).
		SetFirst(f.price).SetWidth(680)
	f.tell()
	f.dialog.Show()
}

// fill puts in what is known before anybody says it.
func (f *saleForm) fill() {
	f.price.SetValue(f.r.Ask)
	f.on.SetValue(f.p.shop.Today())
	f.channel.Set(lastPlace(f.r))
	if b := f.bid; b != nil {
		f.price.SetValue(b.Amount)
		f.buyer.Set(b.From)
		if b.Channel != "" {
			f.channel.Set(b.Channel)
		}
		f.note.Set(b.Trade)
	}
	if f.held {
		f.under = widgets.NewCheck(lang.X("sell.under", "sold under the hold of {{.Buyer}}", map[string]any{"Buyer": f.hold.Buyer}))
		f.under.SetValue(f.bid == nil || f.bid.From == f.hold.Buyer)
		if f.under.Checked {
			f.buyer.Set(f.hold.Buyer)
			f.contact.Set(f.hold.Contact)
		}
	}
	f.usual = f.p.shop.FeeOn(f.price.Value())
	f.fee.SetValue(f.usual)
	m := f.r.Motor
	tick := func(key, words string, on bool) {
		c := widgets.NewCheck(words)
		c.SetValue(on)
		c.OnValue = func(bool) { f.touched = true }
		f.with[key] = c
	}
	f.with = map[string]*widgets.Check{}
	tick("controls", lang.X("sell.with.controls", "controls"), m.Controls == valuation.Yes)
	tick("propeller", lang.X("sell.with.propeller", "propeller"), m.Propeller == valuation.Yes)
	tick("tank", lang.X("sell.with.tank", "fuel tank"), m.Tank == valuation.Yes)
	tick("harness", lang.X("sell.with.harness", "harness"), false)
}

// live lets the figures follow as they are typed.
func (f *saleForm) live() {
	again := func(money.Amount) error { f.tell(); return nil }
	f.price.OnValue = func(a money.Amount) error { // the fee follows the price until it is written by hand
		if f.fee.Value() == f.usual {
			f.usual = f.p.shop.FeeOn(a)
			f.fee.SetValue(f.usual)
		}
		return again(a)
	}
	for _, e := range []*widgets.MoneyEntry{f.fee, f.delivery, f.listing, f.freight, f.allowed, f.worth} {
		e.OnValue = again
	}
	f.on.OnValue = func(day.Day) error { f.tell(); return nil }
	f.method.OnValue = func(v string) error { // cash in the hand is there
		if costing.Payment(v) == costing.InCash && f.cleared.Value() == 0 {
			f.cleared.SetValue(f.on.Value())
		}
		return nil
	}
	f.taken.OnChanged = func(valuation.Motor, string) error { f.tell(); return nil }
	if f.under != nil {
		f.under.OnValue = func(bool) { f.tell() }
	}
	f.withOther.OnTyped = func(string) { f.touched = true }
}

func (f *saleForm) content() fyne.CanvasObject {
	parts := []fyne.CanvasObject{widgets.NewForm(
		widgets.NewField(lang.X("sell.price", "Sold for"), f.price), widgets.NewField(lang.X("sell.on", "On"), f.on),
		widgets.NewField(lang.X("sell.buyer", "Buyer"), f.buyer), widgets.NewField(lang.X("sell.method", "Paid by"), f.method))}
	if f.under != nil {
		parts = append(parts, widgets.NewField("", f.under))
	}
	f.costs = widgets.NewFold(lang.X("sell.costs", "Fee, freight and listing"), widgets.NewForm(
		widgets.NewField(lang.X("sell.fee", "Marketplace fee"), f.fee).
			WithHint(lang.X("sell.fee.hint", "{{.Share}} % of the price unless you write another; 0 for none", map[string]any{"Share": widgets.FormatNumber(100*f.p.shop.Settings().FeeRate, 2)})),
		widgets.NewField(lang.X("sell.listing", "Listing cost"), f.listing),
		widgets.NewField(lang.X("sell.delivery", "Freight you paid"), f.delivery),
		widgets.NewField(lang.X("sell.freight", "Freight charged to the buyer"), f.freight).WithHint(lang.X("sell.freight.hint", "beside the price"))))
	about := widgets.NewFold(lang.X("sell.about", "Buyer and advertisement"), widgets.NewForm(
		widgets.NewField(lang.X("sell.contact", "How to reach the buyer"), f.contact), widgets.NewField(lang.X("sell.channel", "Sold through"), f.channel),
		widgets.NewField(lang.X("sell.cleared", "Money there since"), f.cleared).WithHint(lang.X("sell.cleared.hint", "empty while it is not surely there")),
		widgets.NewField(lang.X("sell.note", "Note"), f.note)))
	with := widgets.NewFold(lang.X("sell.with", "What goes with it"), widgets.Column(look.Gap,
		widgets.Flow(look.Wide, f.with["controls"], f.with["propeller"], f.with["tank"], f.with["harness"]),
		widgets.NewField(lang.X("sell.with.other", "And"), f.withOther)))
	f.swap = widgets.NewFold(lang.X("sell.swap", "Part exchange"), widgets.Column(look.Wide,
		widgets.NewText(lang.X("sell.swap.words", "The price above is the one agreed: money, and what you allow for the motor you take in. That motor goes to the bench at what it is fairly worth.")),
		widgets.NewForm(widgets.NewField(lang.X("sell.allowed", "Allowed for it"), f.allowed),
			widgets.NewField(lang.X("sell.worth", "Fairly worth"), f.worth).WithHint(lang.X("sell.worth.hint", "empty: the middle of your own band for it"))),
		f.taken, widgets.NewField(lang.X("sell.note", "Note"), f.takenNote)))
	parts = append(parts, f.words)
	for _, fold := range []*widgets.Fold{f.costs, about, with, f.swap} {
		fold.OnToggle = func(bool) { f.dialog.Offer(f.main) }
		parts = append(parts, fold)
	}
	return widgets.Column(look.Wide, parts[0], widgets.Column(look.Tight, parts[1:]...))
}

// input is what is said in the form.
func (f *saleForm) input() (shop.SaleInput, *shop.TakeIn) {
	in := shop.SaleInput{On: f.on.Value(), Price: f.price.Value(), Fee: f.fee.Value(), Delivery: f.delivery.Value(), Listing: f.listing.Value(),
		Freight: f.freight.Value(), Channel: strings.TrimSpace(f.channel.Text), Buyer: strings.TrimSpace(f.buyer.Text), Contact: strings.TrimSpace(f.contact.Text),
		Note: strings.TrimSpace(f.note.Text), Method: costing.Payment(f.method.Value()), ClearedOn: f.cleared.Value()}
	if f.touched {
		in.Included = &costing.Included{Controls: f.with["controls"].Checked, Propeller: f.with["propeller"].Checked, Tank: f.with["tank"].Checked,
			Harness: f.with["harness"].Checked, Other: strings.TrimSpace(f.withOther.Text)}
	}
	if f.under != nil && f.under.Checked {
		in.HoldID = f.hold.ID
	}
	if f.bid != nil {
		in.BidID = f.bid.ID
	}
	t := shop.TakeIn{Motor: f.taken.Motor(), Allowed: f.allowed.Value(), Worth: f.worth.Value(), Note: strings.TrimSpace(f.takenNote.Text)}
	if m := t.Motor; t.Allowed == 0 && t.Worth == 0 && m.Power == 0 && m.Year == 0 && m.Stroke == "" && m.State == "" && m.Name() == "" {
		return in, nil
	}
	return in, &t
}

// tell says what the sale comes to as it stands.
func (f *saleForm) tell() {
	in, t := f.input()
	words := ""
	if said, err := f.p.shop.SaleDue(f.r.ID, in, t); err == nil {
		words = strings.Join(widgets.SayAll(said), "\n")
	} else if in.Price > 0 {
		words = widgets.WholeSentence(widgets.ErrorText(err))
	}
	f.costs.SetSummary(lang.X("sell.costs.fee", "fee {{.Fee}}", map[string]any{"Fee": f.p.shop.Currency().Short(in.Fee)}))
	if words == f.words.Text() {
		return
	}
	f.words.SetText(words)
	f.dialog.Offer(f.main)
}

// book writes the sale down, and says what it did to the bands.
func (f *saleForm) book() error {
	s := f.p.shop
	in, t := f.input()
	err := error(nil)
	if t != nil {
		_, err = s.SellInExchange(f.r.ID, in, *t)
	} else {
		err = s.Sell(f.r.ID, in)
	}
	if err != nil {
		return err
	}
	f.dialog.OnClosed = func() {
		f.p.host.Go(widgets.SoldScreen, f.r.ID)
		f.p.sayMoved(f.r)
	}
	return nil
}

// sayMoved says in the status line what the sale just booked did to the bands.
func (p *Screen) sayMoved(r costing.Record) {
	words := lang.X("sell.booked", "{{.Motor}} is sold", map[string]any{"Motor": nameOf(r)})
	if swing := p.shop.MovedBy(r.ID); swing != nil && swing.Quick() {
		if lines, err := swing.Lines(); err == nil && len(lines) > 0 {
			words = widgets.Say(lines[0])
		}
	}
	p.host.Status(words)
}
