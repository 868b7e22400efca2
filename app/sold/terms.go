package sold

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// termsPart is how the shop's own sale was paid, what it cost, and what went along.
type termsPart struct {
	fold    *widgets.Fold
	contact *widgets.Entry
	method  *widgets.Choice
	cleared *widgets.DateEntry
	costs   map[costing.Kind]*widgets.MoneyEntry
	freight *widgets.MoneyEntry
	with    []*widgets.Check
	other   *widgets.Entry

	tax      *widgets.Choice
	taxField *widgets.Field

	allowed, worth *widgets.MoneyEntry
	swap           *fyne.Container
	taken          *widgets.Button
	takenID        string
	p              *Screen
}

// withThings are the things that may go along with a motor, in the order of the boxes to tick.
func withThings(i *costing.Included) []*bool {
	return []*bool{&i.Controls, &i.Propeller, &i.Tank, &i.Harness}
}

func newTermsPart(p *Screen) *termsPart {
	c := p.shop.Currency()
	w := &termsPart{p: p, contact: widgets.NewEntry(), other: widgets.NewEntry(), cleared: widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())),
		costs: map[costing.Kind]*widgets.MoneyEntry{}, freight: widgets.NewMoneyEntry(c), allowed: widgets.NewMoneyEntry(c), worth: widgets.NewMoneyEntry(c)}
	options := []widgets.Option{{Value: "", Text: lang.X("payment.unsaid", "not said")}}
	for _, m := range costing.Payments {
		options = append(options, widgets.Option{Value: string(m), Text: widgets.Capital(widgets.Say(m.Name()))})
	}
	w.method = widgets.NewChoice(options...)
	w.contact.OnSave = func(text string) error {
		return p.change(p.chosen, "contact", func(r *costing.Record) { r.Sale.Contact = strings.TrimSpace(text) })
	}
	w.method.OnValue = func(v string) error {
		return p.change(p.chosen, "method", func(r *costing.Record) { r.Sale.Method = costing.Payment(v) })
	}
	w.cleared.OnValue = func(on day.Day) error {
		if on == 0 {
			return p.shop.Unclear(p.chosen)
		}
		return p.shop.Clear(p.chosen, on, "")
	}
	w.tax = widgets.NewChoice(widgets.Option{Value: "", Text: lang.X("sold.tax.usual", "as the shop's sales of that day")},
		widgets.Option{Value: string(costing.TaxNone), Text: lang.X("sold.tax.none", "not at all")},
		widgets.Option{Value: string(costing.TaxAdded), Text: lang.X("sold.tax.added", "added to the price")},
		widgets.Option{Value: string(costing.TaxMargin), Text: lang.X("sold.tax.margin", "on the margin, inside the price")})
	w.tax.OnValue = func(v string) error { return p.shop.SetSaleScheme(p.chosen, costing.TaxScheme(v)) }
	w.taxField = widgets.NewField(lang.X("sold.tax", "Tax on this sale"), w.tax).Spanning()
	w.freight.OnValue = func(a money.Amount) error {
		return p.change(p.chosen, "freight", func(r *costing.Record) { r.Sale.Freight = a })
	}
	for _, kind := range shop.SaleCosts {
		e := widgets.NewMoneyEntry(c)
		e.OnValue = func(a money.Amount) error { return p.shop.SetSaleCost(p.chosen, kind, a) }
		w.costs[kind] = e
	}
	for i, words := range []string{lang.X("sell.with.controls", "controls"), lang.X("sell.with.propeller", "propeller"), lang.X("sell.with.tank", "fuel tank"), lang.X("sell.with.harness", "harness")} {
		tick := widgets.NewCheck(words)
		tick.OnValue = func(on bool) {
			p.host.Failed(p.change(p.chosen, "included", func(r *costing.Record) { *withThings(&r.Sale.Included)[i] = on }))
		}
		w.with = append(w.with, tick)
	}
	w.other.OnSave = func(text string) error {
		return p.change(p.chosen, "included", func(r *costing.Record) { r.Sale.Included.Other = strings.TrimSpace(text) })
	}
	w.allowed.OnValue = func(a money.Amount) error { return p.shop.ChangeExchange(p.chosen, a, w.worth.Value()) }
	w.worth.OnValue = func(a money.Amount) error { return p.shop.ChangeExchange(p.chosen, w.allowed.Value(), a) }
	w.taken = widgets.NewButton(lang.X("sold.exchange.show", "Show the motor taken in"), nil, func() { p.goTo(w.takenID) })
	w.swap = widgets.Column(look.Gap, twoColumns(widgets.NewField(lang.X("sell.allowed", "Allowed for it"), w.allowed), widgets.NewField(lang.X("sell.worth", "Fairly worth"), w.worth)),
		widgets.Flow(look.Gap, w.taken))
	w.fold = widgets.NewFold(lang.X("sold.terms", "Payment, costs and what went along"), widgets.Column(look.Wide, twoColumns(
		widgets.NewField(lang.X("sell.method", "Paid by"), w.method), widgets.NewField(lang.X("sell.cleared", "Money there since"), w.cleared).
			WithHint(lang.X("sell.cleared.hint", "empty while it is not surely there")),
		widgets.NewField(lang.X("sell.fee", "Marketplace fee"), w.costs[costing.MarketFee]), widgets.NewField(lang.X("sell.listing", "Listing cost"), w.costs[costing.Listing]),
		widgets.NewField(lang.X("sell.delivery", "Freight you paid"), w.costs[costing.Delivery]), widgets.NewField(lang.X("sell.freight", "Freight charged to the buyer"), w.freight),
		widgets.NewField(lang.X("sell.contact", "How to reach the buyer"), w.contact), widgets.NewField(lang.X("sell.with.also", "Went along besides"), w.other), w.taxField),
		widgets.Flow(look.Wide, w.with[0], w.with[1], w.with[2], w.with[3]), w.swap))
	return w
}

