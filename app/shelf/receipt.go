package shelf

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// thingRow is one thing on a receipt that is being written down.
type thingRow struct {
	what   *widgets.Entry
	goes   *widgets.Choice
	onto   *widgets.Choice
	many   *widgets.NumberEntry
	unit   *widgets.Choice
	price  *widgets.MoneyEntry
	worth  *widgets.MoneyEntry
	chance *widgets.ChanceEntry
	due    *widgets.DateEntry

	ontoIs, unitIs, priceIs, worthIs, chanceIs, dueIs *widgets.Field
	box                                               *fyne.Container
}

// receiptForm is a receipt being written down.
type receiptForm struct {
	p                  *Screen
	supplier, number   *widgets.Entry
	on, due            *widgets.DateEntry
	freight, tax, back *widgets.MoneyEntry
	price              *widgets.MoneyEntry
	paid, lot          *widgets.Check
	dueIs, priceIs     *widgets.Field
	rows               []*thingRow
	list               *fyne.Container
	words              *widgets.Text
	dialog             *widgets.Dialog
}

// destinations are where a thing on a receipt can go, in the order of the choice. What goes onto a motor
// says as what: "motor:part-new".
func destinations() []widgets.Option {
	kind := func(k costing.Kind) widgets.Option {
		return widgets.Option{Value: "motor:" + string(k), Text: lang.X("goes.motor", "{{.Kind}}, for a motor", map[string]any{"Kind": widgets.Say(k.Name())})}
	}
	return []widgets.Option{
		kind(costing.PartNew), kind(costing.PartOther), kind(costing.PartUsed), kind(costing.Outside), kind(costing.Purchase),
		{Value: "core", Text: lang.X("goes.core", "core charge, for a motor")},
		{Value: "shelf", Text: lang.X("goes.shelf", "the shelf")},
		{Value: "piece", Text: lang.X("goes.piece", "by itself: a boat, a trailer, a spare powerhead")},
		{Value: "kept", Text: lang.X("goes.kept", "private use")},
		{Value: "expense", Text: lang.X("goes.tools", "tools and the like")},
		{Value: "overhead", Text: lang.X("goes.bill", "workshop bill")},
	}
}

// askReceipt writes a receipt down: several things with freight and tax on them all, or a lot for one price.
func (p *Screen) askReceipt() {
	c := p.shop.Currency()
	order := widgets.DateOrder(p.shop.DateOrder())
	f := &receiptForm{p: p, supplier: widgets.NewEntry(), number: widgets.NewEntry(), on: p.day(), due: widgets.NewDateEntry(order),
		freight: widgets.NewMoneyEntry(c), tax: widgets.NewMoneyEntry(c), back: widgets.NewMoneyEntry(c), price: widgets.NewMoneyEntry(c),
		paid: widgets.NewCheck(lang.X("receipt.paid", "Paid on that day")), lot: widgets.NewCheck(lang.X("receipt.lot", "One price for everything together")),
		words: widgets.NewText("")}
	f.paid.SetValue(true)
	f.dueIs = widgets.NewField(lang.X("receipt.due", "To be paid by"), f.due)
	f.priceIs = widgets.NewField(lang.X("receipt.price", "Price of the lot"), f.price)
	f.list = widgets.Column(look.Wide)
	f.add()
	more := widgets.NewButton(lang.X("receipt.another", "One more thing"), theme.ContentAddIcon(), func() { f.add(); f.tell() })
	form := widgets.NewForm(
		widgets.NewField(lang.X("receipt.from", "From"), f.supplier), widgets.NewField(lang.X("column.day", "Day"), f.on),
		widgets.NewField(lang.X("receipt.number", "Number on it"), f.number), widgets.NewField("", f.paid),
		widgets.NewField(lang.X("receipt.freight", "Freight, on everything"), f.freight), widgets.NewField(lang.X("receipt.tax", "Tax, on everything"), f.tax),
		widgets.NewField(lang.X("receipt.back", "Of it you get back"), f.back).WithHint(lang.X("receipt.back.hint", "tax you recover is no cost")),
		f.dueIs, widgets.NewField("", f.lot), f.priceIs)
	for _, e := range []*widgets.MoneyEntry{f.freight, f.tax, f.back, f.price} {
		e.OnValue = func(money.Amount) error { f.tell(); return nil }
	}
	f.paid.OnValue = func(bool) { f.tell() }
	f.lot.OnValue = func(lot bool) {
		for _, r := range f.rows { // what comes in a lot is seldom a part
			if lot && r.onto.Value() == "" && r.goes.Value() == "motor:"+string(costing.PartNew) {
				r.goes.SetValue("motor:" + string(costing.Purchase))
				f.offer(r)
			}
		}
		f.tell()
	}
	f.tell()
	f.dialog = widgets.NewDialog(p.host.Window().Canvas(), lang.X("receipt.title", "A receipt"), widgets.Column(look.Wide, form, f.list, widgets.Flow(look.Gap, more), f.words),
		lang.X("shelf.bought.do", "Write down"), func() error {
			n := f.given() // reads what waits
			if err := f.sound(); err != nil {
				return err
			}
			id, err := p.shop.AddReceipt(n)
			if err != nil {
				return err
			}
			p.paper.chosen = id
			p.Show(receiptsRow)
			return nil
		}).SetFirst(f.supplier).SetWidth(680)
	f.dialog.Show()
}

