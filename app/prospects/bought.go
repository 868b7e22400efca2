package prospects

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// askBought asks what was agreed and moves the prospect to the bench.
func (p *Screen) askBought(r costing.Record) {
	widgets.FlushAll()
	price, tax := widgets.NewMoneyEntry(p.shop.Currency()), widgets.NewMoneyEntry(p.shop.Currency())
	price.SetValue(p.price)
	on := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	on.SetValue(p.shop.Today())
	trip := widgets.NewNumberEntry(1)
	trip.Least = 0
	if r.Plan.Trip > 0 {
		trip.SetValue(widgets.Known(r.Plan.Trip))
	}
	form := widgets.NewForm(
		widgets.NewField(lang.X("bought.price", "Price paid"), price),
		widgets.NewField(lang.X("bought.on", "On"), on),
		widgets.NewField(lang.X("bought.tax", "Tax on it, not recovered"), tax),
		widgets.NewField(lang.X("bought.trip", "Distance driven, {{.Unit}}", map[string]any{"Unit": p.shop.Settings().Distance}), trip).
			WithHint(lang.X("bought.trip.hint", "there and back; booked at {{.Rate}} per {{.Unit}}", map[string]any{"Unit": p.shop.Settings().Distance, "Rate": p.shop.Currency().Format(p.shop.Settings().TripRate)})),
	)
	widgets.NewDialog(p.host.Window().Canvas(), lang.X("bought.title", "Bought: {{.Motor}}", map[string]any{"Motor": nameOf(r)}), form,
		lang.X("bought.do", "To the bench"), func() error {
			err := p.shop.Buy(r.ID, shop.Purchase{On: on.Value(), Price: price.Value(), Tax: tax.Value(), Trip: trip.Value().Value})
			if err != nil {
				return err
			}
			p.host.Go(widgets.BenchScreen, r.ID)
			return nil
		}).SetFirst(price).SetWidth(560).Show()
}
