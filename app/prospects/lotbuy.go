package prospects

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// lotPurchase is the question what of a lot was bought, and for how much.
type lotPurchase struct {
	p               *Screen
	lot             costing.Bundle
	parts           []shop.LotPart
	picks           []*widgets.Check
	price, fee, tax *widgets.MoneyEntry
	on              *widgets.DateEntry
	trip            *widgets.NumberEntry
	seller          *widgets.Entry
	says            *widgets.Text
	form            fyne.CanvasObject
	typed           bool // the fee or the tax, by hand
}

// askBuyLot asks what was agreed for a lot and takes it in.
func (p *Screen) askBuyLot(id string) {
	widgets.FlushAll()
	b, err := p.shop.Lot(id)
	if err != nil {
		p.host.Failed(err)
		return
	}
	parts, err := p.shop.LotParts(id)
	if err != nil {
		p.host.Failed(err)
		return
	}
	q := newLotPurchase(p, b, parts)
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("lotbuy.title", "Buy the lot: {{.Lot}}", map[string]any{"Lot": b.Name}), q.form,
		lang.X("lotbuy.do", "Take it in"), q.buy).SetFirst(q.price).SetWidth(620).Show()
}

func newLotPurchase(p *Screen, b costing.Bundle, parts []shop.LotPart) *lotPurchase {
	c := p.shop.Currency()
	q := &lotPurchase{p: p, lot: b, parts: parts, price: widgets.NewMoneyEntry(c), fee: widgets.NewMoneyEntry(c), tax: widgets.NewMoneyEntry(c),
		on: widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder())), trip: widgets.NewNumberEntry(1), seller: widgets.NewEntry(), says: widgets.NewText("")}
	price := b.Asks
	if price == 0 {
		price = p.lot.v.Top
	}
	q.price.SetValue(price)
	q.follow(price)
	q.price.OnValue = func(a money.Amount) error {
		if !q.typed {
			q.follow(a)
		}
		q.show()
		return nil
	}
	own := func(money.Amount) error { q.typed = true; q.show(); return nil }
	q.fee.OnValue, q.tax.OnValue = own, own
	q.on.SetValue(p.shop.Today())
	q.trip.Least = 0
	q.trip.SetValue(numberOf(b.Trip))
	var rows []fyne.CanvasObject
	for _, x := range parts {
		pick := widgets.NewCheck(x.Name)
		pick.SetValue(true)
		pick.OnValue = func(bool) { q.show() }
		q.picks = append(q.picks, pick)
		rows = append(rows, widgets.NewField("", pick))
		if q.seller.Text == "" && x.MotorID != "" {
			if r, err := p.shop.Record(x.MotorID); err == nil {
				q.seller.Set(r.Seller)
			}
		}
	}
	unit := p.shop.Settings().Distance
	var said []fyne.CanvasObject
	for _, x := range parts {
		if r, err := p.shop.Record(x.MotorID); err == nil {
			said = append(said, p.stops(r)...)
		}
	}
	q.form = widgets.Column(look.Wide, append(said,
		widgets.NewForm(
			widgets.NewField(lang.X("lotbuy.price", "Price paid for it"), q.price),
			widgets.NewField(lang.X("bought.on", "On"), q.on),
			widgets.NewField(lang.X("bought.fee", "Buyer's fee"), q.fee),
			widgets.NewField(lang.X("bought.tax", "Tax on it, not recovered"), q.tax),
			widgets.NewField(lang.X("bought.trip", "Distance driven, {{.Unit}}", map[string]any{"Unit": unit}), q.trip).
				WithHint(lang.X("lotbuy.trip.hint", "there and back, once; shared over the motors at {{.Rate}} per {{.Unit}}", map[string]any{"Unit": unit, "Rate": c.Format(p.shop.Settings().TripRate)})),
			widgets.NewField(lang.X("papers.seller", "Seller's name"), q.seller)),
		widgets.NewTitle(lang.X("lotbuy.what", "What you bought of it")),
		widgets.Column(look.Tight, rows...), q.says)...)
	q.show()
	return q
}

// follow fills the fee and the tax in, at the shop's rates.
func (q *lotPurchase) follow(price money.Amount) {
	fee, tax := q.p.shop.FeeAndTaxOfLot(price)
	q.fee.SetValue(fee)
	q.tax.SetValue(tax)
}

// answer is what is said so far.
func (q *lotPurchase) answer() shop.LotPurchase {
	out := shop.LotPurchase{On: q.on.Value(), Seller: q.seller.Text, Price: q.price.Value(), Fee: q.fee.Value(), Tax: q.tax.Value(), Trip: q.trip.Value().Value}
	for i, pick := range q.picks {
		if pick.Checked {
			out.Parts = append(out.Parts, q.parts[i].Key)
		}
	}
	return out
}

// show says beside each part what it would carry, and what becomes of everything.
func (q *lotPurchase) show() {
	words, err := q.p.shop.LotBuyWords(q.lot.ID, q.answer())
	for i, x := range q.parts {
		text := x.Name
		if share := words.Each[x.Key]; err == nil && !share.Empty() {
			text = widgets.Say(share)
		}
		if q.picks[i].Text != text {
			q.picks[i].SetText(text)
		}
	}
	if err != nil {
		q.says.SetText(widgets.ErrorText(err))
		return
	}
	q.says.SetText(widgets.Say(words.All))
}

func (q *lotPurchase) buy() error {
	in := q.answer()
	if err := q.p.shop.BuyLot(q.lot.ID, in); err != nil {
		return err
	}
	q.p.host.Status(lang.X("lotbuy.done", "{{.Lot}} is bought: its motors are on the bench, its things in stock.", map[string]any{"Lot": q.lot.Name}))
	for i, x := range q.parts {
		if x.MotorID != "" && q.picks[i].Checked {
			q.p.host.Go(widgets.BenchScreen, x.MotorID)
			return nil
		}
	}
	q.p.host.Go(widgets.ShelfScreen, "")
	return nil
}