// add makes room for one more thing.
func (f *receiptForm) add() {
	c := f.p.shop.Currency()
	r := &thingRow{what: widgets.NewEntry(), goes: widgets.NewChoice(destinations()...), onto: widgets.NewChoice(), many: widgets.NewNumberEntry(3), unit: widgets.NewChoice(),
		price: widgets.NewMoneyEntry(c), worth: widgets.NewMoneyEntry(c), chance: widgets.NewChanceEntry(), due: widgets.NewDateEntry(widgets.DateOrder(f.p.shop.DateOrder()))}
	r.many.Least = 0
	r.many.SetValue(widgets.Known(1))
	r.chance.SetValue(1)
	r.goes.SetValue("motor:" + string(costing.PartNew))
	r.ontoIs = widgets.NewField(lang.X("take-off.for", "For"), r.onto)
	r.unitIs = widgets.NewField(lang.X("restock.unit", "Unit"), r.unit)
	r.priceIs = widgets.NewField(lang.X("receipt.each", "Price of it all"), r.price)
	r.worthIs = widgets.NewField(lang.X("piece.worth", "Would sell for"), r.worth)
	r.chanceIs = widgets.NewField(lang.X("piece.chance", "Sells at all"), r.chance)
	r.dueIs = widgets.NewField(lang.X("column.lastday", "Last day"), r.due).WithHint(lang.X("cores.due.hint", "until when the old part can be sent back; left empty, not known"))
	r.box = widgets.NewForm(
		widgets.NewField(lang.X("receipt.thing", "What"), r.what), widgets.NewField(lang.X("receipt.goes", "It is"), r.goes),
		r.ontoIs, widgets.NewField(lang.X("restock.amount", "How much"), r.many), r.unitIs, r.priceIs, r.worthIs, r.chanceIs, r.dueIs)
	r.goes.OnValue = func(string) error { f.offer(r); f.tell(); return nil }
	r.onto.OnValue = func(string) error { f.units(r); f.tell(); return nil }
	r.unit.OnValue = func(string) error { f.tell(); return nil }
	r.what.OnSave = func(string) error { f.tell(); return nil }
	r.many.OnValue = func(widgets.Number) error { f.tell(); return nil }
	for _, e := range []*widgets.MoneyEntry{r.price, r.worth} {
		e.OnValue = func(money.Amount) error { f.tell(); return nil }
	}
	r.chance.OnValue = func(float64) error { f.tell(); return nil }
	f.rows = append(f.rows, r)
	f.list.Add(r.box)
	f.offer(r)
}

// offer lists what a thing can be for.
func (f *receiptForm) offer(r *thingRow) {
	s := f.p.shop
	goes, kind := r.where()
	switch goes {
	case costing.ToMotor, costing.ToCore:
		all := s.Receivers()
		if kind == costing.Purchase {
			all = append(s.Records(costing.Prospect), all...)
		}
		options := motorOptions(all)
		if kind == costing.Purchase {
			options = append([]widgets.Option{{Value: "", Text: lang.X("receipt.newmotor", "a new motor of the lot")}}, options...)
		}
		r.onto.SetOptionsOf(options...)
	case costing.ToShelf:
		var options []widgets.Option
		for _, g := range s.Goods() {
			options = append(options, widgets.Option{Value: g.Good.ID, Text: g.Good.Name})
		}
		r.onto.SetOptionsOf(options...)
	default:
		r.onto.SetOptionsOf()
	}
	r.onto.SetValue("")
	f.units(r)
}

