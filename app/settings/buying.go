package settings

import (
	"strconv"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// buying is what a purchase usually costs beside its price, what waiting costs, and what the shop has money,
// room and time for.
func (p *Screen) buying() fyne.CanvasObject {
	counted := widgets.NewDateEntry(widgets.DateOrder(p.shop.DateOrder()))
	counted.OnValue = func(on day.Day) error {
		return p.change("day the money was counted", func(s *costing.Settings) { s.CashOn = on })
	}
	cash := widgets.NewMoneyEntry(p.shop.Currency())
	cash.OnValue = func(a money.Amount) error {
		return p.change("money set aside", func(s *costing.Settings) {
			if s.Cash = a; s.CashOn == 0 {
				s.CashOn = p.shop.Today()
			}
		})
	}
	places := widgets.NewNumberEntry(0)
	places.Least, places.Most = 0, 10_000
	places.OnValue = func(n widgets.Number) error {
		return p.change("places", func(s *costing.Settings) { s.Places = int(n.Value) })
	}
	looks := widgets.NewChoice(
		widgets.Option{Value: "", Text: lang.X("settings.looks.carried", "the motors that are bought")},
		widgets.Option{Value: "apart", Text: lang.X("settings.looks.apart", "nobody: they stand by themselves")})
	looks.OnValue = func(v string) error {
		return p.change("trips to motors passed over", func(s *costing.Settings) { s.LooksApart = v == "apart" })
	}
	p.show = append(p.show, func(s costing.Settings) {
		counted.SetValue(s.CashOn)
		cash.SetValue(s.Cash)
		places.SetValue(widgets.Number{Value: float64(s.Places), Known: s.Places > 0})
		apart := ""
		if s.LooksApart {
			apart = "apart"
		}
		looks.SetValue(apart)
	})
	return widgets.NewForm(
		p.number(lang.X("settings.buyerfee", "Buyer's fee, % of the price paid"), lang.X("settings.buyerfee.hint", "the usual one; a prospect may have its own"), "buyer's fee", 2, 0, 100, 100,
			func(s *costing.Settings) *float64 { return &s.BuyerFeeRate }),
		p.number(lang.X("settings.purchasetax", "Tax on a purchase, % of the price paid"), lang.X("settings.purchasetax.hint", "what you do not get back; a prospect may have its own"), "tax on a purchase", 2, 0, 100, 100,
			func(s *costing.Settings) *float64 { return &s.PurchaseTaxRate }),
		p.number(lang.X("settings.costofmoney", "Cost of money, % a year"), lang.X("settings.costofmoney.hint", "what the cash in a motor costs you, or would earn elsewhere"), "cost of money", 2, 0, 100, 100,
			func(s *costing.Settings) *float64 { return &s.CostOfMoney }),
		p.amount(lang.X("settings.space", "A motor's place, a day"), lang.X("settings.space.hint", "where you pay for the room it stands in"), "cost of a place",
			func(s *costing.Settings) *money.Amount { return &s.SpaceADay }),
		widgets.NewField(lang.X("settings.cash", "Money set aside for motors"), cash).WithHint(lang.X("settings.cash.hint", "as counted; sales and payments since then are added and taken off")),
		widgets.NewField(lang.X("settings.cashon", "Counted on"), counted),
		widgets.NewField(lang.X("settings.places", "Places for motors"), places),
		p.number(lang.X("settings.week", "Your hours at the bench, a week"), lang.X("settings.week.hint", "left at 0, a guess of ten and a half stands in"), "hours a week", 1, 0, 168, 1,
			func(s *costing.Settings) *float64 { return &s.HoursAWeek }),
		p.month(lang.X("settings.season.from", "Motors sell from"), "start of the season", time.March, func(s *costing.Settings) *int { return &s.SeasonFrom }),
		p.month(lang.X("settings.season.to", "Motors sell until the end of"), "end of the season", time.September, func(s *costing.Settings) *int { return &s.SeasonTo }),
		widgets.NewField(lang.X("settings.looks", "Trips to motors you passed over are carried by"), looks),
	)
}

// month is a field for a month of the season; both ends are set where one is, so that neither is said alone.
func (p *Screen) month(label, field string, usual time.Month, of func(*costing.Settings) *int) fyne.CanvasObject {
	var months []widgets.Option
	for m := time.January; m <= time.December; m++ {
		months = append(months, widgets.Option{Value: strconv.Itoa(int(m)), Text: monthName(m)})
	}
	e := widgets.NewChoice(months...)
	e.OnValue = func(v string) error {
		return p.change(field, func(s *costing.Settings) {
			if s.SeasonFrom == 0 {
				s.SeasonFrom = int(time.March)
			}
			if s.SeasonTo == 0 {
				s.SeasonTo = int(time.September)
			}
			*of(s), _ = strconv.Atoi(v)
		})
	}
	p.show = append(p.show, func(s costing.Settings) {
		at := *of(&s)
		if at == 0 {
			at = int(usual)
		}
		e.SetValue(strconv.Itoa(at))
	})
	return widgets.NewField(label, e)
}
