package yearend

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// soldPart lists every motor sold.
type soldPart struct {
	p     *Screen
	fold  *widgets.Fold
	table *widgets.Table[review.MotorResult]
	none  *widgets.Text
	whole *fyne.Container
}

func newSoldPart(p *Screen) *soldPart {
	s := &soldPart{p: p, none: widgets.NewQuiet(lang.X("yearend.nosold", "No motor was sold in this year."))}
	c := p.shop.Currency()
	type row = review.MotorResult
	s.table = widgets.NewTable(resultID,
		numbers("sold", lang.X("column.soldon", "Sold on"), func(m row) string { return p.day(m.Sold) }, func(m row) int { return int(m.Sold) }),
		motorColumn(),
		amounts(c, "price", lang.X("column.price", "Price"), func(m row) money.Amount { return m.NetSale }),
		spare(amounts(c, "costs", lang.X("column.costs", "Costs"), func(m row) money.Amount { return m.Costs })),
		beforeColumn(c),
		spare(numbers("hours", lang.X("column.hours", "Hours"), func(m row) string { return m.OwnHours.String() }, func(m row) int { return int(m.OwnHours) })),
		perHourColumn(c),
		spare(numbers("margin", lang.X("column.margin", "Margin"), func(m row) string { return share(m.Margin()) }, func(m row) float64 { return known(m.Margin()) })),
		spare(numbers("days", lang.X("column.days", "Days"), func(m row) string { return days(m.DaysHeld, m.DaysKnown) }, func(m row) int { return m.DaysHeld })),
		spare(numbers("return", lang.X("yearend.return", "Return a year"), func(m row) string { return share(m.CashReturn()) }, func(m row) float64 { return known(m.CashReturn()) })),
	)
	s.table.OnOpen = p.openSold
	s.whole = widgets.Column(look.Gap, s.table.High(12), widgets.Flow(look.Gap, p.openButton(func() (review.MotorResult, bool) { return s.table.Selected() })),
		widgets.NewCaption(lang.X("yearend.sold.hint", "Price is after refunds. Costs are all of a motor's, whichever year they were paid in; profit is before own time. Days is from bought to sold.")),
		widgets.NewCaption(lang.X("yearend.return.hint", "Return a year is the profit before own time on the cash tied up, as if it went on for a year.")))
	s.fold = widgets.NewFold(lang.X("yearend.sold", "Every motor sold"), widgets.Column(look.Gap, s.none, s.whole))
	return s
}

func (s *soldPart) show(y shop.Year) {
	s.table.SetRows(y.Review.Sold)
	s.none.Hidden, s.whole.Hidden = len(y.Review.Sold) > 0, len(y.Review.Sold) == 0
	s.fold.SetSummary(lang.X("yearend.sold.count", "{{.Count}} motors", map[string]any{"Count": len(y.Review.Sold)}))
}

func resultID(m review.MotorResult) string { return m.ID }

// openSold shows a motor's own lines.
func (p *Screen) openSold(m review.MotorResult) { p.host.Go(widgets.SoldScreen, m.ID) }

func (p *Screen) openButton(selected func() (review.MotorResult, bool)) *widgets.Button {
	return widgets.NewButton(lang.X("yearend.open", "Open the chosen motor"), theme.NavigateNextIcon(), func() {
		if m, ok := selected(); ok {
			p.openSold(m)
			return
		}
		p.host.Status(lang.X("yearend.choose", "Choose a motor in the table first."))
	})
}

func motorColumn() widgets.TableColumn[review.MotorResult] {
	return grows(words("motor", lang.X("column.motor", "Motor"), func(m review.MotorResult) string { return m.Name }))
}

func beforeColumn(c money.Currency) widgets.TableColumn[review.MotorResult] {
	return amounts(c, "before", lang.X("column.profit", "Profit"), func(m review.MotorResult) money.Amount { return m.BeforeOwnTime })
}

func perHourColumn(c money.Currency) widgets.TableColumn[review.MotorResult] {
	return spare(numbers("perhour", lang.X("column.rate", "Per hour"), func(m review.MotorResult) string { return perHour(c, m.Result) },
		func(m review.MotorResult) money.Amount { return known(m.PerOwnHour()) }))
}

// bestPart is the five that brought most and the five that brought least.
type bestPart struct {
	fold        *widgets.Fold
	best, worst *widgets.Table[review.MotorResult]
	none        *widgets.Text
	both        *fyne.Container
}

func newBestPart(p *Screen) *bestPart {
	b := &bestPart{none: widgets.NewQuiet(lang.X("yearend.nosold", "No motor was sold in this year."))}
	c := p.shop.Currency()
	list := func() *widgets.Table[review.MotorResult] {
		t := widgets.NewTable(resultID, motorColumn(), beforeColumn(c), perHourColumn(c))
		t.OnOpen = p.openSold
		return t.HideFilter()
	}
	b.best, b.worst = list(), list()
	titled := func(words string, t *widgets.Table[review.MotorResult]) fyne.CanvasObject {
		return widgets.Column(look.Tight, widgets.NewTitle(words), t.High(5))
	}
	b.both = widgets.Columns(310, 2, look.Wide, titled(lang.X("yearend.best.most", "Brought most"), b.best), titled(lang.X("yearend.best.least", "Brought least"), b.worst))
	b.fold = widgets.NewFold(lang.X("yearend.best", "Best and worst"), widgets.Column(look.Gap, b.none, b.both))
	return b
}

func (b *bestPart) show(y shop.Year) {
	b.best.SetRows(y.Review.Best)
	b.worst.SetRows(y.Review.Worst)
	b.none.Hidden, b.both.Hidden = len(y.Review.Best) > 0, len(y.Review.Best) == 0
}
