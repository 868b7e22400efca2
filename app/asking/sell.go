package asking

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// askList asks from when and for how much the motor is offered.
func (p *Screen) askList(r costing.Record) {
	widgets.FlushAll()
	price := widgets.NewMoneyEntry(p.shop.Currency())
	price.SetValue(r.Ask)
	if a, err := p.shop.Asking(r.ID); err == nil && r.Ask == 0 {
		price.SetValue(p.shop.Currency().Floor(a.Advice.Ask))
	}
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	form := widgets.NewForm(widgets.NewField(lang.X("list.price", "Asking price"), price), widgets.NewField(lang.X("list.on", "Offered from"), on))
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("list.title", "Offer for sale: {{.Motor}}", map[string]any{"Motor": r.Name()}), form,
		lang.X("list.do", "Offer it"), func() error { return p.shop.ListForSale(r.ID, on.Value(), price.Value()) }).
		SetFirst(price).SetWidth(560).Show()
}

// askSold asks what was agreed with the buyer.
func (p *Screen) askSold(r costing.Record) {
	widgets.FlushAll()
	c := p.shop.Currency()
	price, fee, delivery := widgets.NewMoneyEntry(c), widgets.NewMoneyEntry(c), widgets.NewMoneyEntry(c)
	price.SetValue(r.Ask)
	usual := p.shop.FeeOn(r.Ask)
	fee.SetValue(usual)
	price.OnValue = func(a money.Amount) error { // the fee follows the price until it is written by hand
		if fee.Value() == usual {
			usual = p.shop.FeeOn(a)
			fee.SetValue(usual)
		}
		return nil
	}
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	channel, buyer, note := widgets.NewEntry(), widgets.NewEntry(), widgets.NewEntry()
	form := widgets.NewForm(
		widgets.NewField(lang.X("sell.price", "Sold for"), price), widgets.NewField(lang.X("sell.on", "On"), on),
		widgets.NewField(lang.X("sell.fee", "Marketplace fee"), fee).
			WithHint(lang.X("sell.fee.hint", "{{.Share}} % of the price unless you write another; 0 for none", map[string]any{"Share": widgets.FormatNumber(100*p.shop.Settings().FeeRate, 2)})),
		widgets.NewField(lang.X("sell.delivery", "Delivery paid"), delivery),
		widgets.NewField(lang.X("sell.channel", "Sold through"), channel), widgets.NewField(lang.X("sell.buyer", "Buyer"), buyer),
		widgets.NewField(lang.X("sell.note", "Note"), note).Spanning())
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("sell.title", "Sold: {{.Motor}}", map[string]any{"Motor": r.Name()}), form,
		lang.X("sell.do", "Book the sale"), func() error {
			err := p.shop.Sell(r.ID, shop.SaleInput{On: on.Value(), Price: price.Value(), Fee: fee.Value(), Delivery: delivery.Value(),
				Channel: channel.Text, Buyer: buyer.Text, Note: note.Text})
			if err != nil {
				return err
			}
			p.host.Go(widgets.SoldScreen, r.ID)
			return nil
		}).SetFirst(price).SetWidth(600).Show()
}
