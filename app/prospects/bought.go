package prospects

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
)

// askBought asks what was agreed and moves the prospect to the bench. The fee and the tax follow the price
// at the shop's rates until they are typed.
func (p *Screen) askBought(r costing.Record) {
	widgets.FlushAll()
	c := p.shop.Currency()
	price, fee, tax := widgets.NewMoneyEntry(c), widgets.NewMoneyEntry(c), widgets.NewMoneyEntry(c)
	price.SetValue(p.price)
	follow := func(a money.Amount) {
		if f, t, err := p.shop.FeeAndTaxAt(r.ID, a); err == nil {
			fee.SetValue(f)
			tax.SetValue(t)
		}
	}
	follow(p.price)
	typed := false
	price.OnValue = func(a money.Amount) error {
		if !typed {
			follow(a)
		}
		return nil
	}
	own := func(money.Amount) error { typed = true; return nil }
	fee.OnValue, tax.OnValue = own, own
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	trip := widgets.NewNumberEntry(1)
	trip.Least = 0
	if r.Plan.Trip > 0 {
		trip.SetValue(widgets.Known(r.Plan.Trip))
	}
	unit := p.shop.Settings().Distance
	form := widgets.NewForm(
		widgets.NewField(lang.X("bought.price", "Price paid"), price),
		widgets.NewField(lang.X("bought.on", "On"), on),
		widgets.NewField(lang.X("bought.fee", "Buyer's fee"), fee),
		widgets.NewField(lang.X("bought.tax", "Tax on it, not recovered"), tax),
		widgets.NewField(lang.X("bought.trip", "Distance driven, {{.Unit}}", map[string]any{"Unit": unit}), trip).
			WithHint(lang.X("bought.trip.hint", "there and back; booked at {{.Rate}} per {{.Unit}}", map[string]any{"Unit": unit, "Rate": c.Format(p.shop.Settings().TripRate)})),
	)
	said := widgets.Column(look.Wide, append(p.stops(r), form)...)
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("bought.title", "Bought: {{.Motor}}", map[string]any{"Motor": nameOf(r)}), said,
		lang.X("bought.do", "To the bench"), func() error {
			err := p.shop.Buy(r.ID, shop.Purchase{On: on.Value(), Price: price.Value(), Fee: fee.Value(), Tax: tax.Value(), Trip: trip.Value().Value})
			if err != nil {
				return err
			}
			p.host.Go(widgets.BenchScreen, r.ID)
			return nil
		}).SetFirst(price).SetWidth(560).Show()
}

// stops are the reasons not to buy, over the question what was paid.
func (p *Screen) stops(r costing.Record) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, why := range p.shop.Stops(r) {
		out = append(out, widgets.NewNote(theme.WarningIcon(), look.Bad, widgets.Say(why)))
	}
	return out
}