func (w *termsPart) show(v shop.SaleView) {
	r := v.Record
	if w.fold.Hidden = !v.Own(); w.fold.Hidden {
		return
	}
	w.contact.Set(r.Sale.Contact)
	w.method.SetValue(string(r.Sale.Method))
	w.cleared.SetValue(r.Sale.ClearedOn)
	for kind, e := range w.costs {
		e.SetValue(w.p.shop.SaleCost(r, kind))
	}
	w.freight.SetValue(r.Sale.Freight)
	w.tax.SetValue(string(r.Sale.Scheme))
	if w.taxField.Hidden = !w.p.shop.TaxesSales(r); !w.taxField.Hidden {
		w.taxField.SetHint(widgets.Say(w.p.shop.SaleTaxWords(r)))
	}
	included := r.Sale.Included
	for i, on := range withThings(&included) {
		w.with[i].SetValue(*on)
	}
	w.other.Set(included.Other)
	x := r.Sale.Exchange
	w.takenID = x.MotorID
	w.swap.Hidden = x.MotorID == ""
	w.allowed.SetValue(x.Allowed)
	w.worth.SetValue(x.Value)
	summary := widgets.Say(r.Sale.Method.Name())
	if r.Sale.Method == "" {
		summary = ""
	}
	w.fold.SetSummary(summary)
}

// twoColumns lays fields out in two columns in the room beside the spreadsheet, one where it is narrower.
func twoColumns(fields ...fyne.CanvasObject) *fyne.Container {
	return widgets.Columns(170, 2, look.Wide, fields...)
}

// goTo opens the screen that a motor stands on.
func (p *Screen) goTo(id string) {
	r, err := p.shop.Record(id)
	if err != nil {
		p.host.Failed(err)
		return
	}
	screen := widgets.BenchScreen
	switch r.Stage {
	case costing.Finished, costing.Listed:
		screen = widgets.AskingScreen
	case costing.Sold:
		screen = widgets.SoldScreen
	}
	p.host.Go(screen, id)
}