// units lists the units that the chosen good can be bought in.
func (f *receiptForm) units(r *thingRow) {
	goes, _ := r.where()
	var options []widgets.Option
	if v, err := f.p.shop.GoodOf(r.onto.Value()); err == nil && goes == costing.ToShelf {
		for _, u := range v.Units {
			options = append(options, widgets.Option{Value: u, Text: u})
		}
	}
	r.unit.SetOptionsOf(options...)
	if len(options) > 0 && !slices.ContainsFunc(options, func(o widgets.Option) bool { return o.Value == r.unit.Value() }) {
		r.unit.SetValue(options[0].Value)
	}
}

// where is where a thing goes, and as what.
func (r *thingRow) where() (costing.Goes, costing.Kind) {
	goes, kind, _ := strings.Cut(r.goes.Value(), ":")
	return costing.Goes(goes), costing.Kind(kind)
}

// given is the receipt as typed.
func (f *receiptForm) given() shop.NewReceipt {
	n := shop.NewReceipt{Paid: f.paid.Checked}
	n.Supplier, n.Number, n.On = strings.TrimSpace(f.supplier.Text), strings.TrimSpace(f.number.Text), f.on.Value()
	n.Freight, n.Tax, n.TaxBack = f.freight.Value(), f.tax.Value(), f.back.Value()
	if !n.Paid {
		n.Due = f.due.Value()
	}
	if f.lot.Checked {
		n.Lot = f.price.Value()
	}
	for i, r := range f.rows {
		if i > 0 && strings.TrimSpace(r.what.Text) == "" && r.price.Value() == 0 && r.worth.Value() == 0 {
			continue // room that was not used
		}
		goes, kind := r.where()
		it := shop.NewItem{Kind: kind}
		it.Goes, it.Text, it.Quantity = goes, r.what.Text, r.many.Value().Value
		switch goes {
		case costing.ToMotor, costing.ToCore:
			it.MotorID = r.onto.Value()
		case costing.ToShelf:
			it.GoodID, it.Unit = r.onto.Value(), r.unit.Value()
		}
		if goes == costing.ToCore {
			it.CoreDue = r.due.Value()
		}
		if f.lot.Checked {
			it.Value, it.Chance = r.worth.Value(), r.chance.Value()
		} else {
			it.Net = r.price.Value()
		}
		n.Items = append(n.Items, it)
	}
	return n
}

// sound is the first thing on the form that could not be read.
func (f *receiptForm) sound() error {
	if err := sound(f.on, f.due, f.freight, f.tax, f.back, f.price); err != nil {
		return err
	}
	for _, r := range f.rows {
		if err := sound(r.many, r.price, r.worth, r.due); err != nil {
			return err
		}
	}
	return nil
}

// tell shows the fields that matter and what the receipt comes to.
func (f *receiptForm) tell() {
	lot := f.lot.Checked
	f.priceIs.Hidden, f.dueIs.Hidden = !lot, f.paid.Checked
	for _, r := range f.rows {
		goes, _ := r.where()
		r.priceIs.Hidden, r.worthIs.Hidden, r.chanceIs.Hidden = lot, !lot, !lot
		r.ontoIs.Hidden = goes != costing.ToMotor && goes != costing.ToCore && goes != costing.ToShelf
		r.unitIs.Hidden, r.dueIs.Hidden = goes != costing.ToShelf, goes != costing.ToCore
		r.box.Refresh()
	}
	f.words.SetText("")
	if n := f.given(); !lot || n.Lot > 0 {
		if words, err := f.p.shop.ReceiptSentence(n); err == nil {
			f.words.SetText(widgets.Say(words))
		}
	}
	f.list.Refresh()
	if f.dialog != nil {
		f.dialog.Offer(lang.X("shelf.bought.do", "Write down")) // makes room for what shows now
	}
}
